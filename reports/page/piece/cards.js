  let here = -1;
  let allOpen = false;
  const visible = (card) => !card.hidden;

  function draw() {
    let done = 0;
    reach();
    for (const card of cards) {
      const number = card.dataset.number;
      const decision = decisionOn(number);
      card.classList.toggle("done", !!decision);
      const label = card.querySelector(".state");
      label.dataset.state = decision ? decision.verb : "open";
      label.textContent = decision && decision.told ? "told only" : decision && !(preview[number] && decision.verb === "query") ? (decision.with ? "with " + decision.with : decision.ofFindings && decision.verb === "amend" ? "answered" : (decision.rolled ? words[decision.rolled] + ", " : "") + words[decision.verb] + (decision.query ? ", queried" : "")) : preview[number] ? "changed, not kept" : leftIn(number);
      for (const button of card.querySelectorAll("[data-verb]")) button.setAttribute("aria-pressed", String(!!decision && !decision.ofFindings && !decision.with && decision.verb === button.dataset.verb));
      // What was asked is no longer so once it is decided.
      const brief = card.querySelector(".brief");
      if (!brief.dataset.first) brief.dataset.first = brief.textContent;
      const asks = (decision && !decision.told ? "was asked: " : "") + brief.dataset.first;
      if (brief.textContent !== asks) brief.textContent = asks;
      const reason = card.querySelector(".reason");
      if (decision && document.activeElement !== reason && !(asked && asked.field === reason)) reason.value = decision.why || "";
      if (decision) done++;
      card.dataset.now = (state.decided[mark(number)] || decision || { verb: "" }).verb;
      drawFindings(card);
      const fingers = shownFingers(card);
      if (fingers || card.dataset.changed) { // long works have thousands of digits: only cards that change are touched
        show(card, fingers);
        card.dataset.changed = fingers ? "1" : "";
      }
    }
    drawGroups();
    if (here >= 0) { sayLike(cards[here]); sayAgain(cards[here]); }
    const against = showClashes();
    byId("bar").value = done;
    const anew = reopened().length;
    byId("count").textContent = done + " of " + cards.length + " judged" + (anew ? "; " + plural(anew, "digit") + " reopened or given anew" : "") + (against ? "; " + against + " of them finger some notes in two ways" : "");
    drawOthers();
    drawFirm();
    drawStrip();
    drawScore();
    filter();
  }

  // In a piece that stands as it was passed for press a passage of which no open digit prints waits for nobody: there are findings
  // on which nobody has said a word, or digits in doubt that do not print.
  const asPassed = /^passed for press: [^;]+$/.test((document.querySelector("[data-passed]") || {}).textContent || "");
  const quiet = (card) => { const p = data.passages[card.dataset.number]; return asPassed && !p.handover && !(p.open || []).length && !state.decided[mark(card.dataset.number)]; };
  const findingsOf = (card) => foundIn(card.dataset.number).filter((f) => !standing(f)).length;

  // What of a passage is open, where part of it is answered.
  function leftIn(number) {
    if (quiet(cardOf[number])) return findingsOf(cardOf[number]) ? "no word on it yet" : "does not print";
    const p = data.passages[number], decided = state.decided[mark(number)], digits = new Set([...(p.doubts || []), ...(p.open || []), ...restOf(number)].filter((n) => !handedNow(n))).size;
    const found = foundIn(number).filter((f) => data.findings[f].notes), still = found.filter((f) => !standing(f) && !(decided && rolledHere(p, decided, f))).length;
    const before = waitsFor(number);
    if (before.length) return "after " + (before.length === 1 ? "passage " : "passages ") + before.join(", ");
    const rolled = decided && decided.verb.startsWith("roll");
    if (rolled) return words[decided.verb] + "; open: " + [digits && plural(digits, "digit"), still && plural(still, "finding")].filter(Boolean).join(", ");
    if (decided && findingsLeft(number, decided)) return "digits " + words[decided.verb] + "; open: " + plural(findingsLeft(number, decided), "finding");
    const from = [...new Set([...(p.doubts || []), ...(p.open || [])])];
    if (!decided && !p.handover && still && from.length && from.every((n) => reachedFrom(n, number))) return "digits with passage " + reached[from[0]][0] + "; open: " + plural(still, "finding");
    if (half(number, decided)) return (decided.verb === "stet" ? "what stands stays" : words[decided.verb]) + "; open: " + plural(digits, "digit") + (decided.verb !== "stet" && still ? ", " + plural(still, "finding") : "");
    if (still === found.length || p.handover) return "open";
    return "open: " + [digits && plural(digits, "digit"), still && plural(still, "finding")].filter(Boolean).join(", ");
  }

  function shownFingers(card) {
    const number = card.dataset.number, decision = state.decided[mark(number)];
    const own = preview[number] || (decision && decision.verb === "amend" ? decision.fingers : null), from = {};
    // Digits that came from a passage decided before are shown where they came to.
    for (const n of data.passages[number].notes) {
      if (reachedFrom(n, number) && reached[n][1] !== String(data.notes[n].w)) from[n] = /^\d$/.test(reached[n][1]) ? Number(reached[n][1]) : reached[n][1];
    }
    for (const [n, digit] of Object.entries((!preview[number] && decision && decision.came) || {})) if (digit !== String(data.notes[n].w)) from[n] = /^\d$/.test(digit) ? Number(digit) : digit;
    // What is given anew where a digit stands, or was decided.
    for (const n of data.passages[number].notes) {
      const anew = state.findings[reopenKey(n)];
      if (anew && anew.digit) from[n] = anew.digit;
    }
    return own || Object.keys(from).length ? Object.assign(from, own) : null;
  }

  // An editor's digit behind one of the text: as it prints, or struck through where the house style prints none there.
  function behind(element, n, digit) {
    element.textContent = besideText(n, digit) || digit;
    element.setAttribute("class", data.notes[n].xa ? "behind unseen" : "behind");
    return element;
  }

  // Shows the fingers of a passage: the suggestion, or what was chosen over it.
  function show(card, fingers) {
    for (const key of card.querySelectorAll(".finger")) {
      const note = data.notes[key.dataset.note];
      const chosen = fingers && fingers[key.dataset.note];
      if (!key.dataset.first) { key.dataset.first = key.querySelector("b").textContent; key.dataset.said = key.querySelector(".spoken").textContent; }
      const changed = !!chosen && !asGiven(key.dataset.note, chosen);
      const shows = changed ? (note.l ? chosen : spelt(chosen)) : key.dataset.first, b = key.querySelector("b");
      b.textContent = changed && inText(key.dataset.note) ? inText(key.dataset.note) + " " : shows;
      if (changed && inText(key.dataset.note)) b.append(behind(document.createElement("span"), key.dataset.note, shows));
      key.classList.toggle("changed", changed);
      key.querySelector(".spoken").textContent = changed ? key.dataset.said + ", changed from " + spelt(suggestedAt(key.dataset.note)) : key.dataset.said;
    }
    for (const sign of card.querySelectorAll(".fing.added, .fing[data-startid]")) {
      const id = sign.dataset.startid.slice(2);
      if (!sign.classList.contains("added") && !sign.dataset.first && !(fingers && fingers[id])) continue; // a digit of the text
      if (!sign.classList.contains("added") && sign.parentNode.querySelector('.fing.added[data-startid="#n' + id + '"]')) continue; // beside it stands what changes
      const text = sign.querySelector("tspan tspan") || sign.querySelector("tspan");
      if (!sign.dataset.first) { sign.dataset.first = text.textContent; sign.dataset.boxed = sign.classList.contains("changed") ? "1" : "0"; }
      const chosen = fingers && fingers[id];
      const changed = !!chosen && data.notes[id] && !asGiven(id, chosen);
      const shows = changed ? (data.notes[id].l ? chosen : spelt(chosen)) : sign.dataset.first, stays = changed && !sign.classList.contains("added") && inText(id);
      text.textContent = stays ? sign.dataset.first + " " : shows;
      if (stays) text.append(behind(document.createElementNS(svgNS, "tspan"), id, shows));
      sign.classList.toggle("changed", changed || sign.dataset.boxed === "1");
    }
    const caption = card.querySelector(".shown");
    if (caption) {
      if (!caption.dataset.first) caption.dataset.first = caption.textContent;
      caption.textContent = fingers ? "changed here" : caption.dataset.first;
    }
    if (card.querySelector(".cut") && card.querySelector(".cut").childElementCount) { empty(card); fill(card); }
    showLike(card);
  }

  // One passage is open at a time, unless all are.
  function unfold(card, open) {
    card.classList.toggle("open", open);
    card.querySelector(".row").setAttribute("aria-expanded", String(open));
    if (open) fill(card); else empty(card);
  }

  function stand(index) {
    if (picked >= 0 && index !== here) say(""); // what was said of a digit that was clicked is not said of another passage
    picked = -1;
    if (asked && (index < 0 || !cards[index].contains(asked.field))) asked = null;
    here = index;
    cards.forEach((card, i) => {
      card.classList.toggle("here", i === here);
      if (i !== here) delete card.dataset.clicked;
      const open = allOpen || i === here;
      if (card.classList.contains("open") !== open) unfold(card, open);
    });
    if (index >= 0) { showClashes(); sayLike(cards[here]); sayAgain(cards[here]); standInScore(cards[here]); }
  }

  // What opens and closes above a passage that is clicked moves nothing under the hand.
  function standStill(index) {
    const at = cards[index].getBoundingClientRect().top;
    stand(index);
    if (!inScore()) scrollBy(0, cards[index].getBoundingClientRect().top - at);
  }

  function go(index) {
    if (!cards.length) return;
    stand(Math.max(0, Math.min(cards.length - 1, index)));
    const card = cards[here];
    if (card.hidden) card.hidden = false; // asked for by its number or by undo: it is shown whatever the filter says
    card.focus({ preventScroll: true });
    card.scrollIntoView({ block: inScore() ? "nearest" : "start" });
  }

  // A passage by its number and place, wherever a key leads to another.
  const named = (i) => "passage " + cards[i].dataset.number + " (" + data.passages[cards[i].dataset.number].place + ")";

  // The next passage that is shown; open ones only where a decision leads on.
  // In the whole score they follow each other as they stand there.
  function next(step, openOnly) {
    const row = cards.map((_, i) => i);
    if (inScore()) {
      const lower = (card) => (data.passages[card.dataset.number].hand === "L" ? 1 : 0); // the right hand first, as it stands above
      row.sort((a, b) => Number(cards[a].dataset.first) - Number(cards[b].dataset.first) || lower(cards[a]) - lower(cards[b]) || a - b);
    }
    for (let i = row.indexOf(here) + step; i >= 0 && i < cards.length; i += step) {
      if (visible(cards[row[i]]) && !(openOnly && judged(cards[row[i]]))) return go(row[i]);
    }
    const open = row.find((i) => visible(cards[i]) && !judged(cards[i])), first = open === undefined ? -1 : open;
    if (!openOnly && (step < 0 || first < 0 || first === here)) return say(step > 0 ? "This is the last passage." : "This is the first passage.");
    if (!openOnly) say("That was the last passage: " + named(first) + " is the first that is open.");
    if (first >= 0) return go(first);
    const left = cards.filter((card) => !judged(card)).length;
    const against = Object.keys(clashes());
    say(byId("said").textContent + (left ? " All that are shown are judged; " + plural(left, "passage") + " not shown." : " All is judged" + (against.length ? ", but passages " + against.join(", ") + " finger some notes in two ways: what was decided last holds. Judge one of them anew, or save (w)." : ": save the decisions (w).")));
  }

  // Whether an editor sees the passage: its head, and more than its last line.
  function seen(card) {
    if (card.hidden || !card.classList.contains("open")) return false;
    const box = card.getBoundingClientRect(), desk = document.querySelector(".desk").getBoundingClientRect();
    const bottom = getComputedStyle(document.querySelector(".desk")).position === "fixed" ? desk.top : innerHeight;
    const inView = Math.min(bottom, box.bottom) - Math.max(0, box.top);
    return inView > 30 && (box.top > -box.height / 2 && box.bottom > 60 || inView > bottom * 0.6);
  }

  // A key decides only on a passage that is seen; else it brings it into view.
  let answering = null; // the passage of which a key decides with the reason written just before it
  let worded = null; // the passage whose reason was written just now
  function current(act) {
    const known = here >= 0 && worded === cards[here] && !worded.hidden;
    answering = known ? worded : null;
    worded = null;
    if (!cards.length) return say("Nothing is asked on this page. v shows the whole score: a decided digit that is clicked there is given anew by 1 to 5, or reopened by x.");
    if (known) return act(cards[here]);
    if (here < 0 || !seen(cards[here])) {
      const to = here < 0 ? Math.max(0, cards.findIndex((card) => visible(card) && !judged(card))) : here;
      go(to);
      return say("Passage " + cards[here].dataset.number + " is in view now: press the key again.");
    }
    act(cards[here]);
  }

  let givenUp = ""; // the amended passage whose digits the next t gives up
  let keptTwice = ""; // what one finger takes twice at once, or what lies against the keys, which the next a keeps
  const alsoLike = (card, fingers) => {
    const again = alsoThere(card.dataset.number, fingers);
    if (!goesToo(card)) return again + ".";
    const refused = {}, places = carried(card.dataset.number, fingers || {}, refused), not = Object.entries(refused).map(([m, why]) => "m. " + data.places[m] + ": " + why).join("; ");
    const goes = !places.length ? "" : places.some((place) => place.moved || place.stays.length) ? ", its like places too" : ", and its like places, which have the same digits";
    return again + goes + (not ? "; not " + not + "." : ".");
  };
  function decide(card, verb) {
    const number = card.dataset.number;
    const passage = data.passages[number], before = state.decided[mark(number)], typed = card.querySelector(".reason").value.trim();
    // Words that were a query's, its answer's, or a finding's are no reason of the digits.
    const saidBefore = [before && (before.verb === "query" ? before.why : before.asks), ...foundIn(number).map((f) => standing(f) && standing(f).why)];
    // Nor is a question the reason for which something stands.
    const question = before && (before.verb === "query" ? before.why : before.asks), why = verb !== "query" && !passage.handover && !(verb === "take" || verb === "amend") && typed === question ? "" : typed, ofDigits = !(verb === "take" || verb === "amend") || !saidBefore.includes(typed);
    // The finger that stood there was chosen: that keeps the passage as it is suggested.
    const choosing = card.querySelector(".choices");
    if (verb === "amend" && !preview[number] && !passage.handover && !before && choosing && !choosing.hidden && (chosen[number] || []).size) {
      delete chosen[number];
      return decide(card, "take");
    }
    if (verb === "amend" && !preview[number] && !passage.handover) {
      const first = card.querySelector(".finger.doubt:not(:disabled)"), key = first || card.querySelector(".finger:not(:disabled):not(.given)") || card.querySelector(".finger:not(:disabled)"), note = key && data.notes[key.dataset.note];
      say((note ? "The mark is on " + note.p + " (m. " + note.m + ", beat " + note.b + ")" + (first ? ", the first in doubt" : "") + ". " : "") + "1 to 5 choose its finger and go on to the next note; arrows go from note to note, Home to the first; then a keeps it.");
      return standOn(card, key, true);
    }
    const found = foundIn(number).filter((f) => data.findings[f].notes);
    // What is taken already is not taken twice: the key goes on.
    if (verb === "take" && before && before.verb === "take" && !typed && !preview[number] && findingsLeft(number, before)) {
      next(1, true);
      return say("The digits of passage " + number + " are taken already; what is found there stays open (s and a reason lets it stand).");
    }
    // A reason for what is found lets it stand where the digits came from a like place.
    const live0 = found.filter((f) => !data.findings[f].entry && !standing(f)), mine = takesOf(passage).filter((n) => !handedNow(n));
    if (verb === "take" && why && !before && !passage.handover && live0.length && mine.length && mine.every((n) => reachedFrom(n, number))) {
      here = cards.indexOf(card);
      letAll(live0, why, card.querySelector(".reason"));
      return judged(card) ? next(1, true) : undefined;
    }
    // Nor are chosen digits given up by one key.
    if (verb === "take" && before && before.verb === "amend" && !passage.handover && !preview[number] && givenUp !== number) {
      givenUp = number;
      return say("Passage " + number + " is amended: t once more takes it as suggested, and gives up the digits that you chose" + (before.too ? ", in its like places too" : "") + "; n goes on.");
    }
    givenUp = "";
    // Nor is a chord kept in which one finger is to take two keys, or whose fingers lie against them: a slip, most often.
    const twice = verb === "amend" && preview[number] && !passage.handover ? takesTwo(number, preview[number]) || liesAgainst(number, preview[number]) : "";
    if (twice && keptTwice !== twice) {
      keptTwice = twice;
      return say(twice + ": change one of them, or a once more keeps it as it is.");
    }
    keptTwice = "";
    const wait = verb === "take" || verb === "amend" ? waitsFor(number) : [];
    if (wait.length) {
      go(cards.indexOf(cardOf[wait[0]]));
      return say("Passage " + wait[0] + " offers notes of passage " + number + " to the other hand: judge it first. If they stay (s), their digits are asked then; if they go (t), nothing is left to ask of them.");
    }
    // Stet leaves what stands, and decides no digit that is suggested: those stay open.
    const live = found.filter((f) => !data.findings[f].entry && !standing(f));
    if (verb === "stet" && why && !passage.handover && !before && live.length && asksDigits(number)) {
      const rolls = rollEntries(passage, "stet", {}, quote(why));
      here = cards.indexOf(card);
      change(() => {
        for (const f of live) state.findings[f] = letEntry(f, why);
        if (rolls) state.decided[mark(number)] = { verb, why, entry: rolls, order: order() };
      }, reasonFor(live) + (live.every(isQuery) ? " answered" : " let stand") + "; the digits here are still open: t takes them, a changes them.");
      return;
    }
    const written = entries(number, verb, why, preview[number], goesToo(card));
    if (written.text && why && !ofDigits) written.text = entries(number, verb, "", preview[number], goesToo(card)).text || written.text;
    // Digits that are taken or amended stay so when what is found there is let stand.
    if (verb === "stet" && found.length && before && !passage.handover && (before.verb === "take" || before.verb === "amend")) {
      letAll(found, why, card.querySelector(".reason"));
      if (why) next(1, true);
      return;
    }
    if (written.not) {
      if (written.wants || !why && (verb === "query" || verb === "stet" && found.length)) ask(card.querySelector(".reason"), () => decide(card, verb));
      return say(written.not);
    }
    here = cards.indexOf(card);
    // A query and what is decided stand side by side: the question is asked of that. What two editors say stands apart.
    const digits = (d) => d && (d.verb === "take" || d.verb === "amend"), touched = beforeTouch[number] || before;
    if (verb === "query" && before && before.verb !== "query" && !passage.handover) {
      const asksToo = Object.assign({}, before, { query: written.text, asks: why });
      if (ofOther(before.by)) asksToo.apart = [...(before.apart || []).filter((part) => part.by !== myInitials()), { by: myInitials(), entry: written.text, asks: why }];
      else asksToo.entry = before.entry.replace(before.query || "", "") + written.text;
      change(() => { state.decided[mark(number)] = asksToo; }, "Passage " + number + " queried; " + (digits(before) ? "its digits stay " : "it stays ") + words[before.verb] + (ofOther(before.by) ? " by " + before.by : "") + ".");
      return next(1, true);
    }
    const like = alsoLike(card, preview[number]);
    const asks = verb !== "query" && !passage.handover && touched && (touched.verb === "query" ? { query: touched.entry, asks: touched.why } : touched.query && { query: touched.query, asks: touched.asks });
    const asker = asks && ((touched.apart || []).find((part) => part.entry === asks.query) || touched).by, gaveWay = before && before.verb !== "query" && ofOther(before.by) && !partSaved(before) ? before.by : "";
    change(() => {
      // What was let stand of the text before stays so.
      const decision = { verb, entry: written.text, order: order() };
      // Nor what was rolled, or left as it is written.
      const stays = digits({ verb }) && touched && (half(number, touched) ? touched.entry.replace(ownQuery(touched), "") : touched.stays);
      if (touched) decision.apart = (touched.apart || []).filter((part) => part.entry !== (asks || {}).query);
      if (stays && ofOther(touched.by)) decision.apart.push({ by: touched.by, entry: stays });
      else if (stays) Object.assign(decision, { stays, entry: stays + written.text });
      if (stays && (touched.rolled || touched.verb.startsWith("roll"))) decision.rolled = touched.rolled || touched.verb;
      if (why && ofDigits && !(asks && asks.asks === why)) decision.why = why;
      if (asks) Object.assign(decision, asks);
      if (asks && ofOther(asker)) decision.apart.push({ by: asker, entry: asks.query, asks: asks.asks }); else if (asks) decision.entry += asks.query;
      if (verb === "amend") decision.fingers = preview[number];
      if (Object.keys(written.came || {}).length) decision.came = written.came;
      if (goesToo(card) && (verb === "take" || verb === "amend")) decision.too = true;
      if ((verb === "take" || verb === "amend") && notIn(number)) decision.not = notIn(number);
      delete preview[number];
      delete beforeTouch[number];
      state.decided[mark(number)] = decision;
      for (const f of written.lets || []) state.findings[f] = answerEntry(f, why || "by the digits that were decided");
      if (passage.handover) decideAlike(number, verb, why);
    }, "Passage " + number + " " + (passage.handover && verb === "stet" ? "declined: the notes stay with their hand" : words[verb]) + (passage.handover && alikeOffers(number, verb).length ? ", and " + wordList(alikeOffers(number, verb).map((other) => "passage " + other)) + ", where the same keys stand." : verb === "take" || verb === "amend" ? like : ".") + (asks ? " The query stays" + (ofOther(asker) ? " " + asker + "\u2019s." : ".") : "") + (gaveWay ? " What " + gaveWay + " decided here and had not saved gives way; u brings it back." : "") + (why && (written.lets || []).length ? " The reason goes to " + reasonFor(written.lets) + "." : "") + ((written.lets || []).some(isQuery) ? " That answers the query here; s and words answer it in words." : "") + (written.left ? " What is found there stays open: " + plural(written.left, "finding") + "." : ""));
    card.querySelector(".choices").hidden = true;
    const left = written.left && findingsLeft(number, state.decided[mark(number)]);
    // Past what is a note only the page goes on, as after any other key; it stays open, and N comes back to it.
    if (left && onlyNotes(number)) {
      say("The digits of passage " + number + " are " + words[verb] + ". Still open there: " + plural(left, "note") + " of lint; N comes back to it, and s and a reason lets it stand.");
      return next(1, true);
    }
    if (left) return say("The digits of passage " + number + " are " + words[verb] + ". Still open here: " + plural(written.left, "finding") + "; s and a reason lets " + (written.left === 1 ? "it" : "them") + " stand, n goes on.");
    const against = (clashes()[number] || []).map(([, other]) => other);
    if (verb.startsWith("roll") && !judged(card)) return say("Passage " + number + " " + leftIn(number) + ". The next run works out digits for what is rolled; t takes those shown here, a changes them, n goes on.");
    if (half(number, state.decided[mark(number)])) return say("What stands stays; the other digits here are still open: t takes them, a changes them.");
    if (against.length) say(byId("said").textContent + " It goes against passage " + [...new Set(against)].join(", ") + ": what was decided last holds. u undoes it.");
    next(1, true);
  }

  // Stands on a digit of a passage, to give another: on one that is asked, or that stands or is decided.
  function standOn(card, key, quietly) {
    if (!key || !key.classList.contains("given")) {
      choose(card, key, true);
      const note = key && data.notes[key.dataset.note];
      if (note && !quietly) say("m. " + note.m + ", beat " + note.b + ", " + note.p + ": " + key.querySelector("b").textContent + (key.classList.contains("changed") ? ", changed from " + spelt(suggestedAt(key.dataset.note)) : heldDigit(key.dataset.note) ? ", decided" : ", suggested") + "; 1 to 5 give it another finger.");
      return;
    }
    key.focus();
    pick(Number(key.dataset.note));
  }

  // Opens the choices of one note.
  function choose(card, key, focus) {
    picked = -1;
    if (!key) return say("No finger can be changed here.");
    const id = key.dataset.note, owner = data.passages[card.dataset.number].bare && cardOf[data.at[id]];
    const there = owner && owner !== card && owner.querySelector('.finger[data-note="' + id + '"]:not(:disabled)');
    if (there) { // a digit is given in one passage, that which asks it
      go(cards.indexOf(owner));
      return choose(owner, there, true);
    }
    const box = card.querySelector(".choices");
    box.replaceChildren();
    const note = data.notes[id];
    const label = document.createElement("span");
    label.textContent = "m. " + note.m + ", beat " + note.b + ", " + note.p + ":";
    box.append(label);
    const decided = state.decided[mark(card.dataset.number)], now = (preview[card.dataset.number] || (decided && decided.verb === "amend" && decided.fingers) || {})[id] || suggestedAt(id);
    const offer = (finger, text) => {
      const button = document.createElement("button");
      button.type = "button";
      button.textContent = text;
      button.dataset.finger = finger;
      button.setAttribute("aria-pressed", String(String(finger) === String(now)));
      button.addEventListener("click", () => { touch(card, key, finger); });
      box.append(button);
    };
    offer(suggestedAt(id), spelt(suggestedAt(id)) + (note.s ? " as in the text" : heldDigit(id) ? " as decided" : " as suggested"));
    for (const c of data.choices[id] || []) offer(c.f, c.f + ", " + asLikely(c.c));
    for (let f = 1; f <= 5; f++) if (!asGiven(id, f) && !(data.choices[id] || []).some((c) => c.f === f)) offer(f, f + ", this digit alone");
    if (note.l) box.append(signField(card, key, String(now).includes("-") ? now : note.r || String(now)));
    box.hidden = false;
    box.dataset.note = id;
    frameNote(card, id);
    if (focus) key.focus({ preventScroll: true });
    key.scrollIntoView({ block: "nearest", inline: "nearest" });
    keepInView(card, id, box);
  }

  // The note on which the mark stands has a frame in the notation, too: its head, and its digit where one is drawn.
  function frameNote(card, id) {
    for (const old of document.querySelectorAll(".mark-frame")) old.remove();
    for (const drawing of [card, byId("pages")]) {
      for (const sign of drawing ? drawing.querySelectorAll('.fing[data-startid="#n' + id + '"], [data-id="n' + id + '"]') : []) {
        const drawn = sign.querySelector(".notehead") || sign, box = drawn.getBBox ? drawn.getBBox() : { width: 0 }, room = 90;
        if (!box.width) continue;
        const frame = document.createElementNS(svgNS, "rect");
        for (const [key, value] of Object.entries({ class: "mark-frame", x: box.x - room, y: box.y - room, width: box.width + 2 * room, height: box.height + 2 * room, rx: room })) frame.setAttribute(key, value);
        drawn.parentNode.insertBefore(frame, drawn);
      }
    }
  }

  // From the note that was given a finger by its key the mark goes on to the next, as a row of digits is keyed.
  function goOn(card, key) {
    const all = [...card.querySelectorAll(".finger:not(:disabled):not(.given)")], next = all[all.indexOf(key) + 1];
    if (!next) return;
    const said = byId("said").textContent, note = data.notes[next.dataset.note];
    choose(card, next, true);
    say(said + " The mark is on " + note.p + " (m. " + note.m + ", beat " + note.b + ") now.");
  }

  // The choices are brought above what lies over the page's end, with the music of the note where both find room.
  function keepInView(card, id, box) {
    if (inScore()) return box.scrollIntoView({ block: "nearest" });
    const verbs = card.querySelector(".verbs"), over = getComputedStyle(verbs).position === "sticky" ? verbs.offsetHeight : 0;
    const room = innerHeight - document.querySelector(".desk").offsetHeight - over - 8, bottom = box.getBoundingClientRect().bottom;
    const sign = [...card.querySelectorAll('[data-startid="#n' + id + '"], [data-id="n' + id + '"]')].find((one) => one.getBoundingClientRect().height > 0);
    const top = sign ? sign.getBoundingClientRect().top - 60 : bottom;
    if (bottom > room || bottom - top > room) return scrollBy(0, bottom - room);
    if (top < 0) scrollBy(0, Math.max(top, bottom - room));
  }

  // The fingers of a note's sign (a trill, a turn), in the order of playing.
  function signField(card, key, row) {
    const note = data.notes[key.dataset.note], label = document.createElement("label"), field = document.createElement("input");
    field.className = "sign-row";
    field.size = 7;
    field.autocomplete = "off";
    field.value = row;
    field.addEventListener("change", () => {
      const given = field.value.trim().replace(/[ ,]+/g, "-");
      if (!/^[1-5](-[1-5])+$/.test(given) || !note.l.includes(given.split("-").length)) return say("The sign takes " + note.l.join(" or ") + " fingers in the order of playing, as 1-3.");
      touch(card, key, given);
    });
    label.append("all fingers of its sign: ", field);
    return label;
  }

  // What stood of a passage before another finger of it was touched: Escape leaves the choice, and it stands again.
  const beforeTouch = {};
  // What was decided is open while another finger is chosen; a question that was asked stays asked.
  function untie(number) {
    const was = state.decided[mark(number)];
    if (was.verb === "query") return;
    beforeTouch[number] = was;
    begin();
    delete state.decided[mark(number)];
    const part = (was.apart || []).find((one) => one.entry === was.query);
    if (was.query) state.decided[mark(number)] = { verb: "query", why: was.asks, entry: was.query, order: was.order, by: (part || was).by, run: was.run, apart: (was.apart || []).filter((one) => one !== part) };
    keep();
  }
  // The question that stands in a decision's own entry: another editor's stands apart.
  const ownQuery = (decision) => (decision.query && !(decision.apart || []).some((part) => part.entry === decision.query) ? decision.query : "");
  function giveUp(card) {
    const number = card.dataset.number, changed = preview[number], was = beforeTouch[number];
    card.querySelector(".choices").hidden = true;
    delete preview[number];
    delete beforeTouch[number];
    delete chosen[number];
    if (changed && was) change(() => { state.decided[mark(number)] = was; }, "The change is given up: passage " + number + " is " + words[was.verb] + " as before."); else { draw(); say(changed ? "The change is given up." : "Nothing is changed."); }
    card.focus({ preventScroll: true });
  }

  // Touches another finger: the passage that follows from it appears, up to where both rejoin.
  function touch(card, key, finger) {
    const number = card.dataset.number, id = key.dataset.note, note = data.notes[id];
    // What was changed before stays, whether it is kept already or not.
    const amended = (state.decided[mark(number)] || {}).verb === "amend" ? state.decided[mark(number)].fingers : null, before = preview[number] || amended;
    const fingers = Object.assign({}, before), own = chosen[number] = new Set(chosen[number] || Object.keys(before || {}).map(Number)), kept = [];
    own.add(Number(id));
    if (before && String(before[id]) === String(finger)) {
      choose(card, key, false);
      return say(finger + " stands on " + note.p + " already, by what you chose; Amend keeps the passage.");
    }
    const choice = (data.choices[id] || []).find((c) => c.f === finger);
    if (asGiven(id, finger)) {
      for (const c of data.choices[id] || []) for (const [n, f] of c.p) if (fingers[n] === f && !own.has(n)) delete fingers[n];
      delete fingers[id]; // it stays among those chosen: what follows from another choice leaves it alone
    } else if (choice) {
      // What follows from the choice, but for digits that the editor has chosen before: those stay.
      const elsewhere = (n) => explicit[n] !== undefined && explicit[n] !== number;
      for (const [n, f] of choice.p) if (elsewhere(n)) continue; else if (!own.has(n)) { if (f === data.notes[n].f && n !== Number(id)) delete fingers[n]; else fingers[n] = f; } else if (n !== Number(id) && (fingers[n] || data.notes[n].f) !== f) kept.push(n);
      fingers[id] = finger;
    } else {
      fingers[id] = finger;
    }
    // Another voice on the same key has the same finger.
    if (note.v && data.notes[note.v] && !data.notes[note.v].g) { if (fingers[id]) fingers[note.v] = fingers[id]; else delete fingers[note.v]; }
    if (Object.keys(fingers).length) preview[number] = fingers; else delete preview[number];
    if (state.decided[mark(number)]) untie(number);
    draw();
    choose(card, key, false);
    const stood = (n) => String((before && before[n]) || suggestedAt(n)), stands = (n) => String(fingers[n] || suggestedAt(n));
    const changed = [...new Set([...Object.keys(before || {}), ...Object.keys(fingers)])].filter((n) => stood(n) !== stands(n)).sort((a, b) => data.notes[a].t - data.notes[b].t);
    const others = changed.filter((n) => n !== String(id)).map((n) => data.notes[n].p + " " + spelt(stood(n)) + " → " + spelt(stands(n)));
    const also = others.length ? " (" + others.slice(0, 6).join(", ") + (others.length > 6 ? " and " + (others.length - 6) + " more" : "") + ")" : "";
    const moved = Object.keys(fingers).filter((n) => !asGiven(n, fingers[n])).length, twice = strikesToo(number, id, finger, fingers);
    say((twice ? finger + " is asked of " + twice + " too, struck at once with it: one finger takes two keys there. " : "") + (!moved ? "As suggested: Amend keeps it so." : choice || others.length ? finger + " on " + note.p + ": " + plural(changed.length, "digit") + (changed.length === 1 ? " changes" : " change") + also + (own.size > 1 || !choice ? "; how likely it is together with the others that you chose the next run says." : "; it is " + asLikely(choice.c) + ".") + (kept.length ? " What you chose before stays: " + kept.map((n) => (fingers[n] || data.notes[n].f) + " on " + data.notes[n].p).join(", ") + "; the next run works out what lies between." : "") + " Amend keeps the passage." : finger + " on " + note.p + ": only this digit changes; Amend keeps it, and the others as they are shown. Change those too that do not fit it."));
  }

  // The finger that strikes a note, as it was chosen or is suggested.
  const strikes = (fingers) => (n) => Number(String(fingers[n] || data.notes[n].w || data.notes[n].f).split("-")[0]);
  // The other keys of a grip to which a finger is given already.
  function strikesToo(number, id, finger, fingers) {
    const strike = strikes(fingers), here = data.notes[id];
    return data.passages[number].notes.filter((n) => n !== Number(id) && data.notes[n].i === here.i && data.notes[n].o === here.o && data.notes[n].p !== here.p && strike(n) === Number(String(finger).split("-")[0])).map((n) => data.notes[n].p).join(" and ");
  }

  // Where one finger is to take two keys at once, with a finger that was chosen; "" where it is nowhere.
  function takesTwo(number, fingers) {
    for (const id of data.passages[number].notes.filter((n) => fingers[n] !== undefined)) {
      const other = strikesToo(number, id, fingers[id], fingers), note = data.notes[id];
      if (other) return "Finger " + String(fingers[id]).split("-")[0] + " is to take " + note.p + " and " + other + " at once (m. " + note.m + ", beat " + note.b + ")";
    }
    return "";
  }

  // Where fingers of a chord lie against the order of its keys, with one that was chosen; "" where they do nowhere. The terminal
  // refuses such digits unless they are asked for, too.
  function liesAgainst(number, fingers) {
    const strike = strikes(fingers), left = data.passages[number].hand === "L";
    for (const id of data.passages[number].notes.filter((n) => fingers[n] !== undefined)) {
      const a = data.notes[id];
      for (const n of data.passages[number].notes) {
        const b = data.notes[n];
        if (n === id || !b || b.i !== a.i || b.o !== a.o || keyOf(b.p) === keyOf(a.p) || !strike(n) || strike(n) === strike(id)) continue;
        if ((keyOf(a.p) > keyOf(b.p)) !== (strike(id) > strike(n)) !== left) return strike(id) + " on " + a.p + " lies on the wrong side of " + strike(n) + " on " + b.p + ", struck with it (m. " + a.m + ", beat " + a.b + ")";
      }
    }
    return "";
  }

  for (const [index, card] of cards.entries()) {
    // Digits of the passage itself: those of the other hand in its picture stay as they are when it is decided.
    const own = new Set((data.passages[card.dataset.number] || {}).notes || []);
    for (const sign of card.querySelectorAll(".fing[data-startid]")) sign.classList.toggle("own", own.has(Number(sign.dataset.startid.slice(2))));
    card.addEventListener("focusin", () => { if (here !== index) standStill(index); });
    card.querySelector(".row").addEventListener("click", (event) => {
      event.stopPropagation();
      if (here === index && card.classList.contains("open") && !allOpen && event.detail > 0 && card.dataset.clicked) { unfold(card, false); delete card.dataset.clicked; return; }
      standStill(index);
      unfold(card, true);
      card.dataset.clicked = "1";
    });
    card.addEventListener("click", (event) => {
      const verb = event.target.closest("[data-verb]");
      if (verb) return decide(card, verb.dataset.verb);
      const key = event.target.closest(".finger");
      if (key && key.classList.contains("given")) return pick(Number(key.dataset.note));
      if (key && !key.disabled) return choose(card, key, false);
      const sign = event.target.closest(".fing.added, .piece-of .fing.asked");
      if (sign) {
        const button = card.querySelector('.finger[data-note="' + sign.dataset.startid.slice(2) + '"]:not(:disabled)');
        if (button) return choose(card, button, true);
      }
      clickFinding(card, event.target);
    });
    card.querySelector(".reason").addEventListener("change", (event) => {
      if (asked && asked.field === event.target && entered === event.target) return;
      const number = card.dataset.number, decision = state.decided[mark(number)], why = event.target.value.trim();
      const written = decision && entries(number, decision.verb, why, decision.fingers, goesToo(card));
      if (written && written.text) change(() => {
        for (const f of foundIn(number)) if (why && standing(f) && standing(f).why === decision.why) state.findings[f] = letEntry(f, why);
        Object.assign(state.decided[mark(number)], { why, entry: (decision.stays || "") + written.text + ownQuery(decision) });
      }, "Reason kept.");
    });
  }
