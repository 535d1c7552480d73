  // Redistributions that give the same keys to the other hand where both hands have the same: the answer to the first holds for
  // the others, but for those that are answered by themselves.
  const wordList = (list) => (list.length < 2 ? list.join("") : list.slice(0, -1).join(", ") + " and " + list[list.length - 1]);
  function alikeOffers(number, verb) {
    const box = cardOf[number] && cardOf[number].querySelector(".alike-offers");
    if (!box || !box.checked || verb !== "take" && verb !== "stet") return [];
    return data.passages[number].like.filter((other) => { const was = state.decided[mark(other)]; return !was || was.alike === Number(number); });
  }
  function decideAlike(number, verb, why) {
    for (const other of alikeOffers(number, verb)) {
      const decision = { verb, entry: entries(String(other), verb, why).text, order: order(), alike: Number(number) };
      if (why) decision.why = why;
      state.decided[mark(other)] = decision;
    }
  }
