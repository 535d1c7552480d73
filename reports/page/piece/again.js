  // Where the music of a passage comes again what is decided of it holds too, but for the places that the editor leaves out: each is
  // named with the digits that it gets, before it is kept and after (pipeline/4_stages/10_bind/holds.go).
  const againOf = (number) => data.passages[number].also || [];
  const againBox = (number, k) => cardOf[number] && cardOf[number].querySelector('.again[data-k="' + k + '"]');
  const leftOut = (number) => againOf(number).filter((place, k) => { const box = againBox(number, k); return box && !box.checked; });

  const notIn = (number) => { const out = againOf(number).flatMap((place, k) => (leftOut(number).includes(place) ? [k] : [])); return out.length ? out : undefined; };

  // What an entry of decisions says of it.
  function holdsFor(number) {
    const places = againOf(number), out = leftOut(number), numbers = new Set();
    if (!data.passages[number].returns || places.length && out.length === places.length) return {};
    for (const place of out) for (let m = place.f; m <= place.l; m++) numbers.add(data.places[m]);
    return { returns: "true", except: numbers.size ? "[" + [...numbers].map((n) => JSON.stringify(n)).join(", ") + "]" : "" };
  }

  // The digit that a note has here, as it was chosen or is suggested; "" where it has none.
  const digitsOf = (fingers) => (n) => String(fingers[n] || (data.notes[n] || {}).w || "");
  // Why a note of a place does not get the digit that is written here: the words, "" where it does.
  function againKeepsOut(place, { f: from, n, p: pitch }, written, digit) {
    const colour = onBlack(pitch) !== onBlack(data.notes[from].p) && strikeAndChanges(written).some((finger) => finger === 1 || finger === 5);
    if (colour) return written + " on a key of the other colour";
    const text = (place.g || []).find(([to, x, f]) => to === n && digit(x) && strikeAndChanges(digit(x))[0] !== f);
    return text ? "the text has " + text[2] + " beside it" : "";
  }
  // The notes to which what is decided of a passage goes where it comes again, with the digit that each gets and whether that is another
  // than stands drawn there.
  function againReaches(number, fingers) {
    const digit = digitsOf(fingers), out = [];
    for (const place of againHeld(number)) {
      for (const one of place.n || []) {
        const written = digit(one.f);
        if (written && data.notes[one.f] && !againKeepsOut(place, one, written, digit)) out.push([one.n, written, written !== one.w]);
      }
      for (const [from, n] of place.s || []) if (digit(from)) out.push([n, digit(from), digit(from) !== String((data.notes[from] || {}).w)]);
    }
    return out;
  }
  // The places where what is decided of a passage holds.
  const againHeld = (number) => (data.passages[number].returns ? againOf(number).filter((place) => !leftOut(number).includes(place)) : []);

  // The digits that a place gets as they stand here, and those that stay out: the thumb or fifth finger on a key of the other colour,
  // or against a digit of the text beside it there.
  function againGets(place, fingers) {
    const digit = digitsOf(fingers), gets = [], not = [];
    for (const one of place.n || []) {
      const { f: from, p: pitch, w: now } = one, written = digit(from), here = data.notes[from];
      if (!written || !here) continue;
      const why = againKeepsOut(place, one, written, digit);
      if (why) not.push(pitch + " (" + why + ")");
      else if (written !== now) gets.push(pitch + " " + now + " \u2192 " + written);
      else if (place.how) gets.push(pitch + " " + written);
    }
    const some = (list) => list.slice(0, 6).join(", ") + (list.length > 6 ? " and " + (list.length - 6) + " more" : "");
    return [gets.length && some(gets), not.length && "not " + some(not)].filter(Boolean).join("; ");
  }
  const againPlace = (place) => (place.f === place.l ? "m. " + data.places[place.f] : "mm. " + data.places[place.f] + "\u2013" + data.places[place.l]);

  // Where it went, for the line below the page; "" where nowhere.
  function alsoThere(number, fingers) {
    const out = leftOut(number), places = againHeld(number);
    const words = places.map((place) => {
      const how = [place.how, againGets(place, fingers || {})].filter(Boolean).join(": ");
      return againPlace(place) + (how ? " (" + how + ")" : "");
    });
    return (words.length ? "; in " + words.slice(0, 6).join(", ") + (words.length > 6 ? " and " + (words.length - 6) + " places more" : "") + " too" : "") + (out.length ? "; not in " + out.map(againPlace).join(", ") : "");
  }

  // The same beside the places of the passage in view, as its digits stand now.
  function sayAgain(card) {
    for (const box of card.querySelectorAll(".again")) {
      const gets = againGets(againOf(card.dataset.number)[box.dataset.k] || {}, shownFingers(card) || {});
      box.parentElement.querySelector(".gets").textContent = gets ? ": " + gets : "";
    }
  }

  for (const card of cards) {
    const number = card.dataset.number, boxes = [...card.querySelectorAll(".again")], decision = state.decided[mark(number)];
    for (const box of boxes) {
      if (decision && (decision.not || []).includes(Number(box.dataset.k))) box.checked = false;
      box.addEventListener("change", () => {
        const now = state.decided[mark(number)], place = againPlace(againOf(number)[box.dataset.k]);
        if (now && !now.held && (now.verb === "take" || now.verb === "amend")) redo(card, now);
        say(box.checked ? "What is decided here is decided in " + place + " too." : "Left out: " + place + "; its digits are asked by themselves once this is saved and run.");
      });
    }
  }
