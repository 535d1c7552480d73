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
    for (const card of cards) if (!judged(card)) for (let m = Number(card.dataset.first); m <= Number(card.dataset.last); m++) open.add(m);
    byId("left").textContent = open.size ? "Something is open in " + open.size + " of " + data.places.length + " measures." : "Nothing is open.";
  }

  // The whole score: the passage of a digit or note that is clicked opens below it, to be judged there.
  const inScore = () => document.documentElement.dataset.view === "score";
  function view(name) {
    if (name === "score" && !hasScore) return say("The score is not drawn on this page.");
    document.documentElement.dataset.view = name;
    document.documentElement.style.setProperty("--desk", document.querySelector(".desk").offsetHeight + "px");
    byId("view-score").setAttribute("aria-pressed", String(name === "score"));
    byId("view-passages").setAttribute("aria-pressed", String(name !== "score"));
    if (here < 0 && cards.length) stand(Math.max(0, cards.findIndex((card) => !judged(card))));
    if (here < 0) return;
    if (inScore()) standInScore(cards[here]); else cards[here].scrollIntoView({ block: "start" });
  }
  byId("view-score").addEventListener("click", () => view("score"));
  byId("view-passages").addEventListener("click", () => view("passages"));

  // The desk grows with what it says: a passage that is judged in the score lies above it.
  new ResizeObserver(() => document.documentElement.style.setProperty("--desk", document.querySelector(".desk").offsetHeight + "px")).observe(document.querySelector(".desk"));

  let framed = [];
  function standInScore(card) {
    for (const frame of framed) frame.remove();
    framed = [];
    if (!inScore()) return;
    const first = Number(card.dataset.first), last = Number(card.dataset.last);
    for (const system of systemsOf(first, last)) {
      const inside = [...system.querySelectorAll("[data-m]")].filter((m) => Number(m.dataset.m) >= first && Number(m.dataset.m) <= last);
      const left = Number(inside[0].dataset.x.split(" ")[0]), right = Number(inside[inside.length - 1].dataset.x.split(" ")[1]);
      const [top, bottom] = system.dataset.y.split(" ").map(Number);
      const frame = document.createElementNS(svgNS, "rect");
      frame.setAttribute("class", "stand-frame");
      frame.setAttribute("x", left - 220);
      frame.setAttribute("y", top - 950);
      frame.setAttribute("width", right - left + 300);
      frame.setAttribute("height", bottom - top + 1900);
      system.prepend(frame); // behind the music
      framed.push(frame);
    }
    if (!framed.length) return;
    const box = framed[0].getBoundingClientRect(), dock = cards[here].getBoundingClientRect();
    scrollBy(0, box.top - Math.max(90, (Math.min(innerHeight, dock.top) - box.height) / 2));
  }

  byId("pages") && byId("pages").addEventListener("click", (event) => {
    const sign = event.target.closest("[data-startid], [data-id]");
    if (!sign) return;
    const id = (sign.dataset.startid || "#" + sign.dataset.id).slice(2), number = data.at[id];
    const card = number && cardOf[number];
    if (card) return go(cards.indexOf(card));
    say(data.says[id] || "Nothing is asked about this note.");
  });

  // What is judged here and not run again yet is drawn in the score as a bar below its measures.
  let bars = [];
  function drawScore() {
    for (const bar of bars) bar.remove();
    bars = [];
    if (!hasScore) return;
    for (const card of cards) {
      if (!judged(card)) continue;
      const p = data.passages[card.dataset.number];
      for (const system of systemsOf(p.first, p.last)) {
        const inside = [...system.querySelectorAll("[data-m]")].filter((m) => Number(m.dataset.m) >= p.first && Number(m.dataset.m) <= p.last);
        const [top, bottom] = system.dataset.y.split(" ").map(Number);
        const bar = document.createElementNS(svgNS, "path");
        const y = p.hand === "L" ? bottom + 420 : top - 420;
        bar.setAttribute("class", "judged-bar");
        bar.setAttribute("d", "M" + (Number(inside[0].dataset.x.split(" ")[0]) + 40) + " " + y + "H" + (Number(inside[inside.length - 1].dataset.x.split(" ")[1]) - 40));
        system.prepend(bar); // behind the music
        bars.push(bar);
      }
    }
  }
