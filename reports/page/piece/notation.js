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

  // The edges of a system on its page: half way to its neighbours, the page's edge at the ends.
  function edges(system) {
    const [top, bottom] = system.dataset.y.split(" ").map(Number);
    const inner = system.closest("svg");
    const box = inner.viewBox.baseVal;
    const near = (other, which, fallback) => (other && other.dataset.y ? Number(other.dataset.y.split(" ")[which]) : fallback);
    const shift = 400; // the margin inside the drawing
    const up = near(system.previousElementSibling, 1, null), down = near(system.nextElementSibling, 0, null);
    return {
      x: box.x, width: box.width,
      y: shift + (up === null ? Math.max(-shift, top - 2200) : (up + top) / 2),
      bottom: shift + (down === null ? Math.min(box.y + box.height - shift, bottom + 2200) : (bottom + down) / 2),
      top: shift + top, low: shift + bottom,
    };
  }

  function cut(first, last, fingers) {
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
      for (const drawn of copy.querySelectorAll(".judged-bar, .stand-frame")) drawn.remove(); // they belong to the whole score
      moved.append(copy);
      scaled.append(moved);
      svg.append(scaled);
      const inside = [...copy.querySelectorAll("[data-m]")].filter((m) => Number(m.dataset.m) >= first && Number(m.dataset.m) <= last);
      if (inside.length) {
        const left = Number(inside[0].dataset.x.split(" ")[0]), right = Number(inside[inside.length - 1].dataset.x.split(" ")[1]);
        const frame = document.createElementNS(svgNS, "path");
        frame.setAttribute("class", "here-frame");
        const [top, bottom] = system.dataset.y.split(" ").map(Number);
        frame.setAttribute("d", "M" + (left + 250) + " " + (top - 620) + "H" + left + "V" + (top - 380) + "M" + (right - 250) + " " + (top - 620) + "H" + right + "V" + (top - 380) + "M" + (left + 250) + " " + (bottom + 620) + "H" + left + "V" + (bottom + 380) + "M" + (right - 250) + " " + (bottom + 620) + "H" + right + "V" + (bottom + 380));
        moved.prepend(frame); // behind the music
      }
      if (fingers) refinger(copy, fingers);
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

  // Shows other fingers at notes that bear a digit in print.
  function refinger(drawing, fingers) {
    for (const sign of drawing.querySelectorAll(".fing")) {
      const id = (sign.getAttribute("data-startid") || "").slice(2), want = fingers[id];
      if (!want || !sign.classList.contains("asked")) continue;
      const text = sign.querySelector("tspan tspan") || sign.querySelector("tspan");
      if (text && text.textContent.replace(/[()[\]]/g, "").replace(/–/g, "-") !== want) {
        text.textContent = want;
        sign.classList.add("altered");
      }
    }
  }

  // Fills in the notation of a card that has no picture of its own, while it is open.
  function fill(card) {
    const box = card.querySelector(".cut");
    if (!box || !hasScore || box.childElementCount) return;
    const p = data.passages[card.dataset.number];
    box.append(cut(p.first, p.last, shownFingers(card)));
    for (const n of p.notes) for (const sign of box.querySelectorAll('[data-startid="#n' + n + '"]')) sign.classList.add("mine");
  }
  const empty = (card) => { const box = card.querySelector(".cut"); if (box) box.replaceChildren(); };
