"use strict";
// States of machines and ways of carriages over a frame of time, drawn anew when the frame changes; a line marks now.
const SPACE = "http://www.w3.org/2000/svg";
const LEFT = 110, ACROSS = 880, ROW = 22, WAY = 210;

function element(kind, attributes, parent, words) {
  const made = document.createElementNS(SPACE, kind);
  for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, value);
  if (words !== undefined) made.textContent = words;
  parent?.append(made);
  return made;
}

class Charts {
  constructor(story, states, ways) {
    this.story = story;
    this.states = states;
    this.ways = ways;
    this.shown = story.data.owners.map((owner, number) => number).filter((n) => ["machine", "carriage"].includes(story.data.owners[n][1]));
    this.spans = this.spansOfAll();
    this.frame = null;
  }

  // For each owner its states in order: [from, to, state].
  spansOfAll() {
    const { data, times, count } = this.story;
    const spans = data.owners.map(() => []), open = data.owners.map((owner, n) => [data.from_us, data.start.states[n] ?? -1]);
    const close = (owner, time) => {
      const [from, state] = open[owner];
      if (state >= 0 && time > from) spans[owner].push([from, time, state]);
    };
    for (let row = 0; row < count; row++) {
      if (data.rows[5 * row + 1] !== STATE) continue;
      const owner = data.rows[5 * row + 2];
      close(owner, times[row]);
      open[owner] = [times[row], data.rows[5 * row + 4]];
    }
    data.owners.forEach((owner, number) => close(number, data.to_us));
    return spans;
  }

  show(time, length) {
    const { from_us, to_us } = this.story.data;
    const from = from_us + Math.floor((Math.min(time, to_us - 1) - from_us) / length) * length;
    if (!this.frame || this.frame[0] !== from || this.frame[1] !== from + length) {
      this.frame = [from, from + length];
      this.drawStates();
      this.drawWays();
    }
    for (const line of document.querySelectorAll("#replay .cursor")) {
      line.setAttribute("x1", this.x(time));
      line.setAttribute("x2", this.x(time));
    }
  }

  x(time) {
    return LEFT + ACROSS * (time - this.frame[0]) / (this.frame[1] - this.frame[0]);
  }

  board(height) {
    const board = element("svg", { viewBox: `0 0 ${LEFT + ACROSS + 10} ${height + 24}`, "aria-hidden": "true" });
    const steps = 6;
    for (let step = 0; step <= steps; step++) {
      const time = this.frame[0] + (this.frame[1] - this.frame[0]) * step / steps, x = this.x(time);
      element("line", { class: "grid", x1: x, x2: x, y1: 0, y2: height }, board);
      element("text", { x, y: height + 16, "text-anchor": step === steps ? "end" : step ? "middle" : "start" }, board, clock(time));
    }
    return board;
  }

  finish(board, height, place) {
    element("line", { class: "cursor", y1: 0, y2: height }, board);
    place.append(board);
  }

  drawStates() {
    const height = ROW * this.shown.length, board = this.board(height);
    this.shown.forEach((owner, row) => {
      label(board, this.story.data.owners[owner][0], ROW * row + 15);
      for (const [from, to, state] of this.inFrame(this.spans[owner])) {
        const begin = this.x(Math.max(from, this.frame[0])), end = this.x(Math.min(to, this.frame[1]));
        const name = this.story.stateName(owner, state);
        element("rect", { x: begin, y: ROW * row + 2, width: Math.max(end - begin, 0.3), height: ROW - 4, fill: `url(#look-${name})` }, board);
      }
    });
    this.states.replaceChildren();
    this.finish(board, height, this.states);
  }

  inFrame(spans) {
    return spans.filter(([from, to]) => to > this.frame[0] && from < this.frame[1]);
  }

  drawWays() {
    const { loaders, owners } = this.story.data;
    const rails = new Map(); // loader -> its carriages
    for (const number of Object.keys(loaders)) {
      const name = owners[number][2];
      rails.set(name, [...(rails.get(name) ?? []), number]);
    }
    this.ways.replaceChildren();
    for (const carriages of rails.values()) this.drawRail(carriages);
  }

  // Place over time: the rail from bottom to top, its stops as lines.
  drawRail(carriages) {
    const { loaders } = this.story.data;
    const stops = [...new Map(carriages.flatMap((number) => loaders[number].stops))].sort((a, b) => a[1] - b[1]);
    const board = this.board(WAY);
    const low = stops[0][1], high = Math.max(stops.at(-1)[1], low + 0.001);
    const y = (metres) => WAY - 8 - (WAY - 16) * (metres - low) / (high - low);
    const named = new Map(); // position -> all that stands there
    for (const [place, at] of stops) named.set(at, [...(named.get(at) ?? []), this.story.data.owners[place][0]]);
    let free = Infinity;
    for (const [at, names] of named) {
      element("line", { class: "grid", x1: LEFT, x2: LEFT + ACROSS, y1: y(at), y2: y(at) }, board);
      if (free - y(at) >= 11) { label(board, names.join(", "), y(at) + 4); free = y(at); }
    }
    carriages.forEach((number, order) => {
      for (const [kind, points] of this.wayOf(number)) {
        const path = points.map(([time, metres]) => `${this.x(time).toFixed(2)},${y(metres).toFixed(2)}`).join(" ");
        element("polyline", { class: `track ${kind} carriage-${order % 2}`, points: path }, board);
      }
    });
    this.finish(board, WAY, this.ways);
    if (carriages.length > 1) this.nameTracks(carriages);
  }

  // Carriages never pass each other, so their order tells them apart without any colour.
  nameTracks(carriages) {
    const legend = document.createElement("ul");
    legend.className = "legend";
    carriages.forEach((number, order) => {
      const item = document.createElement("li"), line = element("svg", { width: 26, height: 10, "aria-hidden": "true" }, item);
      element("line", { class: `track loaded carriage-${order % 2}`, x1: 0, x2: 26, y1: 5, y2: 5 }, line);
      item.append(` ${this.story.data.owners[number][0]}${order ? "" : ", the lowest"}`);
      legend.append(item);
    });
    this.ways.append(legend);
  }

  // Pieces of a carriage's way in the frame, by its state: [kind, points].
  wayOf(number) {
    const pieces = [];
    for (const [from, to, state] of this.inFrame(this.spans[number])) {
      const begin = Math.max(from, this.frame[0]), end = Math.min(to, this.frame[1]);
      const name = this.story.stateName(number, state), moving = name.startsWith("moving"), points = [];
      const steps = moving ? 8 : 1;
      for (let step = 0; step <= steps; step++) {
        const time = begin + (end - begin) * step / steps;
        points.push([time, this.story.position(number, time)]);
      }
      pieces.push([name === "moving_loaded" ? "loaded" : moving ? "empty" : name === "handling" ? "handling" : "standing", points]);
    }
    return pieces;
  }
}

function label(board, words, y) {
  const short = words.length > 15 ? `${words.slice(0, 14)}…` : words;
  const text = element("text", { x: LEFT - 6, y, "text-anchor": "end" }, board, short);
  if (short !== words) element("title", {}, text, words);
}
