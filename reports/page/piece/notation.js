  // Notation of any measures, taken out of the whole score that the page carries: the systems in which they stand, the measures
  // asked for between brackets. fingers, by note, are shown in place of the digits that print.
  const score = { measures: new Map() };
  for (const measure of document.querySelectorAll("#pages [data-m]")) score.measures.set(Number(measure.dataset.m), measure);
  const hasScore = score.measures.size > 0;
  const svgNS = "http://www.w3.org/2000/svg";

  function systemsOf(first, last) {
    const out = [];
    for (let m = first; m <= last; m++) {
      const measure = score.measures.get(m), system = measure && measure.closest("[data-y]");
      if (system && !out.includes(system)) out.push(system);
    }
    return out;
  }

  // The edges of a system: those of its picture.
  function edges(system) {
    const [top, bottom] = system.dataset.y.split(" ").map(Number);
    const inner = system.closest("svg");
    const box = inner.viewBox.baseVal;
    const shift = 400; // the margin inside the drawing
    return { x: box.x, width: box.width, y: box.y, bottom: box.y + box.height, top: shift + top, low: shift + bottom };
  }

  // The staves of a measure, each with its upper and lower line.
  function staves(measure) {
    const out = [];
    for (const lines of measure.querySelectorAll(":scope > .staff > path:first-child")) {
      const ys = [...lines.getAttribute("d").matchAll(/M[-\d.]+[ ,]([-\d.]+)L/g)].map((m) => Number(m[1]));
      if (ys.length) out.push([Math.min(...ys), Math.max(...ys)]);
    }
    return out;
  }

  // A pale ground behind measures of a system: of the staff of a hand, of the whole system where it has others than two.
  function band(system, inside, hand, name) {
    const rect = document.createElementNS(svgNS, "rect"), two = staves(inside[0]);
    let [top, bottom] = system.dataset.y.split(" ").map(Number);
    top -= 700;
    bottom += 700;
    if (two.length === 2 && hand) {
      const middle = (two[0][1] + two[1][0]) / 2;
      if (hand === "R") bottom = middle; else top = middle;
    }
    const left = Number(inside[0].dataset.x.split(" ")[0]), right = Number(inside[inside.length - 1].dataset.x.split(" ")[1]);
    for (const [key, value] of Object.entries({ class: name, x: left, y: top, width: right - left, height: bottom - top })) rect.setAttribute(key, value);
    return rect;
  }

  // Notation that stands on the page is as high as what is drawn in it: no digit is cut off.
  function fitted(box) {
    for (const svg of box.querySelectorAll("svg.piece-of")) {
      const copy = svg.querySelector("[data-y]"), drawn = copy.getBBox(), view = svg.viewBox.baseVal;
      if (!drawn.height) continue;
      const scale = svg.width.baseVal.value / view.width, shift = 400, room = 120;
      const y = drawn.y + shift - room, height = drawn.height + 2 * room;
      svg.setAttribute("viewBox", [view.x, y, view.width, height].join(" "));
      svg.setAttribute("height", Math.round(height * scale));
    }
  }

  function cut(first, last, fingers, hand) {
    const box = document.createElement("div");
    box.className = "systems";
    for (const system of systemsOf(first, last)) {
      const at = edges(system), outer = system.closest("svg.engraving");
      const scale = outer.width.baseVal.value / at.width;
      const svg = document.createElementNS(svgNS, "svg");
      svg.setAttribute("class", "engraving piece-of");
      svg.setAttribute("viewBox", [at.x, at.y, at.width, at.bottom - at.y].join(" "));
      svg.setAttribute("width", Math.round(at.width * scale));
      svg.setAttribute("height", Math.round((at.bottom - at.y) * scale));
      svg.setAttribute("role", "img");
      svg.setAttribute("aria-label", "notation of m. " + data.places[first] + (last > first ? " to " + data.places[last] : ""));
      const scaled = document.createElementNS(svgNS, "g"), moved = document.createElementNS(svgNS, "g");
      scaled.setAttribute("class", "definition-scale");
      scaled.setAttribute("font-family", "Times, serif");
      moved.setAttribute("transform", "translate(400, 400)");
      const copy = system.cloneNode(true);
      for (const drawn of copy.querySelectorAll(".judged-bar, .stand-band, .mark-frame")) drawn.remove(); // they belong to the whole score
      moved.append(copy);
      scaled.append(moved);
      svg.append(scaled);
      const inside = [...copy.querySelectorAll("[data-m]")].filter((m) => Number(m.dataset.m) >= first && Number(m.dataset.m) <= last);
      if (inside.length) {
        moved.prepend(band(system, inside, hand, "here-band")); // behind the music
      }
      refinger(copy, Object.assign({}, nowDigit, fingers));
      markAnswered(copy);
      markDeclined(copy);
      box.append(svg);
    }
    if (!box.childElementCount) {
      const none = document.createElement("p");
      none.className = "key-to";
      none.textContent = hasScore ? "These measures could not be drawn." : "No notation: the score is not drawn on this page.";
      box.append(none);
    }
    return box;
  }

  // Shows other fingers at notes that bear a digit in print: at those that are asked, and where a digit was given anew.
  function refinger(drawing, fingers) {
    const signsOf = new Map();
    for (const sign of drawing.querySelectorAll(".fing")) {
      const id = (sign.getAttribute("data-startid") || "").slice(2);
      if (/^\(\d/.test(sign.textContent.trim())) continue; // in parentheses: what is offered to the other hand
      if (!signsOf.has(id)) signsOf.set(id, []);
      signsOf.get(id).push(sign);
    }
    for (const [id, all] of signsOf) {
      const anew = (state.findings[reopenKey(id)] || {}).digit, want = String(anew || fingers[id] || ""), signs = anew ? all : all.filter((sign) => sign.classList.contains("asked"));
      if (!want || !signs.length || signs[signs.length - 1].textContent.trim().replace(/[()[\]]/g, "").replace(/–/g, "-") === want) continue;
      again(signs, id, want);
    }
  }

  // What a redistribution offers goes out of the notation when it is declined: rings, the sign of the hand with its bracket, digits in
  // parentheses.
  function markDeclined(drawing) {
    for (const drawn of drawing.querySelectorAll(".declined")) drawn.classList.remove("declined");
    const offered = Object.entries(data.passages).filter(([, p]) => p.handover), gone = ([number]) => (state.decided[mark(number)] || {}).verb === "stet";
    for (const one of offered.filter(gone)) {
      const p = one[1], sign = p.to === "R" ? "(m.d.)" : "(m.s.)";
      for (const [n] of p.handed) {
        for (const ring of drawing.querySelectorAll('[data-id="n' + n + '"] .ring.handed')) ring.classList.add("declined");
        for (const digit of drawing.querySelectorAll('.fing[data-startid="#n' + n + '"]')) if (/^\(\d/.test(digit.textContent.trim())) digit.classList.add("declined");
      }
      // Another offer to that hand in these measures keeps its sign.
      if (offered.some((o) => o !== one && !gone(o) && o[1].to === p.to && o[1].first <= p.last && p.first <= o[1].last)) continue;
      for (const measure of drawing.querySelectorAll("[data-m]")) {
        if (Number(measure.dataset.m) < p.first || Number(measure.dataset.m) > p.last) continue;
        for (const dir of measure.querySelectorAll(".dir")) {
          if (dir.textContent.trim() !== sign) continue;
          dir.classList.add("declined");
          if (dir.nextElementSibling && dir.nextElementSibling.matches(".bracketSpan")) dir.nextElementSibling.classList.add("declined");
        }
      }
    }
  }

  // Fills in the notation of a card that has no picture of its own, while it is open.
  function fill(card) {
    const box = card.querySelector(".cut");
    if (!box || !hasScore || box.childElementCount) return;
    const p = data.passages[card.dataset.number];
    box.append(cut(p.first, p.last, shownFingers(card), p.hand));
    fitted(box);
    const key = document.createElement("p");
    key.className = "key-to";
    key.textContent = "Cut from the score, as it will print. Grey ground: this passage. Dotted line below a digit: open; two lines below: in doubt; pale: of another passage.";
    box.append(key);
    for (const n of p.notes) for (const sign of box.querySelectorAll('[data-startid="#n' + n + '"]')) sign.classList.add("mine");
  }
  const empty = (card) => { const box = card.querySelector(".cut"); if (box) box.replaceChildren(); };
