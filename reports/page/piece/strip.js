  // The strip of the piece: what is judged is drawn as a line, what is left in its height.
  const marks = [...document.querySelectorAll(".course .of")];
  for (const link of marks) link.addEventListener("click", (event) => {
    event.preventDefault();
    go(cards.indexOf(cardOf[link.dataset.number]));
  });

  function drawStrip() {
    for (const link of marks) {
      const card = cardOf[link.dataset.number];
      link.classList.toggle("done", !!card && judged(card));
      link.classList.toggle("at", !!card && card.classList.contains("here"));
    }
    const open = new Set();
    for (const card of cards) {
      if (judged(card) || quiet(card)) continue;
      const also = (data.passages[card.dataset.number].also || []).map((place) => [place.f, place.l]); // where it is decided with it
      for (const [first, last] of [[Number(card.dataset.first), Number(card.dataset.last)], ...also]) for (let m = first; m <= last; m++) open.add(m);
    }
    byId("left").textContent = open.size ? "Something is open in " + open.size + " of " + data.places.length + " measures." : "Nothing is open.";
  }

  // The whole score: the passage of a digit or note that is clicked opens below it, to be judged there.
  const inScore = () => document.documentElement.dataset.view === "score";
  function view(name) {
    if (name === "score" && !hasScore) return say("The score is not drawn on this page.");
    document.documentElement.dataset.view = name;
    try { sessionStorage.setItem(location.pathname, name); } catch { /* then the page opens with its passages */ }
    document.documentElement.style.setProperty("--desk", document.querySelector(".desk").offsetHeight + "px");
    const course = document.querySelector(".course"); // the score begins below it
    if (course) document.documentElement.style.setProperty("--course", Math.ceil(course.getBoundingClientRect().height) + 12 + "px");
    byId("view-score").setAttribute("aria-pressed", String(name === "score"));
    byId("view-passages").setAttribute("aria-pressed", String(name !== "score"));
    drawScore();
    if (here < 0 && cards.length) stand(Math.max(0, cards.findIndex((card) => !judged(card))));
    if (here < 0) return;
    if (inScore()) standInScore(cards[here]); else cards[here].scrollIntoView({ block: "start" });
  }
  byId("view-score").addEventListener("click", () => view("score"));
  byId("view-passages").addEventListener("click", () => view("passages"));

  // The desk grows with what it says: a passage that is judged in the score lies above it.
  document.documentElement.style.setProperty("--desk", document.querySelector(".desk").offsetHeight + "px");
  new ResizeObserver(() => document.documentElement.style.setProperty("--desk", document.querySelector(".desk").offsetHeight + "px")).observe(document.querySelector(".desk"));

  let framed = [];
  function standInScore(card) {
    for (const frame of framed) frame.remove();
    framed = [];
    if (!inScore()) return;
    const p = data.passages[card.dataset.number], first = Number(card.dataset.first), last = Number(card.dataset.last);
    for (const system of systemsOf(first, last)) {
      const inside = [...system.querySelectorAll("[data-m]")].filter((m) => Number(m.dataset.m) >= first && Number(m.dataset.m) <= last);
      const frame = band(system, inside, p.handover ? "" : p.hand, "stand-band");
      system.prepend(frame); // behind the music
      framed.push(frame);
    }
    if (!framed.length) return;
    // All of it is brought between the strip above and what lies below, its beginning where it does not fit.
    const dock = cards[here].getBoundingClientRect(), strip = document.querySelector(".course"), above = strip ? strip.getBoundingClientRect().height + 30 : 30;
    const below = dock.width < innerWidth * 0.7 ? innerHeight - document.querySelector(".desk").offsetHeight : dock.top;
    const top = framed[0].getBoundingClientRect().top, bottom = framed[framed.length - 1].getBoundingClientRect().bottom;
    scrollBy(0, top - Math.max(above, (above + below - (bottom - top)) / 2));
  }

  byId("pages") && byId("pages").addEventListener("click", (event) => {
    const sign = event.target.closest("[data-startid], [data-id]");
    if (!sign) return;
    const id = (sign.dataset.startid || "#" + sign.dataset.id).slice(2), number = data.at[id];
    const card = number && cardOf[number];
    if (card) go(cards.indexOf(card));
    if (!card || data.notes[id] && data.notes[id].g && data.says[id]) pick(Number(id));
  });

  // What is judged here and not run again yet is drawn in the score as a bracket above what is drawn for the right hand, or below
  // what is drawn for the left: it touches no note, word or digit.
  let bars = [];
  const extents = new Map(); // by measure: the upper and lower edge of all that is drawn in it
  function extent(measure) {
    const index = measure.dataset.m;
    if (!extents.has(index)) {
      const box = measure.getBBox();
      extents.set(index, [box.y, box.y + box.height]);
    }
    return extents.get(index);
  }
  // The text of a digit as it is drawn.
  const written = (sign) => sign.querySelector("tspan tspan") || sign.querySelector("tspan") || sign.querySelector("text");
  // A digit that is reopened is struck through; one that is given anew stands in its frame, behind that of the text where one
  // stands there: that stays.
  function again(signs, n, digit) {
    const sign = signs[signs.length - 1];
    if (!sign) return;
    if (!digit) return sign.classList.add("reopened");
    sign.dataset.was = sign.dataset.was || written(sign).textContent;
    const stays = inText(n);
    written(sign).textContent = stays && signs.length === 1 ? sign.dataset.was + " " : stays ? besideText(n, digit) : digit;
    if (stays && signs.length === 1) written(sign).append(behind(document.createElementNS(svgNS, "tspan"), n, digit));
    sign.classList.add("altered");
  }
  // The signs of a note's open digit in the score, but for an alternative beside it.
  const openSigns = (n) => [...byId("pages").querySelectorAll('.fing[data-startid="#n' + n + '"].asked')].filter((sign) => !/^\(\d/.test(sign.textContent.trim()));
  function drawScore() {
    for (const bar of bars) bar.remove();
    bars = [];
    for (const sign of document.querySelectorAll("#pages .fing.reopened, #pages .fing[data-was]")) {
      sign.classList.remove("reopened", "altered");
      if (sign.dataset.was) written(sign).textContent = sign.dataset.was;
    }
    if (!hasScore || !inScore()) return;
    markAnswered(byId("pages"));
    markDeclined(byId("pages"));
    for (const n of reopened()) again(byId("pages").querySelectorAll('.fing[data-startid="#n' + n + '"]'), n, state.findings[reopenKey(n)].digit);
    // What is chosen, or came from a like place, stands in the music, too.
    for (const card of cards) {
      const fingers = shownFingers(card) || {};
      for (const [n, digit] of Object.entries(fingers)) {
        const note = data.notes[n];
        if (!note || asGiven(n, digit)) continue;
        again(openSigns(n), n, note.l ? String(digit) : spelt(digit));
      }
    }
    // So does what comes again of a passage that is decided.
    for (const [n, [digit, other]] of Object.entries(cameAgain)) {
      if (other && explicit[n] === undefined) again(openSigns(n), n, spelt(digit));
    }
    const wanted = [], stretches = [];
    for (const card of cards) {
      if (!judged(card)) continue;
      const p = data.passages[card.dataset.number], held = ["take", "amend"].includes((state.decided[mark(card.dataset.number)] || {}).verb);
      stretches.push([p, p.first, p.last], ...(held ? againHeld(card.dataset.number) : []).map((place) => [p, place.f, place.l]));
    }
    for (const [p, first, last] of stretches) {
      for (const system of systemsOf(first, last)) {
        const inside = [...system.querySelectorAll("[data-m]")].filter((m) => Number(m.dataset.m) >= first && Number(m.dataset.m) <= last);
        const edges = inside.map(extent), left = Number(inside[0].dataset.x.split(" ")[0]) + 60, right = Number(inside[inside.length - 1].dataset.x.split(" ")[1]) - 60;
        const down = p.hand === "L", y = down ? Math.max(...edges.map((e) => e[1])) + 90 : Math.min(...edges.map((e) => e[0])) - 90;
        wanted.push([system, "M" + left + " " + (down ? y - 70 : y + 70) + "V" + y + "H" + right + "V" + (down ? y - 70 : y + 70)]);
      }
    }
    for (const [system, d] of wanted) {
      const bar = document.createElementNS(svgNS, "path");
      bar.setAttribute("class", "judged-bar");
      bar.setAttribute("d", d);
      system.prepend(bar); // behind the music
      bars.push(bar);
    }
  }
