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
