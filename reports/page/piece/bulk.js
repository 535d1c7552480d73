  // Which passages are shown, and taking those together.
  function fits(card) {
    const kind = byId("show-kind").value, sure = Number(byId("show-sure").value || 0);
    if (kind === "open" && judged(card)) return false;
    if (kind && kind !== "open" && !card.dataset.about.split("|").includes(kind)) return false;
    if (sure && Number(card.dataset.sure) < sure) return false;
    const index = (field, otherwise) => { const at = data.places.indexOf(byId(field).value.trim()); return at < 0 ? otherwise : at; };
    return Number(card.dataset.last) >= index("show-from", 0) && Number(card.dataset.first) <= index("show-to", data.places.length);
  }

  function filter() {
    if (!byId("show-kind")) return;
    let shown = 0, open = 0, unsaid = 0, unprinted = 0;
    for (const card of cards) {
      const fit = fits(card);
      card.hidden = !fit && !card.classList.contains("here");
      if (!fit) continue;
      shown++;
      if (judged(card)) continue;
      if (!quiet(card)) open++; else if (findingsOf(card)) unsaid += findingsOf(card); else unprinted++;
    }
    byId("shown").textContent = shown + " of " + cards.length + " shown, " + open + " of them open." + (unsaid ? " On " + plural(unsaid, "finding") + " nobody has said a word: it was passed so." : "") + (unprinted ? " In doubt where no digit prints: " + plural(unprinted, "passage") + "." : "");
  }

  // What can be taken of some passages: those that are not judged, and have a suggestion. Redistributions are taken together
  // only where they alone are shown.
  function takable(list) {
    const alone = list.every((card) => data.passages[card.dataset.number].handover);
    const out = [];
    for (const card of list) {
      const number = card.dataset.number, p = data.passages[number];
      if (judged(card) || queriedIn(number) || state.decided[mark(number)] && findingsLeft(number, state.decided[mark(number)]) || p.handover && !alone || waitsFor(number).length) continue;
      const verb = preview[number] ? "amend" : "take";
      const written = entries(number, verb, "", preview[number], goesToo(card));
      if (written.text) out.push({ card, number, verb, text: written.text, came: written.came || {}, lets: written.lets || [], left: written.left || 0 });
    }
    return out;
  }

  // A query is answered by itself, and not by what is taken with others.
  const queriedIn = (number) => (data.passages[number].findings || []).some((f) => isQuery(f) && !standing(f));

  // Passages that are left out until the redistributions are judged that offer notes of theirs.
  function waiting(list) {
    const numbers = [...new Set(list.filter((card) => !judged(card)).flatMap((card) => waitsFor(card.dataset.number)))];
    const queried = list.filter((card) => !judged(card) && queriedIn(card.dataset.number)).length;
    return (queried ? " Left out is what is asked by a query: " + plural(queried, "passage") + "." : "") + (numbers.length ? " Left out are those that come after a redistribution: judge " + (numbers.length === 1 ? "passage " : "passages ") + numbers.join(", ") + " first." : "");
  }

  const leftOver = (findings) => (findings ? " What is found there stays open: " + plural(findings, "finding") + "." : "");

  function takeThem(list) {
    if (!list.length) return say("No such passage is open.");
    const left = list.reduce((sum, one) => sum + one.left, 0);
    change(() => {
      for (const { number, verb, text, came, lets } of list) {
        const decision = { verb, entry: text, order: order() }, was = state.decided[mark(number)];
        if (was && half(number, was)) { // what was let stand, or rolled, stays so
          if (ofOther(was.by)) decision.apart = [...(was.apart || []), { by: was.by, entry: was.entry }];
          else Object.assign(decision, { stays: was.entry.replace(ownQuery(was), ""), entry: was.entry.replace(ownQuery(was), "") + text + ownQuery(was), apart: was.apart });
          Object.assign(decision, { query: was.query, asks: was.asks, rolled: was.verb.startsWith("roll") ? was.verb : undefined });
        }
        if (verb === "amend") decision.fingers = preview[number];
        if (Object.keys(came).length) decision.came = came;
        if (goesToo(cardOf[number])) decision.too = true;
        if (notIn(number)) decision.not = notIn(number);
        delete preview[number];
        state.decided[mark(number)] = decision;
        for (const f of lets) state.findings[f] = answerEntry(f, "by the digits that were decided");
      }
    }, list.length + (list.length === 1 ? " passage taken." : " passages taken.") + leftOver(left) + waiting(cards.filter((card) => fits(card))));
    if (here >= 0 && judged(cards[here])) next(1, true);
  }

  // Redistributions that are shown and open stay with the hand that has the notes, all at once.
  function declineShown() {
    const list = cards.filter((card) => fits(card) && data.passages[card.dataset.number].handover && !judged(card));
    if (!list.length) return say("No redistribution that is shown is open.");
    change(() => {
      for (const card of list) {
        const number = card.dataset.number, why = card.querySelector(".reason").value.trim(), decision = { verb: "stet", entry: entries(number, "stet", why).text, order: order() };
        if (why) decision.why = why;
        state.decided[mark(number)] = decision;
        decideAlike(number, "stet", why);
      }
    }, plural(list.length, "redistribution") + " declined: the notes stay with their hand. Undo takes all of it back.");
    if (here >= 0 && judged(cards[here])) next(1, true);
  }

  const firmCards = () => cards.filter((card) => data.passages[card.dataset.number].firm);
  const takeFirm = () => takeThem(takable(firmCards()));

  // How many can still be taken so.
  function drawFirm() {
    const button = byId("take-firm"), left = button ? firmCards().filter((card) => !judged(card) && !waitsFor(card.dataset.number).length).length : 0;
    if (!button) return;
    button.textContent = left ? "Take those without doubt: " + left : "None without doubt is open";
    button.disabled = !left;
  }

  // Shows what would be taken, with its notation, and takes it when asked to.
  let offered = [];
  function takeShown() {
    offered = takable(cards.filter((card) => fits(card)));
    if (!offered.length) return say("None of those shown can be taken: they are judged, or nothing is suggested there." + waiting(cards.filter((card) => fits(card))));
    const list = byId("bulk-list");
    let digits = 0;
    list.replaceChildren();
    for (const { card, number } of offered) {
      const p = data.passages[number], head = document.createElement("h3");
      const fingers = fingersOf(number, { verb: preview[number] ? "amend" : "take", fingers: preview[number] });
      digits += Object.keys(fingers).length;
      head.textContent = number + "  " + card.querySelector(".place").textContent + ": " + card.querySelector(".brief").textContent;
      list.append(head);
      const picture = card.querySelector(".pair figure:last-child svg");
      if (picture) list.append(picture.cloneNode(true)); else if (hasScore) list.append(cut(p.first, p.last, fingers, p.hand));
      list.append(card.querySelector(".fingers").cloneNode(true)); // digits that do not print are asked too
    }
    byId("bulk-count").textContent = plural(offered.length, "passage") + ", " + plural(digits, "digit") + ". Undo takes all of it back." + leftOver(offered.reduce((sum, one) => sum + one.left, 0)) + waiting(cards.filter((card) => fits(card)));
    byId("bulk").showModal();
    fitted(list);
    byId("bulk-take").focus();
  }

  if (byId("take-shown")) {
    byId("take-shown").addEventListener("click", takeShown);
    for (const id of ["show-kind", "show-sure"]) byId(id).addEventListener("change", filter);
    for (const id of ["show-from", "show-to"]) byId(id).addEventListener("input", filter);
    byId("open-all").addEventListener("click", openAll);
  }
  byId("bulk-take").addEventListener("click", () => { byId("bulk").close(); takeThem(offered); byId("bulk-list").replaceChildren(); });
  byId("bulk").addEventListener("close", () => byId("bulk-list").replaceChildren());
  if (byId("take-firm")) byId("take-firm").addEventListener("click", takeFirm);

  function openAll() {
    allOpen = !allOpen;
    byId("open-all").setAttribute("aria-pressed", String(allOpen));
    byId("open-all").textContent = allOpen ? "One at a time" : "Open all";
    stand(here);
    if (here >= 0) cards[here].scrollIntoView({ block: "start" });
  }
