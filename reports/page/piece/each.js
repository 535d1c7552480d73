  // Findings answered one by one: each is shown by itself and gets a reason of its own, where one reason for all of them would say
  // too much.
  const canStand = (f) => !!data.findings[f].notes && !data.findings[f].entry && comes(f) && !(standing(f) && (standing(f).put || standing(f).byDigits));
  const cardWith = (f) => cards.find((card) => foundIn(card.dataset.number).includes(f));
  function nobodyAsked() { for (const line of document.querySelectorAll(".finding.asking")) line.classList.remove("asking"); }

  // A reason that was given for all findings of a passage becomes that of each, so that one of them can get another.
  function loosen(card) {
    const key = mark(card.dataset.number), decision = state.decided[key];
    if (!decision || decision.verb !== "stet" || !decision.why || data.passages[card.dataset.number].handover) return;
    const rest = oneByOne(decision.entry).filter((one) => !one.startsWith("  - stet: finding"));
    if (rest.length === oneByOne(decision.entry).length) return;
    for (const f of foundIn(card.dataset.number)) if (canStand(f) && !standing(f)) state.findings[f] = letEntry(f, decision.why);
    if (rest.length) decision.entry = rest.join(""); else delete state.decided[key];
  }

  function askEach(list, at) {
    nobodyAsked();
    if (at >= list.length) {
      const left = list.filter((f) => !standing(f)).length, card = cards[here], answered = plural(list.length - left, "finding") + " answered by themselves" + (left ? "; left open: " + left : "") + ".";
      if (judged(card)) next(1, true);
      return say(answered + (judged(card) || left ? "" : " The digits of passage " + card.dataset.number + " are still open: t takes them, a changes them."));
    }
    const f = list[at], card = cardWith(f);
    if (cards[here] !== card) go(cards.indexOf(card));
    const line = [...card.querySelectorAll(".finding")].find((one) => one.dataset.finding === f), field = card.querySelector(".reason");
    const given = state.decided[mark(card.dataset.number)], before = standing(f) ? standing(f).why : given && given.verb === "stet" ? given.why || "" : "";
    for (let e = line.closest("details"); e && card.contains(e); e = e.parentElement.closest("details")) e.open = true;
    line.classList.add("asking");
    field.value = before;
    ask(field, () => {
      const why = field.value.trim();
      if (why && why !== before) change(() => { loosen(card); state.findings[f] = letEntry(f, why); }, isQuery(f) ? "The query is answered." : "The finding stands.");
      askEach(list, at + 1);
    });
    const sentence = [...line.childNodes].filter((one) => one.nodeType === 3).map((one) => one.textContent.trim()).join(" ").trim();
    say((at + 1) + " of " + list.length + ": " + sentence + (/[.?!]$/.test(sentence) ? " " : ". ") + (isQuery(f) ? "The answer" : "Why it stands") + ", then Enter; Enter " + (before ? "leaves the reason as it is" : "alone leaves it open") + ", Escape ends.");
  }

  // What is found in this passage; where all of it is answered, its reasons once more.
  function eachHere(card) {
    const all = foundIn(card.dataset.number).filter(canStand), open = all.filter((f) => !standing(f));
    if (!all.length) return say("Nothing is found in this passage that could be let stand.");
    askEach(open.length ? open : all, 0);
  }
  // What is found in the piece and open, passage by passage.
  function eachEverywhere() {
    const list = [...new Set(cards.flatMap((card) => foundIn(card.dataset.number)))].filter((f) => canStand(f) && !standing(f) && !judged(cardWith(f)));
    if (!list.length) return say("No finding that could be let stand is open.");
    if (inScore()) view("passages");
    askEach(list, 0);
  }
