"use strict";
// The moving plan and its controls.
(() => {
  const root = document.getElementById("replay"), find = (name) => document.getElementById(`replay-${name}`);
  const data = JSON.parse(find("data").textContent), story = new Story(data);
  const charts = new Charts(story, find("states"), find("ways"));
  const boxes = data.owners.map(([name]) => [...root.querySelectorAll(".box")].filter((box) => box.dataset.name === name));
  const carriages = new Map(Object.keys(data.loaders).map((number) => [number, newCarriage(number)]));
  const rows = new Map();
  const named = (part) => `${part}${data.marks[part] ?? ""}`;
  let playing = false, before = 0, told = 0;

  function newCarriage(number) {
    const rail = [...root.querySelectorAll(".rail")].find((each) => each.dataset.loader === data.owners[number][2]);
    const group = element("g", { class: "carriage" }, rail.parentNode);
    element("title", {}, group, data.owners[number][0]);
    element("rect", { class: "cab", x: -15, y: -10, width: 30, height: 20, rx: 3 }, group);
    const loader = data.owners[number][2], several = Object.keys(data.loaders).filter((n) => data.owners[n][2] === loader).length > 1;
    if (several) element("text", { class: "name", y: -13 }, group, data.owners[number][0].slice(loader.length + 1, loader.length + 13));
    const grips = [-7, 7].map((x) => element("circle", { class: "part", cx: x, cy: 0, r: 5.5, visibility: "hidden" }, group));
    return { group, grips, x: Number(rail.dataset.x), y: Number(rail.dataset.y), perM: Number(rail.dataset.perM) };
  }

  function newRow(number) {
    const row = document.createElement("tr"), head = document.createElement("th");
    head.scope = "row";
    head.textContent = data.owners[number][0];
    const cells = ["", "", "number"].map((kind) => Object.assign(document.createElement("td"), { className: kind }));
    row.append(head, ...cells);
    find("table").append(row);
    return cells;
  }

  function drawPlan() {
    data.owners.forEach(([name, kind], number) => {
      const parts = story.contents[number];
      for (const box of boxes[number]) {
        const count = box.querySelector(".count");
        if (kind === "machine") {
          box.querySelector(".band").setAttribute("fill", `url(#look-${story.stateName(number)})`);
          box.querySelector(".part").setAttribute("visibility", parts.length ? "visible" : "hidden");
          count.textContent = parts.length > 1 ? `${parts.length} parts` : parts.length ? named(parts[0]) : "";
          box.querySelector("title").textContent = `${name}: ${data.labels[story.stateName(number)] ?? ""}`;
        } else if (kind === "buffer") {
          const level = box.querySelector(".level"), height = level.dataset.room * Math.min(1, parts.length / data.capacity[name]);
          level.setAttribute("height", height);
          level.setAttribute("y", level.dataset.bottom - height);
          count.textContent = count.dataset.short ? parts.length : `${parts.length}/${data.capacity[name]}`;
          box.querySelector("title").textContent = `${name}: ${parts.length} of ${data.capacity[name]}`;
        } else if (count) {
          count.textContent = kind === "outfeed" ? story.counts.good : ["chute", "drawer"].includes(kind) ? story.fallen[number] : story.counts.entered;
        }
      }
    });
    for (const [number, { group, grips, x, y, perM }] of carriages) {
      group.setAttribute("transform", `translate(${(x + perM * story.position(number)).toFixed(2)} ${y})`);
      group.querySelector(".cab").setAttribute("fill", `url(#look-${story.stateName(number)})`);
      grips.forEach((grip, which) => grip.setAttribute("visibility", which < story.contents[number].length ? "visible" : "hidden"));
    }
    for (const [name, count] of Object.entries(story.counts)) root.querySelector(`[data-count="${name}"]`).textContent = count;
    find("clock").textContent = clock(story.time);
    charts.show(story.time, find("frame").value * 60e6);
  }

  const BUSY = ["working", "moving_empty", "moving_loaded"];

  function drawTable() {
    const passed = story.time - data.from_us;
    for (const number of charts.shown) {
      if (!rows.has(number)) rows.set(number, newRow(number));
      const [now, parts, share] = rows.get(number);
      const names = data.states[data.owners[number][1]];
      const busy = BUSY.reduce((sum, name) => sum + (names.includes(name) ? story.timeIn(number, names.indexOf(name)) : 0), 0);
      now.textContent = data.labels[story.stateName(number)] ?? "";
      parts.textContent = story.contents[number].map(named).join(", ");
      share.textContent = passed > 0 ? `${(100 * busy / passed).toFixed(1)} %` : "-";
    }
    find("time").value = Math.round(1000 * passed / (data.to_us - data.from_us));
    find("time").setAttribute("aria-valuetext", clock(story.time));
  }

  function show(words) {
    drawPlan();
    drawTable();
    if (words !== undefined) find("now").textContent = `${clock(story.time)}${words ? `: ${words}` : ""}`;
  }

  function play(on) {
    playing = on && story.time < data.to_us;
    find("play").textContent = playing ? "Pause" : "Play";
    if (playing) { before = performance.now(); requestAnimationFrame(tick); } else show("");
  }

  function tick(now) {
    if (!playing) return;
    story.goTo(story.time + (now - before) * 1000 * find("speed").value);
    before = now;
    drawPlan();
    if (now - told > 250) { drawTable(); told = now; }
    if (story.time >= data.to_us) { play(false); show("end of the window"); } else requestAnimationFrame(tick);
  }

  function step() {
    play(false);
    story.goTo(story.nextTime());
    show("");
  }

  function jump() {
    play(false);
    const time = story.nextBreakdown();
    if (time === null) { show("no further breakdown in this window"); return; }
    story.goTo(time);
    show(story.last);
  }

  function faster(by) {
    const choice = find("speed");
    choice.selectedIndex = Math.min(Math.max(choice.selectedIndex + by, 0), choice.length - 1);
    show(`speed ${choice.value} x`);
  }

  find("play").addEventListener("click", () => {
    if (story.time >= data.to_us) story.goTo(data.from_us);
    play(!playing);
  });
  find("step").addEventListener("click", step);
  find("fault").addEventListener("click", jump);
  find("frame").addEventListener("change", () => show());
  find("time").addEventListener("input", (event) => {
    play(false);
    story.goTo(data.from_us + (data.to_us - data.from_us) * event.target.value / 1000);
    show("");
  });
  const keys = { p: () => find("play").click(), s: step, b: jump, "+": () => faster(1), "-": () => faster(-1) };
  root.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.altKey || event.metaKey || !keys[event.key] || event.target.tagName === "SELECT") return;
    event.preventDefault();
    keys[event.key]();
  });
  window.linesimReplay = { story, show }; // for whoever wants to look closer, and for tests
  story.goTo(data.from_us);
  show("the window begins");
})();
