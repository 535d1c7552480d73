(function () {
  "use strict";
  const all = (selector, inside) => Array.from((inside || document).querySelectorAll(selector));
  const lines = all(".line");
  const store = "fingerproof diff " + document.body.dataset.old + " | " + document.body.dataset.new;
  let marks = {};
  try { marks = JSON.parse(localStorage.getItem(store)) || {}; } catch (e) { marks = {}; }
  // A mark is one on a reading: where a proof of the same name reads otherwise, or what runs through has other places, it is none.
  const keyOf = (line) => [line.dataset.id, line.dataset.reads, line.dataset.also || ""].join(" ");
  const keepMarks = () => { try { localStorage.setItem(store, JSON.stringify(marks)); } catch (e) { /* nothing is kept then */ } };

  function markOf(line) {
    const own = marks[keyOf(line)];
    if (own && own.mark !== undefined) return own.mark;
    return line.dataset.state === "kept" ? "keep" : "";
  }
  function commentOf(line) { return line.querySelector(".comment").value.trim(); }

  function show() {
    const wanted = all("input[data-class]").filter((b) => b.checked).map((b) => b.dataset.class);
    const unmarked = document.getElementById("unmarked").checked;
    let judged = 0, correct = 0;
    lines.forEach((line) => {
      const mark = markOf(line);
      line.dataset.mark = mark;
      line.querySelector(".correct").setAttribute("aria-pressed", String(mark === "correct"));
      line.querySelector(".keep").setAttribute("aria-pressed", String(mark === "keep"));
      if (mark) judged++;
      if (mark === "correct") correct++;
      line.hidden = !wanted.includes(line.dataset.class) || (unmarked && mark !== "" && line !== document.activeElement);
    });
    all(".group").forEach((g) => { g.hidden = all(".line", g).length > 0 && all(".line:not([hidden])", g).length === 0; });
    document.getElementById("count").textContent = judged + " of " + lines.length + " marked, " + correct + " to correct";
  }

  function set(line, mark) {
    marks[keyOf(line)] = Object.assign({}, marks[keyOf(line)], { mark: mark });
    keepMarks();
    show();
  }

  lines.forEach((line) => {
    const comment = line.querySelector(".comment");
    const own = marks[keyOf(line)];
    if (own && own.comment !== undefined) comment.value = own.comment;
    comment.addEventListener("input", () => {
      marks[keyOf(line)] = Object.assign({}, marks[keyOf(line)], { comment: comment.value });
      keepMarks();
    });
    line.querySelector(".correct").addEventListener("click", () => set(line, markOf(line) === "correct" ? "" : "correct"));
    line.querySelector(".keep").addEventListener("click", () => set(line, markOf(line) === "keep" ? "" : "keep"));
  });

  const here = () => document.activeElement && document.activeElement.closest(".line");
  function step(by) {
    const rows = lines.filter((r) => !r.hidden);
    if (!rows.length) return;
    const at = rows.indexOf(here());
    const next = rows[at < 0 ? (by > 0 ? 0 : rows.length - 1) : Math.min(Math.max(at + by, 0), rows.length - 1)];
    next.focus({ preventScroll: true });
    const group = next.closest(".group");
    (group.getBoundingClientRect().height < window.innerHeight - 120 ? group : next).scrollIntoView({ block: "center" });
  }

  function save(name, text, type) {
    const link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([text], { type: type }));
    link.download = name;
    document.body.append(link);
    link.click();
    link.remove();
    setTimeout(() => URL.revokeObjectURL(link.href), 1000);
  }
  const initials = () => document.getElementById("initials").value.trim();
  const fileName = (kind, ending) => {
    const base = document.body.dataset.new.split(/[\\/:]/).filter(Boolean).pop() || "proof";
    return base.replace(/[^\p{L}\p{N}._-]+/gu, "-") + "." + kind + (initials() ? "." + initials().replace(/[^\p{L}\p{N}]+/gu, "") : "") + ending;
  };

  // The sheet for the engraver: what is marked Correct, piece by piece.
  function sheet() {
    const wanted = lines.filter((l) => markOf(l) === "correct");
    if (!wanted.length) { say("Nothing is marked Correct yet."); return; }
    let out = "Corrections to " + document.body.dataset.new + "\nApproved copy: " + document.body.dataset.old +
      "\nRead F4 → F#4: the proof has F4, set F#4.\n";
    let piece = null;
    wanted.forEach((l) => {
      if (l.dataset.piece !== piece) { piece = l.dataset.piece; out += "\n" + piece + "\n"; }
      out += "  [ ] " + l.dataset.place + ": " + l.dataset.ask + "\n";
      if (commentOf(l)) out += "      " + commentOf(l) + "\n";
    });
    save(fileName("corrections", ".txt"), out, "text/plain");
    say(wanted.length + " corrections saved.");
  }

  // The marks for the register: quoted as JSON, which YAML reads.
  function saveMarks() {
    const touched = lines.filter((l) => markOf(l) || commentOf(l));
    if (!touched.length) { say("Nothing is marked yet."); return; }
    if (!initials()) { say("Your initials, please."); document.getElementById("initials").focus(); return; }
    const q = (text) => JSON.stringify(text);
    let out = "# Marks on the differences of " + document.body.dataset.old.replace(/[\r\n]/g, " ") + " and " + document.body.dataset.new.replace(/[\r\n]/g, " ") + ".\n" +
      "approved: " + q(document.body.dataset.old) + "\nproofs: []\ncorrections:\n";
    touched.forEach((l) => {
      const first = { id: l.dataset.id, at: l.dataset.place, reads: l.dataset.reads, should: l.dataset.should };
      // What runs through is marked once, and kept at each of its places.
      [first].concat(JSON.parse(l.dataset.also || "[]")).forEach((p) => {
        out += "  - id: " + q(p.id) + "\n    piece: " + q(l.dataset.piece) + "\n    at: " + q(p.at) +
          "\n    what: " + q(l.dataset.kind) + "\n    reads: " + q(p.reads) + "\n    should: " + q(p.should) +
          "\n    state: " + (markOf(l) === "keep" ? "kept" : "open") + "\n";
        if (commentOf(l)) out += "    comment: " + q(commentOf(l)) + "\n";
        out += "    by: " + q(initials()) + "\n";
      });
    });
    save(fileName("marks", ".yaml"), out, "application/yaml");
    say(touched.length + " marks saved.");
  }

  function say(text) {
    show();
    const count = document.getElementById("count");
    count.textContent = text + " " + count.textContent;
  }
  function rest() {
    lines.filter((l) => !l.hidden && markOf(l) === "").forEach((l) => {
      marks[keyOf(l)] = Object.assign({}, marks[keyOf(l)], { mark: "correct" });
    });
    keepMarks();
    show();
  }
  function help() {
    const box = document.getElementById("help");
    box.hidden = !box.hidden;
    document.getElementById("helper").setAttribute("aria-expanded", String(!box.hidden));
  }

  all("input[data-class], #unmarked").forEach((b) => b.addEventListener("change", show));
  document.getElementById("rest").addEventListener("click", rest);
  document.getElementById("sheet").addEventListener("click", sheet);
  document.getElementById("marks").addEventListener("click", saveMarks);
  document.getElementById("helper").addEventListener("click", help);
  document.addEventListener("keydown", (e) => {
    if (e.ctrlKey || e.metaKey || e.altKey) return;
    const line = here();
    if (e.target.matches("input:not([type=checkbox])")) {
      if (e.key === "Escape" || e.key === "Enter") { e.preventDefault(); if (line) line.focus(); else e.target.blur(); }
      return;
    }
    const does = {
      n: () => step(1), p: () => step(-1), s: sheet, m: saveMarks, "?": help,
      c: () => line && set(line, "correct"), k: () => line && set(line, "keep"), u: () => line && set(line, ""),
      e: () => line && line.querySelector(".comment").focus(),
    }[e.key];
    if (does) { e.preventDefault(); does(); return; }
    const box = all("input[data-class]")[+e.key - 1];
    if (box) { box.checked = !box.checked; show(); }
  });

  // Frames around signs that differ, and their numbers: where they stand only the browser knows.
  all(".engraving .differs[data-label]").forEach((sign) => {
    let box;
    try { box = sign.getBBox(); } catch (e) { return; }
    if (!box.width && !box.height) return;
    const svg = "http://www.w3.org/2000/svg";
    const frame = document.createElementNS(svg, "rect");
    frame.setAttribute("class", "frame");
    frame.setAttribute("x", box.x - 70); frame.setAttribute("y", box.y - 70);
    frame.setAttribute("width", box.width + 140); frame.setAttribute("height", box.height + 140);
    const label = document.createElementNS(svg, "text");
    label.setAttribute("class", "label");
    label.setAttribute("x", box.x + box.width + 90); label.setAttribute("y", box.y - 20);
    label.setAttribute("font-size", "210px");
    label.textContent = sign.dataset.label;
    sign.append(frame, label);
  });
  show();
})();
