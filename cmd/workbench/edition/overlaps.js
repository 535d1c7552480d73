(() => {
  // Boxes in staff spaces, as the browser draws them: letters and outlines as wide as they are, digits and words without the blank about them.
  const out = { digits: 0, words: 0, distance: 0 };
  const kinds = ["digit on digit", "digit on words", "digit on dynamics", "digit on pedal", "digit on head", "digit on slur", "digit on stem or beam", "digit on hairpin", "digit on ornament", "digit on rest",
    "digit past a staff", "digit nearer another staff's note", "stack on both sides", "stack with a gap",
    "words on words", "words on head", "words on pedal", "words before the digit", "dynamics before the digit"];
  for (const k of kinds) out[k] = [];
  const meets = (a, b) => a.l < b.r && b.l < a.r && a.t < b.b && b.t < a.b;
  for (const system of document.querySelectorAll("#pages [data-y]")) {
    const place = (m) => { const g = m.closest("[data-m]"); return g ? g.dataset.m : "?"; };
    const line = system.querySelector(".staff > path");
    const ys = [...line.getAttribute("d").matchAll(/M[-\d.]+[ ,]([-\d.]+)/g)].map((m) => Number(m[1]));
    const unit = Math.abs((ys[1] - ys[0]) || 180);
    const root = system.getScreenCTM(), scale = root.a * unit;
    const shrunk = (b, by) => ({ l: b.l + by, r: b.r - by, t: b.t + by, b: b.b - by });
    const rect = (e) => { const r = e.getBoundingClientRect(); return { l: r.left / scale, r: r.right / scale, t: r.top / scale, b: r.bottom / scale }; };
    const ink = (text, up, down) => {
      const boxes = [];
      const n = text.getNumberOfChars();
      for (let i = 0; i < n; i++) {
        const e = text.getExtentOfChar(i), p = text.getStartPositionOfChar(i);
        if (!e.width || !text.textContent.trim()) continue;
        const a = root.a, size = e.height / 1.15;
        const x = p.x * a + root.e, y = p.y * a + root.f;
        boxes.push({ l: x / scale, r: (x + e.width * a) / scale, t: (y - up * size * a) / scale, b: (y + down * size * a) / scale });
      }
      if (!boxes.length) return null;
      return { l: Math.min(...boxes.map((b) => b.l)), r: Math.max(...boxes.map((b) => b.r)), t: Math.min(...boxes.map((b) => b.t)), b: Math.max(...boxes.map((b) => b.b)) };
    };
    // The staves of a measure, and that of them to which a head belongs: by its place, not by its layer, as a note of one hand
    // may stand on the other's staff.
    const stavesIn = new Map();
    const stavesOf = (measure) => {
      if (!stavesIn.has(measure)) stavesIn.set(measure, [...measure.querySelectorAll(":scope > .staff")].map((s) => {
        const lines = [...s.querySelectorAll(":scope > path")].map(rect);
        return lines.length && { t: Math.min(...lines.map((b) => b.t)), b: Math.max(...lines.map((b) => b.b)) };
      }).filter(Boolean));
      return stavesIn.get(measure);
    };
    const off = (b, s) => Math.max(0, s.t - (b.t + b.b) / 2, (b.t + b.b) / 2 - s.b);
    const staffAt = (e, b) => {
      const measure = e.closest("[data-m]");
      return measure && stavesOf(measure).reduce((best, s) => !best || off(b, s) < off(b, best) ? s : best, null);
    };
    const heads = new Map(), allHeads = [], staffOf = new Map(), chordOf = new Map();
    for (const note of system.querySelectorAll(".note[data-id]")) {
      const head = note.querySelector('use[href^="#glyph-E0A"], use[href^="#glyph-E0"]');
      if (!head) continue;
      const b = rect(head);
      staffOf.set(b, staffAt(note, b));
      chordOf.set(note.dataset.id, note.closest(".chord"));
      heads.set(note.dataset.id, b);
      allHeads.push(b);
    }
    const digits = [];
    for (const sign of system.querySelectorAll(".fing")) {
      const text = sign.querySelector("text");
      const b = text && ink(text, 0.62, 0);
      const note = (sign.dataset.startid || "").slice(1);
      if (b) digits.push({ box: shrunk(b, 0.06), head: heads.get(note), of: sign, chord: chordOf.get(note) });
    }
    const words = [];
    for (const sign of system.querySelectorAll(".dir, .tempo, .reh, .dynam, .harm")) {
      const parts = [];
      for (const text of sign.querySelectorAll("text")) { const b = ink(text, 0.6, 0.12); if (b) parts.push(b); }
      for (const use of sign.querySelectorAll("use")) parts.push(rect(use));
      for (const b of parts) words.push({ box: shrunk(b, 0.08), of: sign, dynam: sign.classList.contains("dynam") });
    }
    const pedals = [...system.querySelectorAll(".pedal use")].map((u) => ({ box: shrunk(rect(u), 0.1), of: u }));
    // The digits of a sign stand over it; the row over a trill is no overlap.
    const signs = (names) => [...system.querySelectorAll(names.map((n) => "." + n + " use").join(", "))].map((u) => shrunk(rect(u), 0.06));
    const ornaments = signs(["trill", "turn", "mordent"]), rests = signs(["rest"]);
    const hairpins = [...system.querySelectorAll(".hairpin > polyline")].map((line) => {
      const length = line.getTotalLength(), m = line.getScreenCTM(), at = [];
      for (let k = 0; k <= 80; k++) { const p = line.getPointAtLength(length * k / 80); at.push([(p.x * m.a + m.e) / scale, (p.y * m.d + m.f) / scale]); }
      return at;
    });
    const curves = [];
    for (const path of system.querySelectorAll(".slur > path, .tie > path, .slur path, .tie path")) {
      const length = path.getTotalLength(), m = path.getScreenCTM(), at = [];
      for (let k = 0; k <= 80; k++) { const p = path.getPointAtLength(length * k / 80); at.push([(p.x * m.a + m.e) / scale, (p.y * m.d + m.f) / scale]); }
      if (!curves.some((c) => c.path === path)) curves.push({ path, at });
    }
    const stems = [];
    for (const path of system.querySelectorAll(".note > path, .chord > path")) {
      const p = (path.getAttribute("d").match(/-?[\d.]+/g) || []).map(Number);
      if (p.length === 4 && p[0] === p[2]) stems.push(shrunk(rect(path), -0.01));
    }
    const beams = [...system.querySelectorAll(".beam > polygon, .beam polygon")].map((p) => {
      const q = p.getAttribute("points").match(/-?[\d.]+/g).map(Number).map((v, i) => (v * root.a + (i % 2 ? root.f : root.e)) / scale);
      return { l: Math.min(q[0], q[2], q[4], q[6]), r: Math.max(q[0], q[2], q[4], q[6]), at: (x) => { const t = (x - q[0]) / (q[2] - q[0] || 1); const y1 = q[1] + t * (q[3] - q[1]), y2 = q[7] + t * (q[5] - q[7]); return [Math.min(y1, y2), Math.max(y1, y2)]; } };
    });
    const hit = (kind, e, what) => out[kind].push("m. index " + place(e) + ": " + what);
    const said = (e) => e.textContent.trim() || e.getAttribute("class");
    digits.forEach((d, i) => {
      out.digits++;
      const name = said(d.of);
      if (d.head) out.distance += Math.max(0, d.head.t - d.box.b, d.box.t - d.head.b);
      digits.slice(i + 1).forEach((o) => { if (meets(d.box, o.box)) hit("digit on digit", d.of, name + " / " + said(o.of)); });
      const wordsHit = new Set();
      for (const w of words) {
        if (meets(d.box, w.box) && !wordsHit.has(w.of)) { wordsHit.add(w.of); hit(w.dynam ? "digit on dynamics" : "digit on words", d.of, name + " / " + said(w.of)); }
        else if (d.head && w.box.l < d.box.r && d.box.l < w.box.r && (d.box.b < w.box.t && w.box.b < d.head.t || d.box.t > w.box.b && w.box.t > d.head.b)) hit(w.dynam ? "dynamics before the digit" : "words before the digit", d.of, name + " / " + said(w.of));
      }
      for (const p of pedals) if (meets(d.box, p.box)) hit("digit on pedal", d.of, name);
      if (d.head) {
        const own = staffOf.get(d.head), measure = d.of.closest("[data-m]");
        const t = Math.min(d.box.t, d.head.t), b = Math.max(d.box.b, d.head.b);
        if (measure && stavesOf(measure).some((s) => s !== own && s.t < b - 0.1 && t + 0.1 < s.b)) hit("digit past a staff", d.of, name);
        const far = (h) => Math.max(0, h.t - d.box.b, d.box.t - h.b);
        const column = allHeads.filter((h) => h.l < d.box.r + 0.3 && d.box.l - 0.3 < h.r);
        const near = (list) => Math.min(...list.map(far));
        if (near(column.filter((h) => staffOf.get(h) !== own)) < near(column.filter((h) => staffOf.get(h) === own).concat([d.head]))) hit("digit nearer another staff's note", d.of, name);
      }
      const up = (e) => e.head && e.box.b < e.head.t;
      const stack = d.chord && d.head ? digits.filter((e) => e.chord === d.chord && e.head) : [];
      if (stack[0] === d && stack.length > 1) {
        if (stack.some((e) => up(e) !== up(d))) hit("stack on both sides", d.of, stack.map((e) => said(e.of)).join(" "));
        const at = stack.map((e) => e.box).sort((a, b) => a.t - b.t);
        if (at.some((b, k) => k && up(stack[0]) === up(stack[stack.length - 1]) && b.t - at[k - 1].b > 1.3)) hit("stack with a gap", d.of, stack.map((e) => said(e.of)).join(" "));
      }
      if (allHeads.some((h) => meets(d.box, shrunk(h, 0.08)))) hit("digit on head", d.of, name);
      if (curves.some((c) => c.at.some(([x, y]) => x > d.box.l && x < d.box.r && y > d.box.t && y < d.box.b))) hit("digit on slur", d.of, name);
      if (hairpins.some((h) => h.some(([x, y]) => x > d.box.l && x < d.box.r && y > d.box.t && y < d.box.b))) hit("digit on hairpin", d.of, name);
      if (ornaments.some((o) => meets(d.box, o))) hit("digit on ornament", d.of, name);
      if (rests.some((o) => meets(d.box, o))) hit("digit on rest", d.of, name);
      if (stems.some((s) => meets(d.box, s)) || beams.some((b) => { const l = Math.max(b.l, d.box.l), r = Math.min(b.r, d.box.r); if (l >= r) return false; const [t1, b1] = b.at(l), [t2, b2] = b.at(r); return Math.min(t1, t2) < d.box.b && d.box.t < Math.max(b1, b2); })) hit("digit on stem or beam", d.of, name);
    });
    words.forEach((w, i) => {
      out.words++;
      words.slice(i + 1).forEach((o) => { if (o.of !== w.of && meets(w.box, o.box)) hit("words on words", w.of, said(w.of) + " / " + said(o.of)); });
      if (allHeads.some((h) => meets(w.box, shrunk(h, 0.08)))) hit("words on head", w.of, said(w.of));
      if (pedals.some((p) => meets(w.box, p.box))) hit("words on pedal", w.of, said(w.of));
    });
  }
  return JSON.stringify(out);
})()
