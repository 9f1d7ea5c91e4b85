"use strict";
(() => {
  const form = document.getElementById("looking");
  const source = document.querySelector("details.source");
  // A line that is led to is of no use in a part that is shut.
  const open = () => {
    const to = decodeURIComponent(location.hash.slice(1));
    const there = to && document.getElementById(to);
    if (there && source && source.contains(there)) { source.open = true; there.scrollIntoView(); }
  };
  addEventListener("hashchange", open);
  open();
  if (!form) return;
  const verdict = document.getElementById("by-verdict");
  const book = document.getElementById("by-book");
  const words = document.getElementById("by-words");
  const said = document.getElementById("looking-for");
  const findings = Array.from(document.querySelectorAll("article.finding"));
  const look = () => {
    const wanted = words.value.trim().toLowerCase();
    let shown = 0;
    for (const one of findings) {
      const fits = (!verdict.value || one.dataset.verdict === verdict.value)
        && (!book.value || one.dataset.books.split(" ").includes(book.value))
        && (!wanted || one.textContent.toLowerCase().includes(wanted));
      one.hidden = !fits;
      if (fits) shown += 1;
    }
    said.textContent = shown === findings.length ? "" : shown + " of " + findings.length + " findings shown";
  };
  form.hidden = false;
  form.addEventListener("input", look);
  form.addEventListener("submit", (event) => event.preventDefault());
})();
