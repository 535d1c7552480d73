  // One figure, one decision: whether a decision goes to the like places of a passage too, and what it would bring there.
  // By note, the passage that decides or queries it itself: what goes to like places leaves it alone.
  let explicit = {};
  const goesToo = (card) => { const box = card.querySelector(".too"); return !!box && box.checked; };
  const strikeAndChanges = (written) => String(written).split("-").map(Number); // 2-3: a change on the held key
  // The key of a pitch, from the lowest.
  function keyOf(pitch) {
    const [, letter, signs, octave] = /^([A-G])([#bx]*)(-?\d+)$/.exec(pitch);
    return 12 * Number(octave) + { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 }[letter] + [...signs].reduce((sum, sign) => sum + { "#": 1, b: -1, x: 2 }[sign], 0);
  }
  const onBlack = (pitch) => [1, 3, 6, 8, 10].includes((keyOf(pitch) + 24) % 12);

  // The places to which the digits of a passage can go, with the digits that each note there would get. What stands in the text
  // there, or is decided, stays, and is named where it is another; where other digits were chosen here, a thumb or fifth finger that would come on a black key
  // keeps its place out, and so does a digit of the text that is another: the figure as it was chosen would not stand there. Says
  // why in refused, by measure, where that is asked for.
  function carried(number, fingers, refused = {}, settled = {}) {
    const out = [];
    for (const figure of data.passages[number].figures || []) {
      for (const place of figure.places) {
        if (place.not || !place.open) continue;
        const there = [], stays = [];
        let moved = 0, fits = true;
        figure.n.forEach((from, k) => {
          const to = place.n[k], here = data.notes[from], note = data.notes[to];
          if (!here) return;
          // What was chosen here is one finger; one that is suggested anyway comes with its change on the held key.
          const chosenHere = fingers[from] && !asGiven(from, fingers[from]);
          let written = chosenHere ? fingers[from] : here.w;
          if (here.l && note && !note.l) written = chosenHere ? String(written).split("-")[0] : String(here.f); // the fingers of a sign belong to a sign
          if (!written || !note) return;
          const kept = () => { const now = nowDigit[to] || note.w; if (now && String(now) !== String(nowDigit[from] && !chosenHere ? nowDigit[from] : written)) stays.push(note.p + " " + now); };
          // What came here, or there, from a passage decided before stays, unless another finger was chosen here.
          if (!chosenHere && (reachedFrom(from, number) || reached[to] && reached[to][0] !== String(number))) return kept();
          if (explicit[to] !== undefined && explicit[to] !== String(number)) return kept();
          if (note.s || note.g) {
            kept();
            // A change of finger chosen here would be lost there.
            if (strikeAndChanges(written).length > 1 && note.w && note.w !== String(written)) fits = false;
            if (chosenHere && note.x && strikeAndChanges(written)[0] !== note.f) {
              fits = false;
              refused[place.m] = "the text has " + note.x + " on " + note.p + " there";
            }
            return;
          }
          const blackOnlyThere = onBlack(note.p) && !onBlack(here.p);
          const changed = String(written) !== String(note.w);
          if (changed && blackOnlyThere && strikeAndChanges(written).some((finger) => finger === 1 || finger === 5)) fits = false;
          if (changed) moved++;
          there.push([to, String(written), changed]);
        });
        if (!there.length) settled[place.m] = stays; // nothing is left to decide there
        if (fits && there.length) out.push({ measure: place.m, of: figure.m, place: place.place, notes: there, moved, stays });
      }
    }
    return out;
  }

  // What goes to the like places, as decisions.
  function carriedEntries(number, fingers) {
    let text = "";
    for (const place of carried(number, fingers)) {
      const why = quote("as in m. " + data.places[place.of]);
      // What is judged for its returns where it comes to holds for them from here, too.
      const back = (n) => !!(data.passages[data.at[n]] || {}).returns;
      for (const [verb, moved, returns] of [["amend", true, true], ["amend", true, false], ["take", false, true], ["take", false, false]]) {
        const notes = place.notes.filter((n) => n[2] === moved && back(n[0]) === returns);
        if (notes.length) text += entry(verb, "notes", { why, returns: returns ? "true" : "" }, notes.map(([n, written]) => [n, written]), { notes: place.notes.map(([n]) => n) });
      }
    }
    return text;
  }

  // By note, the passage whose decision goes to it as a like place.
  let reached = {};
  let cameAgain = {}; // by note, the digit that it gets since its passage comes again and is decided, and whether that is another than is drawn
  let nowDigit = {}; // by note, the digit that it has by what is decided here
  // A digit that is decided here: its marks of being open or in doubt go.
  const decidedHere = (n) => { const number = explicit[n]; return number === undefined ? !!reached[n] || !!cameAgain[n] || !!handedNow(n) : ["take", "amend"].includes((state.decided[mark(number)] || {}).verb); };
  function markAnswered(drawing) {
    for (const sign of drawing.querySelectorAll(".fing.asked")) sign.classList.toggle("answered", decidedHere(Number((sign.getAttribute("data-startid") || "").slice(2))));
  }
  // A digit that came from a passage decided before: to take the passage of the note leaves it.
  const reachedFrom = (n, number) => !!reached[n] && reached[n][0] !== String(number);
  function reach() {
    reached = {};
    cameAgain = {};
    explicit = {};
    nowDigit = {};
    const inOrder = cards.map((card) => card.dataset.number).filter((number) => state.decided[mark(number)]);
    inOrder.sort((a, b) => state.decided[mark(a)].order - state.decided[mark(b)].order);
    for (const number of inOrder) {
      const p = data.passages[number], decision = state.decided[mark(number)], fingers = fingersHere(number, decision);
      for (const n of Object.keys(fingers)) { explicit[n] = number; delete reached[n]; nowDigit[n] = String(fingers[n]); }
      if (decision.verb === "query") for (const n of p.doubts || p.notes.slice(0, 1)) explicit[n] = number;
      if (decision.verb === "take" || decision.verb === "amend") {
        for (const [n, written, other] of againReaches(number, fingers)) {
          cameAgain[n] = [written, other];
          if (other) nowDigit[n] = written;
        }
      }
      if (!decision.too) continue;
      for (const place of carried(number, fingers)) for (const [n, written] of place.notes) { reached[n] = [number, written]; nowDigit[n] = String(written); }
    }
  }

  for (const card of cards) {
    const number = card.dataset.number, box = card.querySelector(".too");
    if (!box) continue;
    const decision = state.decided[mark(number)];
    // Where digits would change, the editor says so first.
    box.checked = decision ? !!decision.too : carried(number, {}).every((place) => !place.moved);
    box.addEventListener("change", () => {
      const now = state.decided[mark(number)];
      if (now && !now.held) redo(card, now);
      if (!now) return say(box.checked ? "Nothing is decided yet: what is decided here will go to its like places too." : "Nothing is decided yet: what is decided here will hold here only.");
      say(box.checked ? "Decided for its like places too." : "Decided here only: its like places are asked by themselves.");
    });
    card.querySelector(".like-shown").addEventListener("toggle", () => showLike(card));
  }

  // Writes a decision anew when what it holds for has changed.
  function redo(card, decision) {
    const number = card.dataset.number;
    const written = entries(number, decision.verb, decision.why || "", decision.fingers, goesToo(card));
    if (written.text) change(() => { Object.assign(state.decided[mark(number)], { entry: (decision.stays || "") + written.text + ownQuery(decision), too: goesToo(card), not: notIn(number) }); }, "Kept.");
  }

  // Why nothing goes to a like place: all that prints there is decided, or its digits cannot go there as they are now.
  function whyNot(number, measure, refused) {
    if (refused[measure]) return refused[measure] + ": these digits cannot go there";
    const places = (data.passages[number].figures || []).flatMap((f) => f.places.filter((p) => p.m === measure));
    const open = places.some((p) => p.open && p.n.some((n) => data.notes[n] && !data.notes[n].s && !data.notes[n].g && !decidedHere(n)));
    return open ? "these digits cannot go there" : "decided already";
  }

  // What keeps another digit at a like place, and what is said where no digit changes there.
  const staysThere = (stays) => stays.slice(0, 4).join(", ") + (stays.length > 4 ? " and more" : "") + (stays.length === 1 ? " stays" : " stay") + " there";
  const sameThere = (stays) => (stays.length ? staysThere(stays) + "; the others are the same" : "the same digits there");

  // What would come to the like places of a passage, as its digits stand now.
  function sayLike(card) {
    const list = [...card.querySelectorAll(".like-places li")];
    if (!list.length) return;
    const moved = {}, stays = {}, refused = {}, settled = {};
    for (const place of carried(card.dataset.number, shownFingers(card) || {}, refused, settled)) stays[place.measure] = place.stays, moved[place.measure] = place.notes.filter((n) => n[2]).map(([n, written]) => data.notes[n].p + " " + data.notes[n].w + " → " + written);
    for (const line of list) {
      const which = moved[line.dataset.m];
      line.lastElementChild.textContent = !which ? whyNot(card.dataset.number, Number(line.dataset.m), refused) + ((settled[line.dataset.m] || []).length ? ": " + staysThere(settled[line.dataset.m]) : "") : which.length ? plural(which.length, "digit") + " would change there: " + which.slice(0, 4).join(", ") + (which.length > 4 ? " and more" : "") : sameThere(stays[line.dataset.m]);
      if (which && which.length && stays[line.dataset.m].length) line.lastElementChild.textContent += "; " + staysThere(stays[line.dataset.m]);
    }
  }

  // The notation of the like places, with the digits that they would get.
  function showLike(card) {
    const shown = card.querySelector(".like-shown");
    if (!shown) return;
    const box = card.querySelector(".like-cuts");
    box.replaceChildren();
    if (!shown.open) return;
    const number = card.dataset.number;
    for (const place of carried(number, shownFingers(card) || {})) {
      const there = {}, caption = document.createElement("p");
      for (const [n, written] of place.notes) there[n] = written;
      caption.textContent = place.place + ": " + (place.moved ? plural(place.moved, "digit") + " would change" + (place.stays.length ? "; " + staysThere(place.stays) : "") : sameThere(place.stays)) + ".";
      box.append(caption, cut(place.measure, place.measure, there, data.passages[number].hand));
    }
    fitted(box);
  }
