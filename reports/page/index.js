"use strict";
(() => {
  const body = document.querySelector("#pieces tbody");
  const rows = [...body.rows];
  const byId = (id) => document.getElementById(id);

  // What was judged on the pages of the pieces, as far as this browser shares its store with them.
  let open = 0, judged = 0;
  for (const row of rows) {
    if (!row.dataset.key) continue;
    let kept = [];
    try {
      const state = JSON.parse(localStorage.getItem(row.dataset.key)) || {};
      kept = state.judged || [];
      // A newer run has read what was saved: what it asks again is open.
      if (state.run !== row.dataset.run) kept = kept.filter((mark) => !(state.saved || []).includes(mark));
    } catch { /* no store */ }
    const marks = row.dataset.marks ? row.dataset.marks.split(" ") : [];
    const done = marks.filter((mark) => kept.includes(mark)).length;
    row.dataset.decided = done;
    row.dataset.open = marks.length - done;
    row.querySelector(".open-count").textContent = marks.length - done;
    row.querySelector(".judged-count").textContent = done;
    row.querySelector(".judged-count").parentElement.hidden = !done;
    open += marks.length - done;
    judged += done;
  }
  byId("open").textContent = open;
  byId("open-what").textContent = open === 1 ? "passage" : "passages";
  byId("judged").textContent = judged;

  function filter() {
    const words = byId("search").value.toLowerCase().split(/\s+/).filter(Boolean);
    const want = byId("filter").value;
    let shown = 0;
    for (const row of rows) {
      const d = row.dataset;
      const text = d.search.toLowerCase();
      const fits = { all: true, open: d.open > 0, done: d.key && d.open === "0", findings: d.findings > 0, undecided: d.key && d.digits > 0, unpassed: d.key && d.passed === "0", earlier: d.earlier, failed: d.failed }[want];
      row.hidden = !(fits && words.every((word) => text.includes(word)));
      if (!row.hidden) shown++;
    }
    byId("shown").textContent = shown + " of " + rows.length + (rows.length === 1 ? " piece" : " pieces");
  }
  byId("search").addEventListener("input", filter);
  byId("filter").addEventListener("change", filter);

  for (const button of document.querySelectorAll("th button")) {
    button.addEventListener("click", () => {
      const head = button.closest("th"), by = button.dataset.by, text = by === "title";
      const up = head.getAttribute("aria-sort") === "none" ? text : head.getAttribute("aria-sort") !== "ascending";
      for (const other of document.querySelectorAll("th[aria-sort]")) other.setAttribute("aria-sort", "none");
      head.setAttribute("aria-sort", up ? "ascending" : "descending");
      const value = (row) => Number(row.dataset[by] || -1);
      rows.sort((a, b) => (up ? 1 : -1) * (text ? a.dataset.title.localeCompare(b.dataset.title, "en", { numeric: true }) : value(a) - value(b)) || a.dataset.n - b.dataset.n);
      body.append(...rows);
    });
  }
  filter();
})();
