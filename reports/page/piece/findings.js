  // Findings: let stand with a reason, or a witness's digit put in; one by one, all of a rule in a passage, or all in the piece.
  const standing = (fingerprint) => state.findings[fingerprint];
  // A query is answered: in words, or by what is decided on the digits that it asks about.
  const isQuery = (fingerprint) => data.findings[fingerprint].rule === "decision-query";
  // What a decision lost in a text that was corrected is answered by the digit of the note that stands there now.
  const isLost = (fingerprint) => data.findings[fingerprint].over !== undefined;
  const byDigits = (fingerprint) => isQuery(fingerprint) || isLost(fingerprint);
  const answerEntry = (fingerprint, why) => (isLost(fingerprint) ? { why, entry: "", byDigits: true, order: order() } : letEntry(fingerprint, why));

  // What helps to find a note again: the notes of its passage.
  const around = (n) => Object.values(data.passages).find((p) => p.notes.includes(n)) || { notes: [n] };

  function letEntry(fingerprint, why) {
    const finding = data.findings[fingerprint];
    // An entry that holds for nothing any more is answered by taking it out of its file.
    if (finding.entry) return { why: "taken out", out: finding.entry, entry: "", order: order() };
    return { why, entry: entry("stet", "finding", { rule: quote(finding.rule), why: quote(why) }, finding.notes.map((n) => [n, ""]), around(finding.notes[0])), order: order() };
  }
  function putEntry(fingerprint) {
    const finding = data.findings[fingerprint], why = "as in witness " + finding.from;
    if (finding.print) return { why: "to be printed", put: finding.put, prints: finding.notes[0], entry: printEntry(finding.notes[0]), order: order() };
    return { why, put: finding.put, entry: entry("amend", "notes", { why: quote(why) }, [[finding.notes[0], finding.put]], around(finding.notes[0])), order: order() };
  }

  // A digit that is worked out is taken, as it is chosen by now, and printed however few digits the house style prints.
  function printEntry(n) {
    let digit = data.notes[n].w, last = -1;
    for (const number of Object.keys(cardOf)) {
      const decision = state.decided[mark(number)], chosen = decision && (decision.fingers || {})[n];
      if (chosen && !asGiven(n, chosen) && decision.order > last) { digit = String(chosen); last = decision.order; }
    }
    return entry("take", "notes", { print: "always" }, [[n, digit]], around(n));
  }
  function renewPrints() {
    for (const kept of Object.values(state.findings)) if (kept.prints !== undefined && !wasSaved(kept)) kept.entry = printEntry(kept.prints);
  }

  function drawFindings(card) {
    for (const line of card.querySelectorAll(".finding")) {
      line.hidden = !comes(line.dataset.finding);
      const stands = standing(line.dataset.finding), button = line.querySelector(".let"), put = line.querySelector(".put");
      if (put) put.setAttribute("aria-pressed", String(!!stands && (!!stands.put || !!stands.byDigits)));
      if (put && button) button.hidden = !!stands && !!stands.put; // it is answered by the digit
      if (!button) continue;
      button.setAttribute("aria-pressed", String(!!stands));
      const takesOut = data.findings[line.dataset.finding].entry;
      button.textContent = !stands ? (takesOut ? "Take the entry out" : isQuery(line.dataset.finding) ? "Answer in words" : "Let this stand") : stands.out ? "Taken out when you save" : stands.put ? (stands.prints === undefined ? "Put in: " : "Will print: ") + stands.put : stands.byDigits ? "Answered " + stands.why : (isQuery(line.dataset.finding) ? "Answered: " : "Stands: ") + stands.why;
    }
  }

  // How far a reason goes: findings that are told as one stand at several places.
  function reasonFor(list) {
    const at = list.flatMap((f) => data.findings[f].notes || []), measures = [...new Set(at.map((n) => (data.notes[n] || { i: -1 }).i))].filter((i) => i >= 0);
    return plural(list.length, "finding") + (at.length > list.length ? ", " + plural(at.length, "place") : "") + (measures.length > 1 ? " in " + plural(measures.length, "measure") : "");
  }

  function letStand(card, fingerprint) {
    const reason = card.querySelector(".reason"), why = reason.value.trim();
    if (standing(fingerprint)) return change(() => letGo(fingerprint), "The finding is open again.");
    if (othersEntry(fingerprint)) return say("The entry stands in the file of " + othersEntry(fingerprint) + ": write these initials to take it out.");
    if (!why && !data.findings[fingerprint].entry) { ask(reason, () => letStand(card, fingerprint)); return say(isQuery(fingerprint) ? "Write the answer, then press Enter." : "A finding stands only with a reason: write it, then press Enter. It goes to " + reasonFor([fingerprint]) + "."); }
    change(() => { state.findings[fingerprint] = letEntry(fingerprint, why); }, data.findings[fingerprint].entry ? "The entry is taken out when you save." : isQuery(fingerprint) ? "The query is answered." : "The finding stands.");
  }

  // Whose file an entry stands in, where it is not that of these initials: only its editor takes it out.
  function othersEntry(fingerprint, text = data.findings[fingerprint].entry) {
    const mine = byId("initials").value.trim();
    const who = text && Object.keys(data.decided || {}).find((name) => data.decided[name].includes(text));
    return who && who !== mine ? who : "";
  }

  // What lint finds only once digits are taken can be let stand before: the reason waits, and the finding stands as soon as it comes.
  const waits = (fingerprint) => (state.promised || {})[fingerprint];
  function ahead(fingerprint) {
    const finding = data.findings[fingerprint];
    return !!finding && !!finding.then && !comes(fingerprint) && !state.decided[mark(finding.then)] && !finding.speaks.some(handedNow);
  }
  function keepPromises() {
    for (const [f, why] of Object.entries(state.promised || {})) {
      if (!data.findings[f]) delete state.promised[f];
      else if (comes(f) && !standing(f)) state.findings[f] = Object.assign(letEntry(f, why), { promised: true });
      else if (!comes(f) && (standing(f) || {}).promised) delete state.findings[f];
    }
  }

  // All of some findings at once, in one step that undo takes back.
  function letAll(list, why, reason) {
    const open = list.filter((f) => !standing(f) && data.findings[f].notes && (comes(f) || ahead(f) && !waits(f)));
    // What stands already gets the reason that is written now.
    const otherwise = list.filter((f) => why && standing(f) && !standing(f).out && !standing(f).put && standing(f).why !== why && !standing(f).prints);
    if (!open.length && otherwise.length) return change(() => { for (const f of otherwise) state.findings[f] = letEntry(f, why); }, "The reason of " + plural(otherwise.length, "finding") + " is changed.");
    if (!open.length) return say("None of them is open.");
    const theirs = open.map(othersEntry).find(Boolean);
    if (theirs) return say("Entries stand in the file of " + theirs + ": write these initials to take them out.");
    if (!why && !open.every((f) => data.findings[f].entry)) { ask(reason, () => letAll(list, reason.value.trim(), reason)); return say("Findings stand only with a reason: write it, then press Enter. It goes to " + reasonFor(open) + "."); }
    const later = open.filter((f) => !comes(f));
    change(() => {
      for (const f of open) if (comes(f)) state.findings[f] = letEntry(f, why); else state.promised = Object.assign({}, state.promised, { [f]: why });
    }, later.length ? reasonFor(open) + " let stand; " + later.length + " of them as soon as the digits are taken." : open.every((f) => data.findings[f].entry) ? plural(open.length, "entry").replace("entrys", "entries") + " taken out when you save." : reasonFor(open) + " let stand.");
  }
  function putAll(list) {
    const open = list.filter((f) => !standing(f) && data.findings[f].put);
    if (!open.length) return say("None of them is open.");
    change(() => { for (const f of open) state.findings[f] = putEntry(f); }, plural(open.length, "digit") + (data.findings[open[0]].print ? " will print." : " put in."));
  }

  // The digit that was decided for a note that is gone goes to the one that stands there now.
  function takeOver(card, fingerprint) {
    const number = card.dataset.number, finding = data.findings[fingerprint], n = finding.notes[0], before = state.decided[mark(number)];
    if (String(data.notes[n].w) === finding.over && !preview[number] && !(before && before.verb === "amend")) return decide(card, "take");
    preview[number] = Object.assign({}, before && before.verb === "amend" ? before.fingers : {}, preview[number], { [n]: finding.over });
    decide(card, "amend");
  }

  function clickFinding(card, target) {
    const one = target.closest(".let");
    if (one) return letStand(card, one.closest(".finding").dataset.finding);
    const put = target.closest(".put"), asks = put && put.closest(".finding").dataset.finding;
    if (put && isLost(asks)) return takeOver(card, asks);
    if (put && standing(asks)) return change(() => { delete state.findings[asks]; }, "The finding is open again.");
    if (put) return putAll([asks]);
    const all = target.closest(".let-all, .put-all");
    if (!all) return;
    const list = data.passages[card.dataset.number].findings.filter((f) => data.findings[f].rule === all.dataset.rule);
    const reason = card.querySelector(".reason");
    if (all.classList.contains("put-all")) putAll(list); else letAll(list, reason.value.trim(), reason);
  }

  // Entries that hold for nothing any more are taken out, not let stand.
  for (const button of document.querySelectorAll(".let-group, .let-all")) {
    const rule = (button.closest(".group") || button).dataset.rule;
    if (rule === "decision-stale" || rule === "gone") button.textContent = "Take all their entries out";
  }
  const groups = [...document.querySelectorAll(".group")];
  for (const group of groups) {
    const rule = group.dataset.rule, list = (data.groups || {})[rule] || [], reason = group.querySelector(".reason");
    group.querySelector(".let-group").addEventListener("click", () => letAll(list, reason.value.trim(), reason));
    if (group.querySelector(".put-group")) group.querySelector(".put-group").addEventListener("click", () => putAll(list));
    if (group.querySelector(".one-by-one")) group.querySelector(".one-by-one").addEventListener("click", () => {
      byId("show-kind").value = "rule: " + rule;
      filter();
      const each = list.filter((f) => canStand(f) && !standing(f)), first = cards.findIndex((card) => visible(card) && !judged(card));
      if (each.length) askEach(each, 0); else if (first >= 0) go(first);
    });
  }

  function drawGroups() {
    // What is found in a passage that is queried is with the volume editor: the group asks for it no more.
    const queried = new Set(cards.filter((card) => { const d = state.decided[mark(card.dataset.number)]; return d && (d.verb === "query" || d.query); }).flatMap((card) => data.passages[card.dataset.number].findings || []));
    for (const group of groups) {
      const list = ((data.groups || {})[group.dataset.rule] || []).filter((f) => comes(f) || ahead(f)), answered = (f) => standing(f) || waits(f) || queried.has(f), done = list.filter(answered).length;
      group.hidden = !list.length;
      if (!group.dataset.rule) group.querySelector(".words").textContent = plural(list.filter((f) => !answered(f)).length || list.length, "finding") + " that no other is like";
      for (const line of group.querySelectorAll(".one-of")) {
        const f = line.dataset.finding, early = ahead(f);
        line.hidden = !comes(f) && !early;
        line.classList.toggle("answered", !!answered(f));
        line.classList.toggle("ahead", early);
      }
      const label = group.querySelector(".state");
      group.classList.toggle("done", done === list.length);
      group.classList.toggle("idle", group.dataset.rule === "gone"); // it asks nothing
      label.dataset.state = done === list.length ? "stet" : "open";
      label.textContent = done === list.length ? "all judged" : done ? done + " of " + list.length + " judged" : "open";
    }
  }
