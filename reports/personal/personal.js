"use strict";
(() => {
  const data = JSON.parse(document.getElementById("data").textContent);
  const cards = [...document.querySelectorAll(".passage")];
  const byId = (id) => document.getElementById(id);
  const words = { keep: "kept", reason: "kept, with a reason", many: "the other fingering", smaller: "both, the second for smaller hands", larger: "both, the editor's for larger hands", ask: "asked" };
  const store = {
    get(key) { try { return localStorage.getItem(key); } catch { return null; } },
    set(key, value) { try { localStorage.setItem(key, value); return true; } catch { return false; } },
  };
  let state = {}, here = -1;
  const past = [];
  try { state = JSON.parse(store.get(data.key)) || {}; } catch { state = {}; }
  byId("initials").value = store.get("fingerproof/initials") || "";
  const say = (text) => { byId("said").textContent = text; };
  const of = (card) => data.passages[card.dataset.number - 1];
  const field = (card) => card.querySelector(".verbs input");
  const told = (card) => ["slip", "personal", "unusual", "dear"].includes(card.dataset.kind);
  const shown = () => cards.filter((card) => !card.hidden);

  function draw() {
    for (const card of cards) {
      const d = state[of(card).mark];
      card.classList.toggle("done", !!d);
      card.querySelector(".state").textContent = d ? words[d.do] : "";
      for (const b of card.querySelectorAll("[data-do]")) b.setAttribute("aria-pressed", String(!!d && d.do === b.dataset.do));
      if (d && d.why && document.activeElement !== field(card)) field(card).value = d.why;
    }
    const done = cards.filter((card) => state[of(card).mark]).length;
    byId("tally").textContent = done + " of " + cards.length + " decided here";
  }

  function stand(k, scroll) {
    if (k < 0 || k >= cards.length) return;
    here = k;
    cards.forEach((card, i) => card.classList.toggle("here", i === k));
    cards[k].focus({ preventScroll: true });
    if (scroll) cards[k].scrollIntoView({ block: "start" });
  }

  function step(by) {
    for (let k = here + by; k >= 0 && k < cards.length; k += by) if (!cards[k].hidden) return stand(k, true);
    say(by > 0 ? "This is the last passage." : "This is the first passage.");
  }

  function decide(card, what) {
    const why = field(card).value.replace(/\s+/g, " ").trim(), p = of(card);
    stand(cards.indexOf(card), false);
    if ((what === "smaller" || what === "larger") && !p.entries[what]) return say("Not offered here.");
    if ((what === "reason" || what === "ask") && !why) { field(card).focus(); return say(what === "ask" ? "Write the question, then press Enter." : "Write the reason, then press Enter."); }
    past.push([JSON.stringify(state), here]);
    state[p.mark] = { do: what, why: what === "reason" || what === "ask" ? why : "", when: new Date().toISOString().slice(0, 10) };
    const kept = store.set(data.key, JSON.stringify(state));
    draw();
    say(words[what].replace(/^./, (c) => c.toUpperCase()) + (what === "keep" && p.decided ? ": it was decided before; without a reason the finding stays." : ".") + (kept ? "" : " This browser keeps nothing: save before you close the page."));
  }

  // The text of a decision as it stands in a file: the day and the reason are written in.
  function entry(p, d) {
    if (d.do === "keep" && p.decided) return "";
    const text = p.entries[{ keep: "own", reason: "own", many: "many", ask: "ask" }[d.do] || d.do];
    const why = new RegExp("^ *why: .*\n", "mg");
    return text.replaceAll(data.when, d.when).replace(why, d.why ? "    why: " + JSON.stringify(d.why) + "\n" : "");
  }

  function save() {
    const by = byId("initials").value.trim();
    if (!/^\p{L}{1,5}$/u.test(by)) { byId("initials").focus(); return say("Write your initials first: one to five letters."); }
    store.set("fingerproof/initials", by);
    const texts = {};
    for (const p of data.passages) {
      const d = state[p.mark], text = d ? entry(p, d) : "";
      if (text) texts[p.piece] = (texts[p.piece] || "") + text;
    }
    const names = [];
    for (const [piece, text] of Object.entries(texts)) {
      const held = (data.files[piece] || {})[by] || { entries: "" };
      const link = document.createElement("a");
      const head = data.head.replace("Decisions of @by@", "Decisions of " + by).replace(/^piece: .*$/m, "piece: " + JSON.stringify(piece)).replace(/^by: .*$/m, "by: " + by).replace(/^decisions:$/m, (held.head || "") + "decisions:");
      link.href = URL.createObjectURL(new Blob([head + held.entries + text], { type: "application/yaml" }));
      link.download = piece + "." + by + ".yaml";
      document.body.append(link);
      link.click();
      link.remove();
      names.push(link.download);
    }
    say(names.length ? "Saved as " + names.join(", ") + ": put " + (names.length > 1 ? "them" : "it") + " into the folder decisions of the collection, in place of any of that name: what stood in it when this page was made is in it." : "Nothing to save: nothing is decided here that a file would hold.");
  }

  function undo() {
    if (!past.length) return say("Nothing to undo.");
    const [was, at] = past.pop();
    state = JSON.parse(was);
    store.set(data.key, JSON.stringify(state));
    draw();
    stand(at, true);
    say("Undone.");
  }

  function filter() {
    const kind = byId("show").value, piece = byId("piece") ? byId("piece").value : "";
    for (const card of cards) {
      const fits = kind === "all" || kind === "told" && told(card) || kind === card.dataset.kind || kind === "open" && !state[of(card).mark];
      card.hidden = !fits || piece !== "" && piece !== card.dataset.piece;
    }
    say(shown().length + " of " + cards.length + " passages shown");
  }

  for (const card of cards) {
    card.addEventListener("click", (e) => {
      const b = e.target.closest("[data-do]");
      if (b) decide(card, b.dataset.do); else if (!e.target.closest("input, summary")) stand(cards.indexOf(card), false);
    });
    let asked = "reason";
    for (const b of card.querySelectorAll("[data-do]")) b.addEventListener("click", () => { if (b.dataset.do === "ask" || b.dataset.do === "reason") asked = b.dataset.do; });
    card.addEventListener("asked", (e) => { asked = e.detail; });
    field(card).addEventListener("keydown", (e) => {
      if (e.key === "Enter") { decide(card, asked); if (field(card).value.trim()) card.focus(); }
      if (e.key === "Escape") card.focus();
    });
  }
  const keys = { k: "keep", r: "reason", m: "many", b: "smaller", l: "larger", q: "ask" };
  document.addEventListener("keydown", (e) => {
    if (e.target.closest("input, select, dialog") || e.ctrlKey || e.metaKey || e.altKey) return;
    const act = { n: () => step(1), p: () => step(-1), u: undo, s: save, "?": () => byId("keys").showModal() }[e.key];
    if (act) { e.preventDefault(); return act(); }
    if (!keys[e.key] || here < 0) return;
    e.preventDefault();
    cards[here].dispatchEvent(new CustomEvent("asked", { detail: keys[e.key] === "ask" ? "ask" : "reason" }));
    if (keys[e.key] === "reason" || keys[e.key] === "ask") { field(cards[here]).focus(); field(cards[here]).select(); say(keys[e.key] === "ask" ? "Write the question, then press Enter." : "Write the reason, or take the one offered, then press Enter."); return; }
    decide(cards[here], keys[e.key]);
  });
  // A link to a passage that is not shown shows all.
  for (const link of document.querySelectorAll('main a[href^="#p"]')) link.addEventListener("click", () => {
    const card = document.querySelector(link.getAttribute("href"));
    if (card && card.hidden) { byId("show").value = "all"; if (byId("piece")) byId("piece").value = ""; filter(); }
    if (card) stand(cards.indexOf(card), false);
  });
  byId("save").addEventListener("click", save);
  byId("undo").addEventListener("click", undo);
  byId("help").addEventListener("click", () => byId("keys").showModal());
  byId("show").addEventListener("change", filter);
  if (byId("piece")) byId("piece").addEventListener("change", filter);
  if (!cards.some(told)) byId("show").value = "all";
  filter();
  draw();
  if (cards.length) stand(0, false);
})();
