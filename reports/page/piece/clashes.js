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
      const other = card.dataset.number, decision = state.decided[mark(other)];
      if (other === number || !decision) continue;
      const theirs = fingersOf(other, decision);
      for (const [n, finger] of Object.entries(fingers)) {
        if (!(n in theirs)) continue;
        const q = data.passages[other];
        if (p.handover !== undefined || q.handover !== undefined) {
          if (!(p.handover && q.handover && p.to === q.to)) out.push(["To take this goes against passage " + other + ", " + words[decision.verb] + ": " + data.notes[n].p + " (m. " + data.notes[n].m + ") changes hands, and the digit for the hand that had it falls.", other]);
        } else if (theirs[n] !== finger) {
          out.push(["Passage " + other + ", " + words[decision.verb] + ", gives " + theirs[n] + " to " + data.notes[n].p + " (m. " + data.notes[n].m + ", beat " + data.notes[n].b + "); this one gives " + finger + ". The one decided last holds.", other]);
        }
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
        line.textContent = "Against another decision: " + text + " ";
        link.href = "#p" + other;
        link.textContent = "passage " + other;
        line.append(link);
        box.append(line);
      }
      if (lines.length > 4) box.append("And " + (lines.length - 4) + " more notes.");
    }
    return Object.keys(said).length;
  }
