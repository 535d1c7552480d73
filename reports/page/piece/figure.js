  // One figure, one step: what was changed in a passage goes to wherever the same keys come again inside it. Like places outside
  // it are those of like.js.
  function strokesOf(p) {
    const out = [];
    for (const n of p.notes) {
      const last = out[out.length - 1], note = data.notes[n];
      if (last && data.notes[last[0]].i === note.i && data.notes[last[0]].o === note.o) last.push(n); else out.push([n]);
    }
    return out;
  }

  // The figure is what was changed, with the stroke before it and the one behind: as it stands again, with the digits that would
  // change there. Where several strokes were changed they tell it with the one before: what comes behind may be another.
  function figureAgain(number) {
    const p = data.passages[number], decision = state.decided[mark(number)];
    const fingers = preview[number] || (decision && decision.verb === "amend" && decision.fingers) || {};
    const moved = (n) => n in fingers && !asGiven(n, fingers[n]), strokes = strokesOf(p), keys = strokes.map((s) => s.map((n) => data.notes[n].p).sort().join("+"));
    const changed = strokes.flatMap((s, k) => (s.some(moved) ? [k] : []));
    if (!changed.length) return null;
    const first = changed[0], last = changed[changed.length - 1], from = Math.max(0, first - 1), to = Math.min(strokes.length - 1, last + 1), out = [];
    for (let at = 0, free = 0; at + last - from < strokes.length; at++) {
      const begins = at + first - from, ends = at + last - from, behind = to === last || keys[at + to - from] === keys[to];
      if (begins < free || begins <= last && ends >= first || keys.slice(at, ends + 1).some((key, k) => key !== keys[from + k])) continue;
      if (!behind && (last === first || from === first)) continue;
      const there = {};
      for (const k of changed) {
        for (const n of strokes[k].filter(moved)) {
          const same = strokes[k - from + at].find((m) => data.notes[m].p === data.notes[n].p), note = data.notes[same];
          if (!note.g && !note.s && note.w && !handedNow(same) && String(fingers[same] || suggestedAt(same)) !== String(fingers[n])) there[same] = fingers[n];
        }
      }
      if (!Object.keys(there).length) continue;
      free = ends + 1;
      out.push({ begins: data.notes[strokes[begins][0]], there });
    }
    return out;
  }

  let figureShown = ""; // what the next m does, as it was said
  function alikeInside(card) {
    const number = card.dataset.number, places = data.passages[number].handover ? null : figureAgain(number);
    if (!places) return say("Change a finger first (a, then 1 to 5): m then gives it to its figure wherever that stands again in the passage.");
    if (!places.length) return say("Nowhere else in this passage does the figure about what you changed stand with other digits.");
    const now = (n) => spelt(((preview[number] || (state.decided[mark(number)] || {}).fingers || {})[n]) || suggestedAt(n));
    const words = places.map((place) => "m. " + place.begins.m + ", beat " + place.begins.b + " (" + Object.entries(place.there).map(([n, digit]) => data.notes[n].p + " " + now(n) + " \u2192 " + spelt(digit)).join(", ") + ")").join("; ");
    if (figureShown !== number + " " + words) {
      figureShown = number + " " + words;
      return say("The figure stands again in this passage, at " + plural(places.length, "place") + ": " + words + ". m once more gives it the same digits there.");
    }
    figureShown = "";
    const amended = state.decided[mark(number)];
    const fingers = Object.assign({}, preview[number] || (amended && amended.fingers), ...places.map((place) => place.there));
    chosen[number] = new Set([...(chosen[number] || []), ...Object.keys(fingers).map(Number)]);
    preview[number] = fingers;
    if (amended) untie(number);
    draw();
    say("The same digits at " + plural(places.length, "place") + " more: a keeps the passage.");
  }
