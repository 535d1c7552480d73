"use strict";
(() => {
  const data = JSON.parse(document.getElementById("data").textContent);
  const cards = [...document.querySelectorAll(".passage")];
  const byId = (id) => document.getElementById(id);
  const words = { take: "taken", stet: "let stand", amend: "amended", query: "queried" };

  // What is decided: by passage number, and by fingerprint of a finding. The store can be missing (a browser may refuse it); then
  // decisions last as long as the page.
  let state = { decided: {}, findings: {} };
  const past = [];
  const store = {
    get(key) { try { return localStorage.getItem(key); } catch { return null; } },
    set(key, value) { try { localStorage.setItem(key, value); return true; } catch { return false; } },
  };
  try { state = Object.assign(state, JSON.parse(store.get(data.key)) || {}); } catch { /* not ours */ }
  byId("initials").value = store.get("fingerproof/initials") || "";

  const say = (text) => { byId("said").textContent = text; };
  const today = () => new Date().toISOString().slice(0, 10);
  const mark = (number) => data.passages[number].mark; // keeps a decision with its passage when numbers change
  const order = () => 1 + Math.max(0, ...[...Object.values(state.decided), ...Object.values(state.findings)].map((d) => d.order));
  const preview = {}; // passage number -> { note: finger }, chosen and not yet kept

  function change(act, message) {
    past.push(JSON.stringify(state));
    act();
    keep();
    say(message);
  }

  function keep() {
    if (!store.set(data.key, JSON.stringify(state))) say("This browser keeps nothing: save before you close the page.");
    draw();
  }

  function undo() {
    if (!past.length) return say("Nothing to undo.");
    state = JSON.parse(past.pop());
    keep();
    say("Undone.");
  }

  function draw() {
    let done = 0;
    for (const card of cards) {
      const number = card.dataset.number;
      const decision = state.decided[mark(number)];
      card.classList.toggle("done", !!decision);
      const label = card.querySelector(".state");
      label.dataset.state = decision ? decision.verb : "open";
      label.textContent = decision ? words[decision.verb] : preview[number] ? "changed, not kept" : "open";
      for (const button of card.querySelectorAll("[data-verb]")) button.setAttribute("aria-pressed", String(!!decision && decision.verb === button.dataset.verb));
      const reason = card.querySelector(".reason");
      if (decision && document.activeElement !== reason) reason.value = decision.why || "";
      if (decision) done++;
      for (const line of card.querySelectorAll(".finding")) {
        const stands = state.findings[line.dataset.finding];
        const button = line.querySelector(".let");
        if (!button) continue;
        button.setAttribute("aria-pressed", String(!!stands));
        button.textContent = stands ? "Stands: " + stands.why : "Let this stand";
      }
      const fingers = preview[number] || (decision && decision.verb === "amend" ? decision.fingers : null);
      if (fingers || card.dataset.changed) { // long works have thousands of digits: only cards that change are touched
        show(card, fingers);
        card.dataset.changed = fingers ? "1" : "";
      }
    }
    byId("bar").value = done;
    byId("count").textContent = done + " of " + cards.length + " judged";
  }

  // Shows the fingers of a passage: the suggestion, or what was chosen over it.
  function show(card, fingers) {
    for (const key of card.querySelectorAll(".finger")) {
      const note = data.notes[key.dataset.note];
      const chosen = fingers && fingers[key.dataset.note];
      if (!key.dataset.first) { key.dataset.first = key.querySelector("b").textContent; key.dataset.said = key.querySelector(".spoken").textContent; }
      const changed = !!chosen && chosen !== note.f;
      key.querySelector("b").textContent = changed ? chosen : key.dataset.first;
      key.classList.toggle("changed", changed);
      key.querySelector(".spoken").textContent = changed ? key.dataset.said + ", changed from " + note.f : key.dataset.said;
    }
    for (const sign of card.querySelectorAll(".fing.added")) {
      const id = sign.dataset.startid.slice(2);
      const text = sign.querySelector("tspan tspan") || sign.querySelector("tspan");
      if (!sign.dataset.first) { sign.dataset.first = text.textContent; sign.dataset.boxed = sign.classList.contains("changed") ? "1" : "0"; }
      const chosen = fingers && fingers[id];
      const changed = !!chosen && data.notes[id] && chosen !== data.notes[id].f;
      text.textContent = changed ? chosen : sign.dataset.first;
      sign.classList.toggle("changed", changed || sign.dataset.boxed === "1");
    }
    const caption = card.querySelector(".shown");
    if (caption) caption.textContent = fingers ? "changed here" : "suggested";
  }

  let here = -1;
  function go(index) {
    if (!cards.length) return;
    here = Math.max(0, Math.min(cards.length - 1, index));
    cards.forEach((card, i) => card.classList.toggle("here", i === here));
    cards[here].focus({ preventScroll: true });
    cards[here].scrollIntoView({ block: "start" });
  }
  function next(step) {
    if (step > 0 && here + 1 >= cards.length) return say("This is the last passage.");
    if (step < 0 && here <= 0) return go(0);
    go(here + step);
  }
  const current = () => (here < 0 ? (go(0), cards[0]) : cards[here]);

  function decide(card, verb) {
    const number = card.dataset.number;
    const why = card.querySelector(".reason").value.trim();
    const passage = data.passages[number];
    if (verb === "amend" && !preview[number] && !passage.handover) {
      return choose(card, card.querySelector(".finger.doubt:not(:disabled)") || card.querySelector(".finger:not(:disabled)"), true);
    }
    const written = entries(number, verb, why, preview[number]);
    if (written.not) {
      if (!why && (verb === "query" || verb === "stet" && passage.findings)) card.querySelector(".reason").focus();
      return say(written.not);
    }
    change(() => {
      const decision = { verb, entry: written.text, order: order() };
      if (why) decision.why = why;
      if (verb === "amend") decision.fingers = preview[number];
      delete preview[number];
      state.decided[mark(number)] = decision;
    }, "Passage " + number + " " + words[verb] + ".");
    card.querySelector(".choices").hidden = true;
    next(1);
  }

  // Takes all firm passages that are not judged yet, in one step.
  function takeFirm() {
    const taken = [];
    for (const card of cards) {
      const number = card.dataset.number;
      if (!data.passages[number].firm || state.decided[mark(number)]) continue;
      const written = entries(number, "take", "");
      if (written.text) taken.push([number, written.text]);
    }
    if (!taken.length) return say("No firm passage is open.");
    change(() => {
      for (const [number, text] of taken) { delete preview[number]; state.decided[mark(number)] = { verb: "take", entry: text, order: order() }; }
    }, taken.length + (taken.length === 1 ? " firm passage taken." : " firm passages taken."));
  }

  // Opens the choices of one note.
  function choose(card, key, focus) {
    if (!key) return say("No finger can be changed here.");
    const id = key.dataset.note;
    const box = card.querySelector(".choices");
    box.replaceChildren();
    const note = data.notes[id];
    const label = document.createElement("span");
    label.textContent = "m. " + note.m + ", beat " + note.b + ", " + note.p + ":";
    box.append(label);
    const now = (preview[card.dataset.number] || {})[id] || note.f;
    const offer = (finger, text) => {
      const button = document.createElement("button");
      button.type = "button";
      button.textContent = text;
      button.dataset.finger = finger;
      button.setAttribute("aria-pressed", String(finger === now));
      button.addEventListener("click", () => { touch(card, key, finger); });
      box.append(button);
    };
    offer(note.f, note.f + " as suggested");
    for (const c of data.choices[id] || []) offer(c.f, c.f + " costs more by " + (c.c / 1000).toFixed(2));
    for (let f = 1; f <= 5; f++) if (f !== note.f && !(data.choices[id] || []).some((c) => c.f === f)) offer(f, f + ", this digit alone");
    box.hidden = false;
    box.dataset.note = id;
    if (focus) key.focus();
  }

  // Touches another finger: the passage that follows from it appears, up to where both rejoin.
  function touch(card, key, finger) {
    const number = card.dataset.number, id = key.dataset.note, note = data.notes[id];
    const fingers = Object.assign({}, preview[number]);
    const choice = (data.choices[id] || []).find((c) => c.f === finger);
    if (finger === note.f) {
      for (const c of data.choices[id] || []) for (const [n, f] of c.p) if (fingers[n] === f) delete fingers[n];
      delete fingers[id];
    } else if (choice) {
      for (const [n, f] of choice.p) fingers[n] = f;
      fingers[id] = finger;
    } else {
      fingers[id] = finger;
    }
    if (Object.keys(fingers).length) preview[number] = fingers; else delete preview[number];
    if (state.decided[mark(number)]) { past.push(JSON.stringify(state)); delete state.decided[mark(number)]; keep(); }
    draw();
    choose(card, key, false);
    const moved = Object.keys(fingers).length;
    say(!moved ? "As suggested." : choice ? finger + " on " + note.p + ": " + moved + " digits change; it costs more by " + (choice.c / 1000).toFixed(2) + ". Amend keeps the passage." : finger + " on " + note.p + ": only this digit changes; the next run works out the passage. Amend keeps it.");
  }

  for (const [index, card] of cards.entries()) {
    card.addEventListener("focusin", () => { here = index; cards.forEach((c, i) => c.classList.toggle("here", i === index)); });
    card.addEventListener("click", (event) => {
      const verb = event.target.closest("[data-verb]");
      if (verb) return decide(card, verb.dataset.verb);
      const key = event.target.closest(".finger");
      if (key && !key.disabled) return choose(card, key, false);
      const sign = event.target.closest(".fing.added");
      if (sign) return choose(card, card.querySelector('.finger[data-note="' + sign.dataset.startid.slice(2) + '"]'), true);
      const let_ = event.target.closest(".let");
      if (let_) letStand(card, let_.closest(".finding").dataset.finding);
    });
    card.querySelector(".reason").addEventListener("change", (event) => {
      const number = card.dataset.number, decision = state.decided[mark(number)], why = event.target.value.trim();
      const written = decision && entries(number, decision.verb, why, decision.fingers);
      if (written && written.text) change(() => { Object.assign(state.decided[mark(number)], { why, entry: written.text }); }, "Reason kept.");
    });
  }

  function letStand(card, fingerprint) {
    const reason = card.querySelector(".reason"), why = reason.value.trim(), finding = data.findings[fingerprint];
    if (state.findings[fingerprint]) return change(() => { delete state.findings[fingerprint]; }, "The finding is open again.");
    if (!why) { reason.focus(); return say("A finding stands only with a reason: write it first."); }
    const text = entry("stet", "finding", { rule: quote(finding.rule), why: quote(why) }, [[finding.notes[0], ""]], data.passages[card.dataset.number]);
    change(() => { state.findings[fingerprint] = { why, entry: text, order: order() }; }, "The finding stands.");
  }

  document.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey || !byId("keys").checked || byId("help").open) return;
    const typing = event.target.matches("input:not([type=checkbox]), select, textarea");
    if (typing) { if (event.key === "Escape") event.target.blur(); return; }
    const card = here >= 0 ? cards[here] : null;
    const box = card && card.querySelector(".choices");
    if (box && !box.hidden && /^[1-5]$/.test(event.key)) {
      event.preventDefault();
      return touch(card, card.querySelector('.finger[data-note="' + box.dataset.note + '"]'), Number(event.key));
    }
    if (event.target.matches(".finger") && (event.key === "ArrowRight" || event.key === "ArrowLeft")) {
      const keys = [...card.querySelectorAll(".finger:not(:disabled)")];
      const to = keys[keys.indexOf(event.target) + (event.key === "ArrowRight" ? 1 : -1)];
      if (to) { event.preventDefault(); to.focus(); choose(card, to, false); }
      return;
    }
    const act = {
      n: () => next(1), p: () => next(-1), t: () => decide(current(), "take"), s: () => decide(current(), "stet"), a: () => decide(current(), "amend"), q: () => decide(current(), "query"), f: takeFirm, u: undo,
      "?": () => byId("help").showModal(),
    }[event.key];
    if (act && cards.length) { event.preventDefault(); act(); }
  });

  byId("initials").addEventListener("change", (event) => store.set("fingerproof/initials", event.target.value.trim()));
  byId("measure").addEventListener("change", (event) => {
    const wanted = "measure " + event.target.value.trim();
    const found = [...document.querySelectorAll(".measure")].find((m) => m.getAttribute("aria-label") === wanted);
    if (!found) return say("There is no measure " + event.target.value.trim() + ".");
    found.scrollIntoView({ block: "start" });
    found.tabIndex = -1;
    found.focus({ preventScroll: true });
  });
  byId("undo").addEventListener("click", undo);
  byId("help-open").addEventListener("click", () => byId("help").showModal());
  byId("save").addEventListener("click", save);
  if (byId("take-firm")) byId("take-firm").addEventListener("click", takeFirm);

  function save() {
    const initials = byId("initials").value.trim();
    if (!/^\p{L}{1,5}$/u.test(initials)) { byId("initials").focus(); return say("Write your initials first: one to five letters."); }
    const text = decisionsFile(initials);
    const link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([text], { type: "application/yaml" }));
    link.download = data.piece + "." + initials + ".yaml";
    document.body.append(link);
    link.click();
    link.remove();
    say("Saved as " + link.download + ": put it into the folder decisions of the collection.");
  }

  // One decision as it stands in a file of decisions (pipeline/4_stages/05_decide): the text is kept with the decision, so that what was decided
  // under an earlier suggestion is saved as it was decided.
  const quote = (text) => JSON.stringify(text.replace(/\s+/g, " ").trim());
  function entry(verb, on, more, notes, passage) {
    let text = "  - " + verb + ": " + on + "\n    when: " + today() + "\n";
    for (const [key, value] of Object.entries(more)) if (value) text += "    " + key + ": " + value + "\n";
    return text + music(notes, passage);
  }

  // Notes with their digits in lines of music, one a measure (pipeline/3_records/decision/lines.go). Where few are decided,
  // notes around them stand in brackets, so that they are found again.
  function music(decided, passage) {
    const note = (n) => data.notes[n], digits = new Map(decided), inTime = (a, b) => note(a).t - note(b).t;
    const together = (a, b) => note(a).i === note(b).i && note(a).o === note(b).o;
    const close = (a, b) => Math.abs(note(a).i - note(b).i) <= 2 && !together(a, b);
    const beside = new Set(), rest = passage.notes.concat(passage.around || []).filter((n) => note(n) && !digits.has(n)).sort(inTime);
    for (const [n] of decided) {
      const near = decided.filter(([o]) => close(n, o)), before = near.filter(([o]) => inTime(o, n) < 0).length;
      if (near.length >= 6) continue;
      for (const o of rest.filter((o) => close(n, o) && inTime(o, n) < 0).slice(-2)) beside.add(o);
      for (const o of rest.filter((o) => close(n, o) && inTime(o, n) > 0).slice(0, 2)) beside.add(o);
    }
    const lines = new Map(), marks = new Map();
    for (const n of [...digits.keys(), ...beside].sort(inTime)) {
      const i = note(n).i;
      if (!lines.has(i)) lines.set(i, []);
      lines.get(i).push(n);
    }
    for (const n of digits.keys()) for (const [i, x] of data.measures[note(n).i].l || []) marks.set(i, x);
    const first = [...lines.keys()][0], number = (i) => data.measures[i].n;
    const counts = (i) => /^(0|-?[1-9]\d*)$/.test(number(i)) && number(i) - number(first) === i - first;
    const indexed = [...lines.keys()].some((i) => data.measures[i].q || lines.size > 1 && !counts(i));
    const where = [...marks.keys()].sort((a, b) => a - b).map((i) => i - first + (lines.has(i) && data.measures[i].x === marks.get(i) ? "" : ":" + marks.get(i)));
    let text = (where.length ? "    landmarks: " + where.join(" ") + "\n" : "") + "    notes:\n";
    for (const [i, notes] of lines) {
      const plain = /^[\p{L}\d][\p{L}\d._-]*$/u.test(number(i));
      let key = "m. " + (plain ? number(i) : JSON.stringify(number(i))) + (indexed ? " (index " + i + ")" : "") + (data.measures[i].x ? " " + data.measures[i].x : "");
      if (!plain) key = JSON.stringify(key);
      let line = "";
      notes.forEach((n, k) => {
        const last = notes[k - 1], joined = k > 0 && together(last, n) && beside.has(last) === beside.has(n);
        line += joined ? "+" : (k > 0 ? (beside.has(last) ? "), " : ", ") : "") + (beside.has(n) ? "(" : "") + note(n).o + " ";
        line += note(n).k + (digits.get(n) ? "=" + digits.get(n) : "");
      });
      text += "      - " + key + ": " + line + (beside.has(notes[notes.length - 1]) ? ")" : "") + "\n";
    }
    return text;
  }

  // What a verb on a passage writes, or a sentence why it cannot.
  function entries(number, verb, why, fingers) {
    const p = data.passages[number], reason = why ? quote(why) : "", returns = p.returns ? "true" : "";
    const open = p.notes.filter((n) => !data.notes[n].g && data.notes[n].w);
    const refs = (list, withFinger) => list.map((n) => [n, withFinger ? data.notes[n].w : ""]);
    if (p.handover) {
      const taken = p.handed.map(([n, f]) => [n, verb === "take" ? String(f) : ""]);
      if (verb === "amend") return { not: "Take or stet a redistribution; its digits can be amended once it is taken." };
      if (verb === "query" && !why) return { not: "Say what the query is, then press Query." };
      return { text: entry(verb, "redistribution", { to: p.to, why: reason }, taken, p) };
    }
    const named = (p.findings || []).filter((f) => data.findings[f].notes);
    const ofFindings = (v) => named.map((f) => entry(v, "finding", { rule: quote(data.findings[f].rule), why: reason }, [[data.findings[f].notes[0], ""]], p)).join("");
    switch (verb) {
      case "take":
        if (!open.length) return { not: "There is no suggestion to take here." };
        return { text: entry("take", "notes", { why: reason, returns }, refs(open, true), p) };
      case "amend": {
        const changed = Object.keys(fingers).map(Number).filter((n) => fingers[n] !== data.notes[n].f).sort((a, b) => a - b);
        const rest = open.filter((n) => !changed.includes(n));
        return { text: entry("amend", "notes", { why: reason, returns }, changed.map((n) => [n, String(fingers[n])]), p) + (rest.length ? entry("take", "notes", { returns }, refs(rest, true), p) : "") };
      }
      case "stet": {
        const standing = p.notes.filter((n) => data.notes[n].s);
        if (named.length && !why) return { not: "A finding stands only with a reason: write it, then press Stet." };
        if (!standing.length && !named.length) return { not: "No digit stands here that could be left: take, amend or query." };
        return { text: (standing.length && !named.length ? entry("stet", "notes", { why: reason }, refs(standing, false), p) : "") + ofFindings("stet") };
      }
      default:
        if (!why) return { not: "Say what the query is, then press Query." };
        if (!(p.doubts || []).length && named.length) return { text: ofFindings("query") };
        if (!p.notes.length) return { not: "No note is named here that a query could speak of." };
        return { text: entry("query", "notes", { why: reason }, refs(p.doubts || p.notes.slice(0, 1), false), p) };
    }
  }

  // The file that the program merges.
  function decisionsFile(initials) {
    // What the file holds already stays in it: nothing of it is lost when this one is put in its place. What was decided here and
    // stands there by now is not written twice.
    const held = (data.decided || {})[initials] || "";
    const same = (text) => text.replace(/"/g, "").split("\n").map((line) => line.replace(/[{}]/g, "").split(", ").map((f) => f.replace(/^[ -]+/, "")).sort().join(", ")).sort().join("\n");
    const before = new Set(held.split(/^(?=  - )/m).map(same));
    // Redistributions come last: they replace what was decided on the same notes for the hand that had them.
    const last = (d) => (d.entry.startsWith("  - take: redistribution") ? 1 : 0);
    const all = [...Object.values(state.decided), ...Object.values(state.findings)].sort((a, b) => last(a) - last(b) || a.order - b.order).filter((d) => !d.entry.split(/^(?=  - )/m).every((one) => before.has(same(one))));
    return "# Decisions of " + initials + ", made on the page. Add, mend and take out by hand as you like; a run never writes here.\npiece: " + quote(data.piece) + "\nby: " + quote(initials) + "\ndecisions:\n" + held + all.map((d) => d.entry).join("");
  }

  // Printing: folds open, the paper as chosen; the summary leaves out what is firm.
  const sheet = document.createElement("style");
  document.head.append(sheet);
  const paper = () => { sheet.textContent = "@page { size: " + byId("paper").value + "; }"; };
  byId("paper").addEventListener("change", paper);
  const print = (mode) => { document.documentElement.dataset.print = mode; paper(); window.print(); };
  byId("print-summary").addEventListener("click", () => print("summary"));
  byId("print-all").addEventListener("click", () => print("everything"));
  const wanted = new URLSearchParams(location.search);
  if (wanted.has("print")) document.documentElement.dataset.print = wanted.get("print");
  if (wanted.has("paper")) { byId("paper").value = wanted.get("paper") === "Letter" ? "Letter" : "A4"; paper(); }
  let folded = [];
  const unfold = () => { if (document.documentElement.dataset.print !== "summary") { folded = [...document.querySelectorAll("details:not([open])")]; folded.forEach((d) => { d.open = true; }); } };
  window.addEventListener("beforeprint", unfold);
  window.addEventListener("afterprint", () => folded.forEach((d) => { d.open = false; }));

  draw();
})();
