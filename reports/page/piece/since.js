  // What is new since the page of the run before, as this browser remembers it: passages where that page asked nothing of the
  // hand, and those that were without doubt there.
  const askedHere = {};
  for (const p of Object.values(data.passages)) if (!p.handover) (askedHere[p.hand] = askedHere[p.hand] || []).push([p.first, p.last, (p.doubts || []).length ? 1 : 0]);
  // And each open digit and finding by itself, by names that outlive a run.
  const openHere = {};
  for (const p of Object.values(data.passages)) {
    for (const n of p.open || []) openHere[[data.notes[n].i, data.notes[n].o, data.notes[n].k].join(" ")] = ["digit", data.notes[n].i];
    for (const f of p.findings || []) openHere[f] = ["finding", p.first];
  }
  let askedBefore = null, openBefore = null;
  try {
    const was = JSON.parse(store.get(data.key + "/asked" + location.pathname));
    if (was) [askedBefore, openBefore] = was.run === data.run ? [was.before, was.openBefore] : [was.at, was.open];
  } catch { /* not ours */ }
  store.set(data.key + "/asked" + location.pathname, JSON.stringify({ run: data.run, at: askedHere, before: askedBefore, open: Object.keys(openHere), openBefore: openBefore || null }));

  // Why a piece is back is said on top.
  if (byId("back") && openBefore) {
    const fresh = Object.entries(openHere).filter(([name]) => !openBefore.includes(name)).map((one) => one[1]), old = Object.keys(openHere).length - fresh.length;
    const of = (kind) => fresh.filter((one) => one[0] === kind), at = [...new Set(fresh.map((one) => one[1]))].sort((a, b) => a - b).map((i) => data.places[i]);
    const said = ["digit", "finding"].filter((kind) => of(kind).length).map((kind) => plural(of(kind).length, kind)).join(" and ");
    byId("back").append(said ? " New since the page before this one: " + said + ", " + (at.length > 1 ? "mm. " : "m. ") + at.slice(0, 8).join(", ") + (at.length > 8 ? " …" : "") + "." + (old ? " The rest was open there too." : "") : " Nothing of it is new: it was open on the page before this one too.");
  }

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
