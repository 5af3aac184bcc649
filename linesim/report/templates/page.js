"use strict";
// Where the reader is, told in the contents.
(() => {
  const links = new Map([...document.querySelectorAll("nav a")].map((link) => [link.hash.slice(1), link]));
  const seen = new IntersectionObserver((entries) => {
    for (const entry of entries) {
      if (entry.isIntersecting) {
        for (const link of links.values()) link.removeAttribute("aria-current");
        links.get(entry.target.id)?.setAttribute("aria-current", "true");
      }
    }
  }, { rootMargin: "-20% 0px -70% 0px" });
  for (const section of document.querySelectorAll("main > section")) seen.observe(section);
})();

// Tables that can be filtered by words and sorted by a column; on paper come the first of the rows that are shown.
const ON_PAPER = 60;
for (const sheet of document.querySelectorAll(".filterable")) {
  const table = sheet.querySelector("table"), body = table.tBodies[0];
  const label = document.createElement("label"), input = document.createElement("input"), told = document.createElement("output");
  label.className = "filter";
  input.type = "search";
  label.append("show rows with all of these words ", input, " ", told);
  sheet.before(label);
  const filter = () => {
    const words = input.value.toLowerCase().split(/\s+/).filter(Boolean);
    let shown = 0;
    for (const row of body.rows) {
      const text = [...row.cells].map((cell) => cell.dataset.key).join(" ").toLowerCase();
      row.hidden = !words.every((word) => text.includes(word));
      shown += !row.hidden;
      row.classList.toggle("beyond", shown > ON_PAPER);
    }
    told.textContent = `${shown} of ${body.rows.length}`;
  };
  input.addEventListener("input", filter);
  filter();
  [...table.tHead.rows[0].cells].forEach((head, at) => {
    const button = document.createElement("button");
    button.type = "button";
    button.append(...head.childNodes);
    head.append(button);
    button.addEventListener("click", () => {
      const down = head.getAttribute("aria-sort") === "ascending" ? -1 : 1;
      for (const other of table.tHead.rows[0].cells) other.removeAttribute("aria-sort");
      head.setAttribute("aria-sort", down === 1 ? "ascending" : "descending");
      const key = (row) => row.cells[at].dataset.key;
      const numbers = [...body.rows].every((row) => !Number.isNaN(Number(key(row))));
      const order = (one, other) => numbers ? Number(key(one)) - Number(key(other)) : key(one).localeCompare(key(other));
      body.append(...[...body.rows].sort((one, other) => down * order(one, other)));
      filter();
    });
  });
}
