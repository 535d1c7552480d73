  // Decisions that cannot both hold, as the next run would take them: two that finger one note differently (the one decided last
  // holds), and a redistribution of notes that another passage fingers for the hand that had them (the redistribution holds).
  // By passage number, sentences.
  function clashes() {
    const said = {}, at = {};
    const tell = (number, text, other) => { (said[number] = said[number] || []).push([text, other]); };
    const byOrder = cards.map((card) => card.dataset.number).filter((number) => state.decided[mark(number)]);
    byOrder.sort((a, b) => state.decided[mark(a)].order - state.decided[mark(b)].order);
    const name = (n) => data.notes[n].p + " (m. " + data.notes[n].m + ", beat " + data.notes[n].b + ")";
    for (const number of byOrder) {
      const p = data.passages[number], decision = state.decided[mark(number)];
      for (const [n, finger] of Object.entries(fingersOf(number, decision))) {
        for (const [other, otherFinger] of at[n] || []) {
          const q = data.passages[other];
          if (!p.handover && !q.handover) {
            if (finger === otherFinger) continue;
            tell(number, name(n) + " gets " + finger + " here and " + otherFinger + " in passage " + other + ": the " + finger + ", decided last, holds.", other);
            tell(other, name(n) + " gets " + otherFinger + " here and " + finger + " in passage " + number + ": the " + finger + ", decided last, holds.", number);
            continue;
          }
          if (p.handover && q.handover) {
            if (p.to === q.to && finger === otherFinger) continue;
            tell(number, name(n) + " is handed over here and in passage " + other + ": the one decided last holds.", other);
            tell(other, name(n) + " is handed over here and in passage " + number + ": the one decided last holds.", number);
            continue;
          }
          const hands = p.handover ? number : other, stays = p.handover ? other : number;
          tell(hands, name(n) + " changes hands: the digit that passage " + stays + " gives it falls.", stays);
          tell(stays, name(n) + " changes hands in passage " + hands + ": its digit here falls.", hands);
        }
        (at[n] = at[n] || []).push([number, finger]);
      }
    }
    return said;
  }

  // What a passage would do to others that are decided already, before it is decided itself.
  function wouldClash(number) {
    const out = [], p = data.passages[number];
    if (state.decided[mark(number)]) return out;
    const fingers = fingersOf(number, { verb: preview[number] ? "amend" : "take", fingers: preview[number] });
    for (const card of cards) {
      const other = card.dataset.number, decision = state.decided[mark(other)], q = data.passages[other];
      if (other === number) continue;
      const theirs = fingersOf(other, decision || { verb: "take" });
      const shared = Object.keys(fingers).filter((n) => n in theirs);
      if (!shared.length) continue;
      const first = data.notes[shared[0]].p + " (m. " + data.notes[shared[0]].m + ")", rest = shared.length > 1 ? " and " + (shared.length - 1) + " more" : "";
      const change = first + rest + (shared.length > 1 ? " change hands" : " changes hands");
      if (!decision) {
        // Both are offered, and only one of them can hold: it is said before either is decided.
        if (p.handover && !q.handover) out.push(["Passage " + other + ", open, fingers " + first + rest + " for the hand that has " + (shared.length > 1 ? "them" : "it") + " now: those digits are asked only if this one is declined (s).", other]);
        if (!p.handover && q.handover) out.push(["Passage " + other + ", open, offers " + first + rest + " to the other hand: judge it first. Digits are asked here only for what stays.", other]);
        continue;
      }
      if (p.handover !== undefined || q.handover !== undefined) {
        if (!(p.handover && q.handover && p.to === q.to)) out.push(["To take this goes against passage " + other + ", " + words[decision.verb] + ": " + change + ", and what was given for the hand that had " + (shared.length > 1 ? "them" : "it") + " falls.", other]);
        continue;
      }
      for (const n of shared) {
        if (theirs[n] !== fingers[n]) out.push(["Passage " + other + ", " + words[decision.verb] + ", gives " + theirs[n] + " to " + data.notes[n].p + " (m. " + data.notes[n].m + ", beat " + data.notes[n].b + "); this one gives " + fingers[n] + ". The one decided last holds.", other]);
      }
    }
    return out;
  }

  function showClashes() {
    const said = clashes();
    for (const card of cards) {
      const number = card.dataset.number, box = card.querySelector(".clash");
      let lines = said[number] || [];
      if (!lines.length && card.classList.contains("here")) lines = wouldClash(number);
      card.classList.toggle("clashes", !!said[number]);
      if (box.hidden && !lines.length) continue;
      box.hidden = !lines.length;
      box.replaceChildren();
      for (const [text, other] of lines.slice(0, 4)) {
        const line = document.createElement("span"), link = document.createElement("a");
        line.textContent = (said[number] ? "Against another decision: " : "") + text + " ";
        link.href = "#p" + other;
        link.textContent = "passage " + other;
        line.append(link);
        box.append(line);
      }
      if (lines.length > 4) box.append("And " + (lines.length - 4) + " more.");
    }
    return Object.keys(said).length;
  }
