  // What is new since the page of the run before, as this browser remembers it: passages where that page asked nothing of the
  // hand, and those that were without doubt there.
  const askedHere = {};
  for (const p of Object.values(data.passages)) if (!p.handover) (askedHere[p.hand] = askedHere[p.hand] || []).push([p.first, p.last, (p.doubts || []).length ? 1 : 0]);
  let askedBefore = null;
  try {
    const was = JSON.parse(store.get(data.key + "/asked" + location.pathname));
    if (was) askedBefore = was.run === data.run ? was.before : was.at;
  } catch { /* not ours */ }
  store.set(data.key + "/asked" + location.pathname, JSON.stringify({ run: data.run, at: askedHere, before: askedBefore }));

  function newHere(p) {
    if (!askedBefore || p.handover || !(p.doubts || []).length && !(p.open || []).length) return "";
    const met = (askedBefore[p.hand] || []).filter(([first, last]) => first <= p.last && last >= p.first);
    if (!met.length) return "New: the page before this one asked nothing of this hand here.";
    return (p.doubts || []).length && !met.some((one) => one[2]) ? "On the page before this one nothing was in doubt here." : "";
  }
  for (const card of cards) {
    const said = newHere(data.passages[card.dataset.number]);
    if (!said) continue;
    const line = document.createElement("p"), brief = card.querySelector(".brief");
    line.className = "why";
    line.textContent = said;
    card.querySelector(".clash").after(line);
    brief.textContent += "; new";
    card.dataset.about += "|new";
  }
  if (byId("show-kind") && cards.some((card) => card.dataset.about.split("|").includes("new"))) {
    const count = cards.filter((card) => card.dataset.about.split("|").includes("new")).length;
    byId("show-kind").append(new Option("new since the page before (" + count + ")", "new"));
  }
