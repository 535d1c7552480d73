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
    const note = (n) => data.notes[n], digits = new Map(decided), stays = new Set(decided.filter((d) => d[2]).map(([n]) => n)), inTime = (a, b) => note(a).t - note(b).t;
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
    for (const n of digits.keys()) for (const [i, x] of marksNear(note(n).i)) marks.set(i, x);
    const first = [...lines.keys()][0], number = (i) => data.places[i];
    const counts = (i) => counting(number(i)) && number(i) - number(first) === i - first;
    const indexed = [...lines.keys()].some((i) => manyNumbers.has(number(i)) || lines.size > 1 && !counts(i));
    const where = [...marks.keys()].sort((a, b) => a - b).map((i) => i - first + (lines.has(i) && data.music[i] === marks.get(i) ? "" : ":" + marks.get(i)));
    let text = (where.length ? "    landmarks: " + where.join(" ") + "\n" : "") + "    notes:\n";
    for (const [i, notes] of lines) {
      const plain = plainNumber(number(i));
      let key = "m. " + (plain ? number(i) : JSON.stringify(number(i))) + (indexed ? " (index " + i + ")" : "") + (data.music[i] ? " " + data.music[i] : "");
      if (!plain) key = JSON.stringify(key);
      let line = "";
      notes.forEach((n, k) => {
        const last = notes[k - 1], joined = k > 0 && together(last, n) && beside.has(last) === beside.has(n);
        line += joined ? "+" : (k > 0 ? (beside.has(last) ? "), " : ", ") : "") + (beside.has(n) ? "(" : "") + note(n).o + " ";
        line += note(n).k + (stays.has(n) ? " (stays)" : "") + (digits.get(n) ? "=" + digits.get(n) : "");
      });
      text += "      - " + key + ": " + line + (beside.has(notes[notes.length - 1]) ? ")" : "") + "\n";
    }
    return text;
  }

  // What a verb on a passage writes, or a sentence why it cannot.
  function entries(number, verb, why, fingers, too) {
    const own = ownEntries(number, verb, why, fingers);
    if (own.text && too && (verb === "take" || verb === "amend")) own.text += carriedEntries(number, Object.assign({}, own.came, fingers));
    return own;
  }

  // Digits that a passage asks about and that can be taken.
  const asksDigits = (number) => restOf(number).length > 0 || [...(data.passages[number].doubts || []), ...(data.passages[number].open || [])].some((n) => data.notes[n] && !data.notes[n].g && data.notes[n].w && !handedNow(n));

  // Digits of a passage that are asked beside what is found, though none of them prints (review.Passage.Rest). What another
  // passage has decided by now is not among them.
  const restOf = (number) => (data.passages[number].rest || []).filter((n) => data.notes[n] && !handedNow(n) && !reached[n] && explicit[n] === undefined);
  // Notes whose digit a passage takes: none where its digits are asked in another one (review.Passage.Bare).
  const takesOf = (p) => (p.bare ? [] : p.notes.filter((n) => data.notes[n] && !data.notes[n].g && data.notes[n].w));

  // Chords that may be rolled are, or stay as they are written.
  function rollEntries(p, verb, more, reason) {
    const said = (r) => Object.assign({}, more, verb === "take" ? { reason: r.r } : {}, { why: reason });
    return (p.rolls || []).map((r) => entry(verb, "roll", said(r), r.n.map((n) => [n, ""]), p)).join("");
  }

  function ownEntries(number, verb, why, fingers) {
    const p = data.passages[number], reason = why ? quote(why) : "", goes = holdsFor(number);
    const asks = takesOf(p).filter((n) => p.handover || !handedNow(n));
    const open = asks.filter((n) => !reachedFrom(n, number));
    // Digits that are shown here, having come from a passage decided before, are decided as they are shown: what becomes of that one
    // later changes nothing here.
    const was = state.decided[mark(number)], came = was && was.verb === verb ? Object.assign({}, was.came) : {};
    for (const n of asks) if (reachedFrom(n, number)) came[n] = String(reached[n][1]);
    const refs = (list, withFinger) => list.map((n) => [n, withFinger ? data.notes[n].w : ""]);
    if (p.handover) {
      const taken = p.handed.map(([n, f]) => [n, verb === "take" ? String(f) : ""]);
      if (verb === "take") for (const [n, f] of p.staying || []) taken.push([n, String(f), true]);
      if (verb === "amend") return { not: "Take or stet a redistribution; its digits can be amended once it is taken." };
      if (verb === "query" && !why) return { not: "Say what the query is, then press Enter or Query." };
      return { text: entry(verb, "redistribution", { to: p.to, reason: (verb === "take" || verb === "stet") && p.reason ? quote(p.reason) : "", why: reason }, taken, p) };
    }
    const named = (p.findings || []).filter((f) => data.findings[f].notes);
    // What lint finds once the digits are decided so, and nobody has answered.
    const then = (p.then || []).filter((f) => !standing(f) && !data.findings[f].speaks.some(handedNow) && data.findings[f].speaks.every((n) => !(n in (fingers || {})) || asGiven(n, fingers[n])));
    const unanswered = named.filter((f) => !standing(f) && !byDigits(f)).length + then.filter((f) => !waits(f)).length;
    const stale = named.filter((f) => data.findings[f].entry), live = named.filter((f) => !data.findings[f].entry);
    const ofFindings = (v) => live.map((f) => entry(v, "finding", { rule: quote(data.findings[f].rule), why: reason }, data.findings[f].notes.map((n) => [n, ""]), p)).join("");
    const rolls = (v, more) => rollEntries(p, v, more, reason);
    switch (verb) {
      case "roll":
      case "rolldown":
        if (!(p.rolls || []).length) {
          const n = data.notes[(live[0] && data.findings[live[0]].notes[0]) || p.notes[0]];
          return { not: "No chord of this passage is offered to be rolled. One that is to be rolled all the same is keyed in at the terminal, by decisions enter: " + (n ? n.m + " " + p.hand.toLowerCase() + " " + n.b.split(",")[0] : "12 l 3") + " roll." };
        }
        return { text: rolls("take", { direction: verb === "roll" ? "up" : "down" }) };
      case "take": {
        if (!open.length && named.length && !live.length) return { not: "Nothing is suggested here: what is found is an entry that holds for nothing any more; x takes it out." };
        if (!p.notes.length) return { not: toldOnly(p) ? "Told only: nothing is played there by which it could be let stand." : "No hand is asked here: what is found stands with s and a reason." };
        if (!open.length && p.bare) return { not: "No digit is asked here: what is found stands with s and a reason; the digits around it are judged where they are asked (a leads there)." };
        if (!open.length && p.notes.some((n) => reachedFrom(n, number))) return { not: "The digits here came with passage " + reached[p.notes.find((n) => reachedFrom(n, number))][0] + "; a changes them." + (named.length ? " What is found stands with s and a reason." : "") };
        if (!open.length) return { not: named.length ? "No digit is suggested here: let what is found stand (s), with a reason." : "There is no suggestion to take here." };
        if (p.wants && !why) return { wants: true, not: "To take this as it is makes an error, as said above: write why it stands, then press Enter; or choose another finger." };
        // With a reason the findings of the passage stand, too: the digits are taken knowing of them.
        const lets = [...live.filter((f) => !standing(f) && (why || byDigits(f))), ...(why ? then : [])];
        const more = Object.assign({ why: lets.length ? "" : reason }, goes), others = asks.filter((n) => n in came && came[n] !== data.notes[n].w); // the reason is that of what stands
        const asShown = others.length ? entry("amend", "notes", more, others.map((n) => [n, came[n]]), p) : "", own = asks.filter((n) => !others.includes(n));
        return { text: asShown + (own.length ? entry("take", "notes", more, refs(own, true), p) : ""), came, lets, left: why ? 0 : unanswered };
      }
      case "amend": {
        for (const n of Object.keys(fingers)) delete came[n];
        fingers = Object.assign({}, came, fingers);
        const changed = Object.keys(fingers).map(Number).filter((n) => n in came ? String(fingers[n]) !== String(data.notes[n].w) : !asGiven(n, fingers[n])).sort((a, b) => a - b);
        const rest = asks.filter((n) => !changed.includes(n));
        // What an editor chose goes where what is taken goes, which the passage says: a return is asked in none of its own.
        return { text: entry("amend", "notes", Object.assign({ why: reason }, goes), changed.map((n) => [n, String(fingers[n])]), p) + (rest.length ? entry("take", "notes", goes, refs(rest, true), p) : ""), came, lets: live.filter((f) => !standing(f) && byDigits(f)), left: unanswered };
      }
      case "stet": {
        if (named.length && !live.length && !(p.rolls || []).length) return { not: "What is found here is an entry that holds for nothing any more: x takes it out of the file." };
        const standing = p.notes.filter((n) => data.notes[n].s);
        if (named.length && !why) return { not: "A finding stands only with a reason: write it, then press Enter or Stet." };
        if (!p.notes.length && !named.length) return { not: "Told only: nothing is played there by which it could be let stand." };
        if (!standing.length && !named.length && !(p.rolls || []).length) return { not: "No digit stands here that could be left: take, amend or query." };
        return { text: rolls("stet", {}) + (standing.length && !named.length ? entry("stet", "notes", { why: reason }, refs(standing, false), p) : "") + ofFindings("stet") };
      }
      default:
        if (!why) return { not: "Say what the query is, then press Enter or Query." };
        if (!(p.doubts || []).length && named.length) return { text: ofFindings("query") };
        if (!p.notes.length) return { not: "No note is named here that a query could speak of." };
        return { text: entry("query", "notes", { why: reason }, refs(p.doubts || p.notes.slice(0, 1), false), p) };
    }
  }

  // The fingers that a decision gives, by note, its like places too.
  function fingersOf(number, decision) {
    const out = fingersHere(number, decision);
    if (decision && decision.too) for (const place of carried(number, Object.assign({}, out))) for (const [n, written] of place.notes) if (!(n in out)) out[n] = written;
    return out;
  }

  // The same for the passage itself: what it writes for the hand that has the note, and those it hands over.
  function fingersHere(number, decision) {
    const p = data.passages[number], out = {};
    if (!decision || ["query", "stet", "roll", "rolldown"].includes(decision.verb)) return out;
    if (p.handover) {
      for (const [n, f] of p.handed) out[n] = String(f);
      return out;
    }
    for (const n of takesOf(p)) {
      if (handedNow(n)) continue;
      if (decision.came && n in decision.came) out[n] = decision.came[n]; else if (!reachedFrom(n, number)) out[n] = data.notes[n].w;
    }
    if (decision.verb === "amend") for (const [n, f] of Object.entries(decision.fingers || {})) out[n] = String(f);
    return out;
  }

  // A stet leaves what stands, and a roll decides no finger: digits of the passage that nobody has decided stay open.
  const half = (number, decision) => !!decision && ["stet", "roll", "rolldown"].includes(decision.verb) && !data.passages[number].handover && (restOf(number).length > 0 || [...(data.passages[number].doubts || []), ...(data.passages[number].open || [])].some((n) => data.notes[n] && !data.notes[n].g && data.notes[n].w && !data.notes[n].s && !handedNow(n)));

  // What a redistribution leaves of a passage all of whose questions it has answered is taken with it: else it prints by then, and is asked.
  function leftBy() {
    const out = [];
    for (const card of cards) {
      const number = card.dataset.number, p = data.passages[number], decision = decisionOn(number);
      if (!decision || !decision.with || !(data.passages[decision.with] || {}).handover) continue;
      const stays = new Set((data.passages[decision.with].staying || []).map(([n]) => n));
      const notes = takesOf(p).filter((n) => !handedNow(n) && explicit[n] === undefined && !reached[n] && !stays.has(n));
      if (notes.length) out.push({ entry: entry("take", "notes", holdsFor(number), notes.map((n) => [n, data.notes[n].w]), p), order: state.decided[mark(decision.with)].order, by: state.decided[mark(decision.with)].by });
    }
    return out;
  }

  // The file that the program merges.
  function decisionsFile(initials) {
    // What the file holds already stays in it: nothing of it is lost when this one is put in its place. What was decided here and
    // stands there by now is not written twice.
    claim(initials);
    const theirs = (d) => (d.by || initials) === initials, whole = (d) => parts(d).map((part) => (part === d ? d : Object.assign({ order: d.order }, part)));
    const out = new Set(Object.values(state.findings).filter(theirs).map((d) => d.out).filter(Boolean));
    const text = headBy(initials) || freshHead(), head = headOf(text);
    const stays = Object.fromEntries(Object.values(state.findings).filter((d) => d.out && d.stays && theirs(d)).map((d) => [d.out, fold(d.stays, head)])); // in its place: what was decided later holds
    const held = ((data.decided || {})[initials] || "").split(/^(?=  - )/m).map((one) => (out.has(one) ? stays[one] || "" : one)).join("");
    const before = new Set(held.split(/^(?=  - )/m).map(alike));
    for (const one of out) before.add(alike(one)); // nor is what is taken out put in again
    // Redistributions come last: they replace what was decided on the same notes for the hand that had them.
    // Before them come digits that are to be printed: what is said of their passage says nothing of that.
    const last = (d) => (d.entry.startsWith("  - take: redistribution") ? 2 : d.prints !== undefined ? 1 : 0);
    const all = inOne([...leftBy(), ...Object.values(state.decided), ...Object.entries(state.findings).filter(([f]) => comes(f)).map(([, d]) => d)].flatMap(whole).filter((d) => d.entry && theirs(d))).sort((a, b) => last(a) - last(b) || a.order - b.order);
    const fresh = all.map((d) => oneByOne(d.entry).map((one) => [one, fold(one, head)])).filter((d) => !d.every((both) => both.some((one) => before.has(alike(one))))).flat().map((both) => both[1]);
    return "# Decisions of " + initials + ", made on the page. Add, mend and take out by hand as you like; a run never writes here.\npiece: " + quote(data.piece) + "\nby: " + quote(initials) + "\n" + text + "decisions:\n" + held + fresh.join("");
  }

  let saving = false; // initials are written since something is to be saved
  function save() {
    saving = false;
    const initials = byId("initials").value.trim();
    if (!/^\p{L}{1,5}$/u.test(initials)) { byId("initials").focus(); saving = true; return say("Write your initials first: one to five letters."); }
    const text = decisionsFile(initials);
    const link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([text], { type: "application/yaml" }));
    link.download = data.piece + "." + initials + ".yaml";
    document.body.append(link);
    link.click();
    link.remove();
    savedFor(initials);
    const left = cards.filter((card) => !judged(card)).length, none = !every().length, apart = othersSaid();
    say((none ? "Nothing is decided on this page yet. " : "") + "Saved as " + link.download + ": put it into the folder decisions of the collection" + (heldBy(initials) ? ", in place of the one there: it holds everything that stood in that one when this page was made" : "") + "." + (apart ? " Not in it: " + apart + "; with these initials written, w saves them to their own file." : "") + (left ? " Not judged yet: " + plural(left, "passage") + "." : " Everything on this page is judged."));
  }
