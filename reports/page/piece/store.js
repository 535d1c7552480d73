  const data = JSON.parse(document.getElementById("data").textContent);
  const cards = [...document.querySelectorAll(".passage")];
  const byId = (id) => document.getElementById(id);
  const words = { take: "taken", stet: "let stand", amend: "amended", query: "queried", roll: "rolled", rolldown: "rolled down" };
  const cardOf = {}; // passage number -> its card
  for (const card of cards) cardOf[card.dataset.number] = card;
  document.documentElement.classList.add("live");

  // What is decided: by passage number, and by fingerprint of a finding. The store can be missing (a browser may refuse it); then
  // decisions last as long as the page.
  let state = { decided: {}, findings: {} };
  // What undo takes back, step by step: what stood under the keys that a step changed, and the passage at which it was left. It is
  // kept as long as what is decided, for the run whose questions were answered.
  let past = [], begun = null;
  const mostSteps = 300, sections = ["decided", "findings", "promised"];
  const store = {
    get(key) { try { return localStorage.getItem(key); } catch { return null; } },
    set(key, value) { try { localStorage.setItem(key, value); return true; } catch { return false; } },
  };
  try { state = Object.assign(state, JSON.parse(store.get(data.key)) || {}); } catch { /* not ours */ }
  try { const kept = JSON.parse(store.get(data.key + "/undo")); if (kept && kept.run === data.run) past = kept.past; } catch { /* not ours */ }
  byId("initials").value = store.get("fingerproof/initials") || "";

  const say = (text) => { byId("said").textContent = text; };
  const today = () => new Date().toISOString().slice(0, 10);
  const mark = (number) => data.passages[number].mark; // keeps a decision with its passage when numbers change
  const order = () => 1 + Math.max(0, ...[...Object.values(state.decided), ...Object.values(state.findings)].map((d) => d.order));
  // How likely a finger is beside the likeliest one, in the words of the sheet (wording.AsLikely).
  const asLikely = (c) => {
    const hundred = Math.round(100 * Math.exp(-Math.abs(c) / 1000));
    if (c <= -5) return "likelier, " + (hundred > 1 ? (Math.floor(1000 / hundred) / 10).toFixed(1) : "100") + " times at least";
    return c < 5 ? "as likely" : hundred ? Math.min(hundred, 99) + " in 100 as likely" : "hardly likely";
  };
  const plural = (n, noun) => n + " " + noun + (n === 1 ? "" : "s");
  // What waits for a reason: the field in which it is written, and what is done with it.
  let asked = null, entered = null; // and the field that Enter leaves: what asked for the reason keeps it
  function ask(field, act) { asked = { field, act }; field.focus({ preventScroll: true }); field.select(); bring(field); }
  // A field comes into view above what lies over the page's end, and no farther: the music stays where it can.
  function bring(field) {
    const { top, bottom } = field.getBoundingClientRect(), room = innerHeight - document.querySelector(".desk").offsetHeight - 8;
    if (bottom > room) scrollBy(0, bottom - room); else if (top < 0) scrollBy(0, top - 8);
  }
  // The digit of a note as it is suggested: a change on the held key whole, so that its first finger alone is another.
  const suggestedAt = (n) => { const note = data.notes[n]; return note.w && note.w.includes("-") && !note.l ? note.w : String(note.f); };
  const asGiven = (n, digit) => String(digit) === suggestedAt(n);
  const spelt = (digit) => String(digit).replaceAll("-", "\u2013"); // as the row of digits has it
  // A digit of the text stays: an editor's prints beside it, or not at all.
  const inText = (n) => (data.notes[n] || {}).x || "";
  const besideText = (n, digit) => (data.notes[n].xa ? "" : data.around[0] + digit + data.around[1]);
  const preview = {}; // passage number -> { note: finger }, chosen and not yet kept
  const chosen = {}; // passage number -> notes whose finger the editor chose, as against what follows from it

  // What lint finds once a passage is taken as suggested is asked as soon as it is: of digits that were changed it may say otherwise.
  function comes(fingerprint) {
    const finding = data.findings[fingerprint];
    // Of a grip, a reach or a finger nothing is asked any more where one of its notes changes hands.
    if (finding && /grip|span|reach|finger|hand/.test(finding.rule) && (finding.notes || []).some(handedNow)) return false;
    if (!finding || !finding.then) return true;
    if (finding.speaks.some(handedNow)) return false;
    const decision = state.decided[mark(finding.then)], p = data.passages[finding.then];
    const asSuggested = (n, given) => given === undefined || String(given) === String(data.notes[n].w) || asGiven(n, given);
    if (decision && decision.verb === "take") return true;
    if (decision) return decision.verb === "amend" && finding.speaks.every((n) => asSuggested(n, (decision.fingers || {})[n]));
    const asked = [...(p.open || []), ...(p.doubts || [])];
    return asked.length > 0 && asked.every((n) => reached[n]) && finding.speaks.every((n) => asSuggested(n, (reached[n] || [])[1]));
  }
  // What is found in a passage, as it is decided now.
  const foundIn = (number) => [...(data.passages[number].findings || []), ...(data.passages[number].then || []).filter(comes)];

  // What is found of the text where nothing is played, by which it could be let stand, is told, and asks nothing.
  const toldOnly = (p) => !p.handover && !p.notes.length && (p.findings || []).every((f) => !(data.findings[f].notes || []).length && !data.findings[f].entry);

  // A passage that asks nothing but what its findings say is judged when all of them are.
  function decisionOn(number) {
    const p = data.passages[number], decision = state.decided[mark(number)];
    if (toldOnly(p)) return { verb: "stet", told: true };
    if (decision && !half(number, decision) && !findingsLeft(number, decision)) return decision;
    // Every digit that it asks about changes hands by now, and what is found there speaks of such notes or stands.
    const all = [...new Set([...(p.open || []), ...(p.doubts || [])])], asked = all.filter((n) => !handedNow(n));
    const answeredSo = (f) => state.findings[f] || (data.findings[f].notes || []).length && data.findings[f].notes.every(handedNow);
    if (!p.handover && all.length && !asked.length && (p.findings || []).every(answeredSo)) return { verb: "take", with: String(handedNow(all[0])) };
    const bare = !p.firm && !p.handover && !asked.length && (p.findings || []).length && !restOf(number).length;
    if (bare && p.findings.every((f) => state.findings[f])) return { verb: p.findings.every((f) => state.findings[f].put) ? "amend" : "stet", ofFindings: true };
    // Every digit that it asks about has been decided with a passage that it is like.
    if (!p.handover && asked.length && foundIn(number).every((f) => state.findings[f]) && asked.every((n) => reached[n] && reached[n][0] !== String(number)) && takesOf(p).every((n) => handedNow(n) || reached[n] || explicit[n] !== undefined)) return { verb: "take", with: reached[asked[0]][0] };
    // Of what asks for no printed digit all has been decided with another passage.
    const takes = takesOf(p).filter((n) => !handedNow(n));
    if (!p.handover && !decision && !asked.length && takes.length && foundIn(number).every((f) => state.findings[f]) && takes.every((n) => reached[n] && reached[n][0] !== String(number))) return { verb: "take", with: reached[takes[0]][0] };
    return null;
  }

  // Notes that passages offer to the other hand, or decide with it: by note, the numbers of those passages. The digits of
  // such notes are asked for the hand that has them only once it is decided that they stay.
  const offers = {};
  for (const [number, p] of Object.entries(data.passages)) {
    if (p.handover) for (const [n] of [...p.handed, ...(p.staying || [])]) (offers[n] = offers[n] || []).push(number);
  }
  // The passage by which a note changes hands, or is decided with one that does, as things stand here.
  const handedNow = (n) => (offers[n] || []).find((number) => (state.decided[mark(number)] || {}).verb === "take");
  // The redistributions that are to be judged before a passage.
  function waitsFor(number) {
    const p = data.passages[number];
    if (p.handover) return [];
    const asked = [...(p.open || []), ...(p.doubts || [])].filter((n) => !handedNow(n));
    return [...new Set(asked.flatMap((n) => offers[n] || []))].filter((other) => !state.decided[mark(other)]);
  }
  // The findings of a passage whose digits are decided that nobody has answered yet.
  function findingsLeft(number, decision) {
    const p = data.passages[number];
    if (p.handover || decision.verb === "stet" || decision.verb === "query") return 0;
    return foundIn(number).filter((f) => data.findings[f].notes && !state.findings[f] && !rolledHere(p, decision, f)).length;
  }
  // What is left open there is notes alone, no warning and no error.
  const onlyNotes = (number) => foundIn(number).filter((f) => data.findings[f].notes && !state.findings[f]).every((f) => data.findings[f].mild);
  // A chord that is rolled is no grip: that a hand cannot take it is answered by that.
  const rolledHere = (p, decision, f) => (decision.rolled || decision.verb).startsWith("roll") && /grip|span|reach/.test(data.findings[f].rule) && (p.rolls || []).some((r) => data.findings[f].notes.some((n) => r.n.includes(n)));
  const judged = (card) => !!decisionOn(card.dataset.number);

  // A step begins: what changes until it is kept is undone together.
  function begin() { begun = [JSON.stringify(state), here]; }
  function endStep() {
    if (!begun) return;
    const was = JSON.parse(begun[0]), step = { at: begun[1] };
    begun = null;
    for (const section of sections) {
      const old = was[section] || {}, now = state[section] || {};
      for (const key of new Set([...Object.keys(old), ...Object.keys(now)])) {
        if (JSON.stringify(old[key]) !== JSON.stringify(now[key])) (step[section] = step[section] || {})[key] = old[key] === undefined ? null : old[key];
      }
    }
    if (!sections.some((section) => step[section])) return;
    past = [...past, step].slice(-mostSteps);
    store.set(data.key + "/undo", JSON.stringify({ run: data.run, past }));
  }

  function change(act, message) {
    begin();
    act();
    keep();
    say(message);
  }

  function keep() {
    reach();
    keepPromises();
    renewPrints();
    stamp();
    endStep();
    const done = cards.filter(judged), marksOf = (list) => list.map((card) => mark(card.dataset.number));
    Object.assign(state, { run: data.run, judged: marksOf(done), saved: marksOf(done.filter(isSaved)) }); // for the index
    const kept = store.set(data.key, JSON.stringify(state));
    draw();
    if (!kept) say("This browser keeps nothing: save before you close the page.");
  }

  function undo() {
    asked = null;
    if (!past.length) return say(Object.keys(state.decided).length + Object.keys(state.findings).length ? "Nothing to undo that was decided since the last run: what is older is taken back by x, in its passage or on its digit." : "Nothing to undo.");
    const step = past[past.length - 1], at = step.at;
    past = past.slice(0, -1);
    for (const section of sections) {
      for (const [key, old] of Object.entries(step[section] || {})) {
        if (!state[section]) state[section] = {};
        if (old === null) delete state[section][key]; else state[section][key] = old;
      }
    }
    store.set(data.key + "/undo", JSON.stringify({ run: data.run, past }));
    keep();
    if (at >= 0) go(at);
    say("Undone.");
  }
