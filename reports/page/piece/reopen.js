  // Taking back. A digit that the files hold as decided is reopened: an entry says so, and the next run asks it again. A
  // redistribution is taken out whole. What is decided on this page is taken back here.
  let picked = -1; // the note of a digit that was clicked and that no passage asks about
  const reopenKey = (n) => "reopened " + n;
  const reopened = () => Object.keys(state.findings).filter((key) => key.startsWith("reopened ")).map((key) => Number(key.slice("reopened ".length)));
  const heldDigit = (n) => (data.held || {})[n];

  let urged = { n: -1, finger: 0 }; // a digit that a key would set beside one of the text, pressed once
  let signRow = { n: -1, row: [] }; // the fingers of a sign that are given one after the other
  function pick(n) {
    picked = -1;
    urged = { n: -1, finger: 0 };
    signRow = { n: -1, row: [] };
    for (const box of document.querySelectorAll(".passage.here .choices")) box.hidden = true; // keys are for this digit now
    if (!data.says[n]) return say("Nothing is asked about this note.");
    picked = n;
    const kept = state.findings[reopenKey(n)];
    if (kept) return say(data.says[n] + ". " + kept.why + "; u or x takes that back.");
    say(data.says[n] + ". " + (heldDigit(n) ? "x reopens it: it is asked again" + (heldDigit(n).whole ? ", with the redistribution that gave it" : "") + ". " : "") + "1 to 5 gives another digit." + (((data.alike || {})[n] || []).length ? " " + plural(data.alike[n].length, "like place") + (data.alike[n].length > 1 ? " have" : " has") + " it, too." : ""));
  }

  // Whose file the entry stands in that decided a digit, where it is not that of these initials.
  function theirs(n) {
    const held = heldDigit(n), mine = byId("initials").value.trim();
    return held && held.by !== mine ? held.by : "";
  }

  function reopen(n) {
    const held = heldDigit(n), key = reopenKey(n), whole = held && held.whole;
    if (state.findings[key]) return change(() => { delete state.findings[key]; }, "It is as it was.");
    if (!held) return say("No entry in the files decides this digit: 1 to 5 gives another.");
    if (theirs(n)) return say("The entry stands in the file of " + theirs(n) + ": write these initials to reopen it.");
    const out = whole ? oneByOne(heldBy(held.by))[held.at] : "";
    change(() => {
      state.findings[key] = { why: "Reopened", out, entry: whole ? "" : entry("reopen", "notes", {}, [[n, ""]], around(n)), order: order() };
    }, whole ? "The redistribution is taken out when you save; its notes are asked again after the next run." : "Reopened: it is asked again after you save and run.");
  }

  // Another digit for a note that no passage asks about.
  function redigit(n, finger) {
    const note = data.notes[n];
    if (!note) return say("No digit can be given here.");
    if (theirs(n)) return say("It is decided by " + theirs(n) + ": another digit by other initials would bind neither. Write these initials, or query it.");
    // No single key gives a note of the text another finger: fingers stray.
    const gives = besideText(n, finger) ? "sets " + besideText(n, finger) + " beside it" : "gives the note " + finger + " (the house style prints no digit beside the composer's)";
    if (inText(n) && !state.findings[reopenKey(n)] && (urged.n !== n || urged.finger !== finger)) {
      urged = { n, finger };
      return say("On " + note.p + " (m. " + note.m + ", beat " + note.b + ") the text has " + inText(n) + ", which stays: " + finger + " once more " + gives + ".");
    }
    // The fingers of a sign are given one after the other, in the order of playing; the first by itself is that of the note.
    const row = note.l && signRow.n === n && signRow.row.length < Math.max(...note.l) ? [...signRow.row, finger] : [finger];
    signRow = { n, row };
    if (note.l && row.length > 1 && !note.l.includes(row.length)) return say("The sign of " + note.p + ": " + row.join(" ") + " …; it takes " + note.l.join(" or ") + " fingers in the order of playing.");
    if (row.length > 1) finger = row.join("-");
    change(() => {
      state.findings[reopenKey(n)] = { why: "Now " + finger, digit: String(finger), entry: entry("amend", "notes", {}, [[n, String(finger)]], around(n)), order: order() };
    }, finger + " on " + note.p + " (m. " + note.m + ", beat " + note.b + ") when you save." + (inText(n) ? " The " + inText(n) + " of the text stays; yours " + (note.xa ? "is not printed, by the house style." : "is printed beside it.") : "") + (note.l && row.length === 1 ? " It has a sign: the fingers that follow, in the order of playing, are those of the sign (" + note.l.join(" or ") + " in all)." : ""));
    say(byId("said").textContent + sayAlike(n));
  }

  // Where its figure comes again a decided digit is decided as here: what is changed here is offered there. Another editor's digit
  // stays, and so does one that would bring thumb or fifth finger to a black key.
  function alikeOf(n, finger) {
    const edge = finger === 1 || finger === 5;
    return ((data.alike || {})[n] || []).filter((o) => !theirs(o) && !(edge && onBlack(data.notes[o].p) && !onBlack(data.notes[n].p)));
  }
  function sayAlike(n) {
    const kept = state.findings[reopenKey(n)], all = kept && kept.digit ? alikeOf(n, Number(kept.digit)) : [];
    const left = all.filter((o) => (state.findings[reopenKey(o)] || {}).digit !== kept.digit), places = [...new Set((left.length ? left : all).map((o) => data.notes[o].m))];
    if (!all.length) return "";
    const where = (places.length > 1 ? "mm. " : "m. ") + places.join(", ");
    return left.length ? " The same figure has the digit as it was at " + where + ": r changes it there too." : " The same at " + where + ".";
  }
  // The key r behind a digit that was given anew: its like places too, or here only.
  function alikeToo(n) {
    const kept = state.findings[reopenKey(n)], all = kept && kept.digit ? alikeOf(n, Number(kept.digit)) : [];
    if (!all.length) return say(kept && kept.digit ? "No like place has this digit as it was." : "Give another digit first (1 to 5): then r changes it in the like places too.");
    const left = all.filter((o) => (state.findings[reopenKey(o)] || {}).digit !== kept.digit);
    change(() => {
      for (const o of all) {
        if (!left.length) delete state.findings[reopenKey(o)];
        else state.findings[reopenKey(o)] = { why: "Now " + kept.digit, digit: kept.digit, entry: entry("amend", "notes", {}, [[o, kept.digit]], around(o)), order: order() };
      }
    }, left.length ? kept.digit + " in " + plural(left.length, "like place") + " too." : "Here only: the like places keep their digit.");
    if (left.length) say(byId("said").textContent + sayAlike(n));
  }

  // Digits given anew that stand near each other are one decision in the file.
  function inOne(all) {
    const anew = Object.entries(state.findings).filter(([key, d]) => key.startsWith("reopened ") && d.digit).map(([key, d]) => [Number(key.slice(9)), d]).sort((a, b) => data.notes[a[0]].t - data.notes[b[0]].t);
    const groups = [];
    for (const one of anew) {
      const last = groups[groups.length - 1];
      if (last && data.notes[one[0]].i - data.notes[last[last.length - 1][0]].i <= 1) last.push(one); else groups.push([one]);
    }
    const out = all.filter((d) => !anew.some((one) => one[1] === d));
    for (const group of groups) {
      if (group.length === 1) { out.push(group[0][1]); continue; }
      const notes = group.map(([n]) => n), near = notes.map(around);
      const text = entry("amend", "notes", {}, group.map(([n, d]) => [n, d.digit]), { notes: near.flatMap((p) => p.notes), around: near.flatMap((p) => p.around || []) });
      out.push(Object.assign({}, group[0][1], { entry: text, order: Math.max(...group.map((one) => one[1].order)) }));
    }
    return out;
  }

  // The key x: of a digit that was clicked, of the passage, or of an entry that holds for nothing any more.
  function takeBack(card) {
    if (picked >= 0) return reopen(picked);
    const box = card.querySelector(".choices");
    if (preview[card.dataset.number] || box && !box.hidden) return giveUp(card); // what is being chosen
    const number = card.dataset.number, found = foundIn(number).filter((f) => data.findings[f].notes);
    const stale = found.filter((f) => data.findings[f].entry && !standing(f));
    if (stale.length) { letAll(stale, "", null); return judged(card) ? next(1, true) : undefined; }
    const lost = found.filter((f) => data.findings[f].drop);
    if (!state.decided[mark(number)] && !found.some(standing) && lost.length) return dropLost(card, lost);
    if (!state.decided[mark(number)] && !found.some(standing)) return say("Nothing is decided here that could be taken back. A decided digit is clicked first, in the score or in the row of digits.");
    delete chosen[number];
    // The words of what is taken back are no reason of what comes next.
    const was = state.decided[mark(number)] || {}, field = card.querySelector(".reason"), said = [was.why, was.asks, ...found.map((f) => standing(f) && standing(f).why)];
    if (field && said.includes(field.value.trim())) field.value = "";
    change(() => { delete state.decided[mark(number)]; for (const f of found) letGo(f); }, "Passage " + number + " is open again.");
  }

  // What an entry decided for notes that are gone is taken out of it, at all places at once; what holds of it stays in its place.
  function dropLost(card, lost) {
    const theirs = lost.map((f) => othersEntry(f, data.findings[f].drop)).find(Boolean);
    if (theirs) return say("The entry stands in the file of " + theirs + ": write these initials to take it out.");
    const texts = [...new Set(lost.map((f) => data.findings[f].drop))], stay = lost.some((f) => data.findings[f].stays);
    const all = Object.keys(data.findings).filter((f) => texts.includes(data.findings[f].drop));
    change(() => {
      for (const f of all) if (!standing(f)) state.findings[f] = { why: "taken out", out: data.findings[f].drop, stays: data.findings[f].stays || "", entry: "", order: order() };
    }, "What was decided for " + (all.length > 1 ? "the notes that are" : "the note that is") + " gone is taken out when you save" + (stay ? "; the other digits of the entry stay." : "."));
    if (judged(card)) return next(1, true);
    say(byId("said").textContent + (asksDigits(card.dataset.number) ? " What stands there now is asked." : ""));
  }

  // A finding is open again; with it all that the same entry has lost.
  function letGo(fingerprint) {
    const out = (standing(fingerprint) || {}).out;
    delete state.findings[fingerprint];
    for (const f of Object.keys(data.findings)) if (out && data.findings[f].drop === out && standing(f) && standing(f).out === out) delete state.findings[f];
  }
