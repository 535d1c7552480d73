  // What this browser keeps belongs to what was asked when it was decided. Once the files of decisions hold it, or the file for
  // which it was saved has changed since, a newer run has answered it: what that run asks again is open.
  const alike = (text) => text.replace(/"/g, "").replace(/\*[0-9a-f]{3}(?=:)/g, "*").split("\n").map((line) => line.replace(/[{}]/g, "").split(", ").map((f) => f.replace(/^[ -]+/, "")).sort().join(", ")).sort().join("\n");
  const oneByOne = (text) => text.split(/^(?=  - )/m).filter((one) => one.trim());
  const heldBy = (initials) => (data.decided || {})[initials] || "";
  const headBy = (initials) => (data.heads || {})[initials] || "";
  const everything = new Set(Object.values(data.decided || {}).flatMap(oneByOne).map(alike)), heads = Object.values(data.heads || {}).map(headOf);
  // Whether a file holds an entry, as it was written here or as its head has it.
  const inFiles = (one) => everything.has(alike(one)) || heads.some((head) => everything.has(alike(fold(one, head))));

  // Saved as it is now, and not changed since.
  const partSaved = (part) => !!part.saved && part.savedAs === sum(part.entry || part.out || "");
  const wasSaved = (decision) => parts(decision).every(partSaved);

  // Says of one decision that a run has read it, or what was made of it by hand.
  function answered(decision) {
    if (decision.run === data.run) return false;
    return parts(decision).every(partAnswered);
  }
  function partAnswered(decision) {
    if (decision.byDigits) return true; // the digits have an entry of their own
    if (partSaved(decision) && (state.files || {})[decision.saved] !== undefined && state.files[decision.saved] !== sum(heldBy(decision.saved))) return true;
    if (decision.out) return !Object.values(data.decided || {}).some((text) => text.includes(decision.out));
    return !!decision.entry && oneByOne(decision.entry).every(inFiles);
  }

  // A short sum of a text (FNV-1a, 32 bits): enough to see that a file has changed.
  function sum(text) {
    let h = 0x811c9dc5;
    for (let i = 0; i < text.length; i++) h = Math.imul(h ^ text.charCodeAt(i), 0x01000193) >>> 0;
    return h;
  }

  let askedAgain = 0; // of what this page asks
  function dropAnswered() {
    const marks = new Set(Object.values(data.passages).map((p) => p.mark));
    for (const [list, here] of [[state.decided, (k) => marks.has(k)], [state.findings, (k) => !!data.findings[k]]]) {
      for (const [key, decision] of Object.entries(list)) {
        if (!answered(decision)) continue;
        if (here(key)) askedAgain++;
        delete list[key];
      }
    }
  }
  dropAnswered();

  // What is decided from now on is decided on this run's questions.
  function stamp() {
    claim(myInitials());
    for (const decision of [...Object.values(state.decided), ...Object.values(state.findings)]) if (!decision.run) decision.run = data.run;
  }

  // Everything decided here is in the file that was saved for these initials.
  function savedFor(initials) {
    claim(initials);
    for (const part of every().flatMap(parts)) if (part.by === initials) Object.assign(part, { saved: initials, savedAs: sum(part.entry || part.out || "") });
    state.files = Object.assign({}, state.files, { [initials]: sum(heldBy(initials)) });
    keep();
  }

  // Whether all that makes a passage judged has been saved.
  function isSaved(card) {
    const number = card.dataset.number, decision = decisionOn(number);
    if (decision.ofFindings) return data.passages[number].findings.every((f) => wasSaved(state.findings[f]));
    return wasSaved(decision.with ? state.decided[mark(decision.with)] : decision);
  }
