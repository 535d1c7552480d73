  document.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey || byId("help").open || byId("bulk").open) return;
    // What is typed in a field is no command; Enter ends the field, whether keys are on or not.
    if (event.target.matches("input:not([type=checkbox]), select, textarea")) {
      if (event.key === "Escape") { asked = null; nobodyAsked(); event.target.blur(); }
      if (event.key === "Enter" && !event.isComposing && event.target.matches("input")) { event.preventDefault(); fieldGiven(event.target); }
      return;
    }
    if (!byId("keys").checked) return;
    const card = here >= 0 ? cards[here] : null;
    const box = card && card.querySelector(".choices");
    if (event.key === "Escape" && box && !box.hidden) { event.preventDefault(); return giveUp(card); }
    if (picked >= 0 && /^[1-5]$/.test(event.key)) { event.preventDefault(); return redigit(picked, Number(event.key)); }
    if (box && !box.hidden && /^[1-5]$/.test(event.key)) {
      event.preventDefault();
      const key = card.querySelector('.finger[data-note="' + box.dataset.note + '"]');
      return current(() => { if (touch(card, key, Number(event.key)) !== false) goOn(card, key); });
    }
    if (event.target.matches(".finger") && ["ArrowDown", "ArrowUp", "Home", "End"].includes(event.key)) {
      const all = [...card.querySelectorAll(".finger:not(:disabled)")], at = all.indexOf(event.target), doubt = (k) => k.classList.contains("doubt");
      const to = { Home: all[0], End: all[all.length - 1], ArrowDown: all.slice(at + 1).find(doubt), ArrowUp: all.slice(0, at).reverse().find(doubt) }[event.key];
      event.preventDefault();
      return to ? standOn(card, to) : say("No digit in doubt is there.");
    }
    // Choices that stand open are gone on with from their note, wherever the hand was meanwhile.
    if (box && !box.hidden && !event.target.matches(".finger") && (event.key === "ArrowRight" || event.key === "ArrowLeft")) {
      const keys = [...card.querySelectorAll(".finger:not(:disabled)")], at = keys.findIndex((k) => k.dataset.note === box.dataset.note);
      event.preventDefault();
      return standOn(card, keys[at + (event.key === "ArrowRight" ? 1 : -1)] || keys[at]);
    }
    if (event.target.matches(".finger") && (event.key === "ArrowRight" || event.key === "ArrowLeft")) {
      const keys = [...card.querySelectorAll(".finger:not(:disabled)")];
      const to = keys[keys.indexOf(event.target) + (event.key === "ArrowRight" ? 1 : -1)];
      if (to) { event.preventDefault(); standOn(card, to); }
      return;
    }
    const verb = (name) => () => current((seenCard) => decide(seenCard, name));
    // What only asks for words decides nothing yet: the field comes into view with its passage, and what is typed goes there.
    const asking = (act) => () => { if (here >= 0 && !seen(cards[here])) go(here); current(act); };
    const query = () => { const unsaid = here >= 0 && !cards[here].querySelector(".reason").value.trim(); return unsaid ? asking((card) => decide(card, "query"))() : verb("query")(); };
    const act = {
      n: () => next(1), p: () => next(-1), N: nextOpen, t: verb("take"), s: asking(stetAsked), a: verb("amend"), q: query, e: asking(eachHere), E: eachEverywhere, l: verb("roll"), L: verb("rolldown"), f: takeFirm, u: undo,
      y: asking((seenCard) => { ask(seenCard.querySelector(".reason"), () => { worded = seenCard; say("Nothing is decided yet: press the verb that the reason is for."); }); say("The reason, then Enter, then the verb: t takes the digits with it, and lets stand what is found there."); }),
      m: () => current(alikeInside), k: () => current(printHere), g: nextGroup, T: takeShown, S: declineShown, P: openPrint, o: openAll, v: () => view(inScore() ? "passages" : "score"), w: save,
      r: () => (picked >= 0 ? alikeToo(picked) : current((seenCard) => { const too = seenCard.querySelector(".too, .alike-offers"); if (too) too.click(); else say("This passage has no like place."); })),
      x: () => (picked >= 0 ? reopen(picked) : current(takeBack)), "?": showHelp,
    }[event.key];
    if (!act) return;
    event.preventDefault();
    if (cards.length || "uvwxgPr?".includes(event.key)) act(); else current(act);
  });

  // What can be printed opens by key; Enter prints what is stood on.
  function openPrint() {
    byId("printing").open = true;
    byId(byId("print-proof").disabled ? "print-summary" : "print-proof").focus();
    say("Tab goes from one to the next, Enter prints.");
  }

  // The next passage that is open, from the beginning where none is behind this one.
  function nextOpen() {
    const open = cards.some((card, i) => i !== here && visible(card) && !judged(card));
    if (open) {
      const left = here >= 0 && !judged(cards[here]) ? here : -1;
      next(1, true);
      if (left >= 0 && left !== here) say("Passage " + cards[left].dataset.number + " stays open; this is " + named(here) + ".");
      return;
    }
    const against = Object.keys(clashes()).filter((number) => here < 0 || cardOf[number] !== cards[here]);
    if (against.length) {
      go(cards.indexOf(cardOf[against[0]]));
      return say("Nothing is open; this passage fingers some notes otherwise than another decision: what was decided last holds. Judge it anew (a), or N goes to the other.");
    }
    say(here >= 0 && !judged(cards[here]) ? "No other passage that is shown is open." : "No passage that is shown is open.");
  }

  // Stet by its key always asks why, and is given by Enter: what is typed as a reason is never taken for commands.
  function stetAsked(card) {
    const button = card.querySelector('[data-verb="stet"]');
    if (!button) return decide(card, "stet"); // says why not
    const entriesOnly = (data.passages[card.dataset.number].findings || []).filter((f) => data.findings[f].notes);
    if (entriesOnly.length && entriesOnly.every((f) => data.findings[f].entry)) return say("What is found here is an entry that holds for nothing any more: x takes it out of the file.");
    const field = card.querySelector(".reason");
    if (answering === card && field.value.trim()) return decide(card, "stet"); // its reason was written for this
    ask(field, () => decide(card, "stet"));
    const live = foundIn(card.dataset.number).filter((f) => data.findings[f].notes && !data.findings[f].entry && !standing(f)), found = live.length > 0, goes = reasonFor(live);
    const p = data.passages[card.dataset.number];
    say(p.handover ? "Passage " + card.dataset.number + ", " + p.place + ": Enter, and the notes stay with the hand that has them. A reason may be written before." : found ? "Passage " + card.dataset.number + ", " + p.place + ": why it stands" + (goes === "1 finding" ? "" : " (the reason goes to " + goes + (live.length > 1 ? "; Escape and e ask for each by itself" : "") + ")") + ", then Enter." + (asksDigits(card.dataset.number) && !["take", "amend"].includes((state.decided[mark(card.dataset.number)] || {}).verb) ? " The digits asked here stay open for t; y, the reason, Enter and t answers both at once." : "") : "Passage " + card.dataset.number + ", " + p.place + ": Enter, and what stands there stays; digits that are asked stay open. A reason may be written before. Escape goes back.");
  }

  // Digits that a finding asks to be printed, or a witness's digits that it asks for, by key.
  function printHere(card) {
    const found = data.passages[card.dataset.number].findings || [], list = found.filter((f) => data.findings[f].put), lost = found.find((f) => isLost(f) && !standing(f));
    if (lost) return takeOver(card, lost);
    if (list.length) putAll(list); else say("Nothing here asks for a digit to be printed or put in.");
  }

  // The list of keys opens at its beginning.
  function showHelp() {
    byId("help").showModal();
    byId("help").scrollTop = 0;
  }

  // Enter in a field: what asked for it is carried out.
  function fieldGiven(field) {
    entered = field;
    measureGiven = "";
    field.blur(); // what the field holds is kept; keys are commands again
    entered = null;
    if (field.id === "initials") return saving ? save() : say("Initials noted." + (othersSaid() ? " " + othersSaid() + " not saved yet: they stay theirs, and go to their file with their initials written." : ""));
    if (field.id === "measure" && field.value.trim() && measureGiven !== field.value.trim()) return goToMeasure(field.value.trim()); // the same once more
    if (!field.matches(".reason")) return;
    const group = field.closest(".group"), card = field.closest(".passage");
    if (asked && asked.field === field) { const { act } = asked; asked = null; return act(); }
    if (group) {
      group.querySelector(".let-group").click();
      // The next field comes by itself: what is written is a reason, and no commands.
      if (group.classList.contains("done") && !groups.some(asksYet) && backToScore) { backToScore = false; view("score"); }
      if (group.classList.contains("done") && groups.some(asksYet)) { const done = byId("said").textContent; nextGroup(); say(done + " The next: why they stand, then Enter; Escape leaves the field."); }
      return;
    }
    if (judged(card)) return;
    if (foundIn(card.dataset.number).length) return decide(card, "stet");
    worded = card; // it was in view while its reason was written: the next key decides
    say("Nothing is decided yet: press the verb that the reason is for.");
  }
  let backToScore = false; // the findings judged at once were asked for beside the whole score
  const asksYet = (group) => !group.hidden && !group.classList.contains("done") && !group.classList.contains("idle");
  function nextGroup() {
    const group = groups.find(asksYet);
    const idle = group ? null : groups.find((one) => !one.hidden && one.classList.contains("idle") && !one.classList.contains("done"));
    if (idle) { // it asks nothing, and holds what can be taken out
      if (inScore()) { view("passages"); backToScore = true; }
      byId("groups").open = true;
      idle.querySelector(".let-group").focus();
      return say("These entries hold for nothing any more: Enter takes them out.");
    }
    const alone = group ? null : cards.find((card) => visible(card) && foundIn(card.dataset.number).some((f) => data.findings[f].notes && !standing(f)));
    if (alone) { // what no list holds is judged in its passage
      go(cards.indexOf(alone));
      return say("Nothing is left that is judged at once. Found in passage " + alone.dataset.number + ": s and a reason lets it stand.");
    }
    if (!group) return say(groups.length ? "All findings that are judged at once are judged." : "There are no findings to be judged at once; errors are judged one by one.");
    if (inScore()) { view("passages"); backToScore = true; } // the list and its field stand there
    byId("groups").open = true;
    group.scrollIntoView({ block: "nearest" });
    group.querySelector(".reason").focus();
    say("Write why they stand, then Enter. Escape and E ask for each by itself.");
  }

  byId("initials").addEventListener("change", (event) => { store.set("fingerproof/initials", event.target.value.trim()); drawOthers(); });
  byId("own").addEventListener("click", makeMine);
  let measureGiven = ""; // the measure gone to just now
  byId("measure").addEventListener("change", (event) => goToMeasure(event.target.value.trim()));
  // The passage of a measure becomes the one on which the keys work; where nothing is asked there, its notes are shown.
  function goToMeasure(wanted) {
    measureGiven = wanted;
    const at = data.places.indexOf(wanted);
    if (at < 0) return say("There is no measure " + wanted + ".");
    const inside = (card) => visible(card) && Number(card.dataset.first) <= at && Number(card.dataset.last) >= at;
    const comesAgain = (card) => visible(card) && againOf(card.dataset.number).some((place) => place.f <= at && place.l >= at);
    const there = cards.findIndex((card) => inside(card) && !judged(card)), any = cards.findIndex(inside);
    if (any >= 0) {
      go(there >= 0 ? there : any);
      // The other hand may be judged there, too, or where the music of the measure stands first.
      const also = [...new Set([...cards.filter((card) => inside(card) && card !== cards[here]), ...cards.filter((card) => !inside(card) && comesAgain(card))])];
      return say("m. " + wanted + " is judged in " + named(here) + (also.length ? ", and in " + also.slice(0, 4).map((card) => named(cards.indexOf(card)) + (inside(card) ? "" : ", of which it is a return")).join("; ") + (also.length > 4 ? "; and " + plural(also.length - 4, "passage") + " more" : "") : "") + ".");
    }
    const first = cards.findIndex(comesAgain);
    if (first >= 0) {
      go(first);
      return say("m. " + wanted + " is judged in " + named(first) + ", whose music comes again there; without its tick in the list there it is asked by itself.");
    }
    if (inScore() && score.measures.has(at)) {
      score.measures.get(at).scrollIntoView({ block: "center" });
      return say("Nothing is asked in measure " + wanted + ": click a digit there to give another, or to reopen it.");
    }
    const found = byId("m" + at);
    if (!found) return say("Nothing is fingered in measure " + wanted + ".");
    reveal(found);
    found.tabIndex = -1;
    found.focus({ preventScroll: true });
    say("No passage that is shown asks anything in m. " + wanted + ": these are its notes.");
  }
  byId("undo").addEventListener("click", undo);
  byId("help-open").addEventListener("click", showHelp);
  byId("save").addEventListener("click", save);

  // A link into a fold opens it; a link to a passage stands there.
  function reveal(element) {
    if (inScore()) view("passages");
    for (let e = element.closest("details"); e; e = e.parentElement.closest("details")) e.open = true;
    element.scrollIntoView({ block: "start" });
  }
  function follow() {
    const target = location.hash.length > 1 && byId(decodeURIComponent(location.hash.slice(1)));
    if (!target) return false;
    if (target.matches(".passage")) { go(cards.indexOf(target)); return true; }
    if (target.closest("details")) reveal(target);
    return false;
  }
  addEventListener("hashchange", follow);
