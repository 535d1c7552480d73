  // A file begins with the day of most of its decisions and the music of the measures (pipeline/3_records/decision/table.go): what
  // an entry says of these is taken out of it when it is saved. An entry on other music, as of an earlier proof, stands as it is.
  const lineForm = /^m\. ("(?:[^"\\]|\\.)*"|\S+?)(?: \(index (\d+)\))?(?: ([0-9a-f]{8}))?$/;
  const once = (music) => {
    const count = new Map();
    for (const x of music) count.set(x, (count.get(x) || 0) + 1);
    return music.map((x, i) => [i, x]).filter(([, x]) => x && count.get(x) === 1);
  };
  const marksOfPiece = once(data.music), manyNumbers = new Set(data.places.filter((n, i) => data.places.indexOf(n) !== i));
  // Measures near one whose music stands in the piece once only: two on either side.
  const marksNear = (i) => [...marksOfPiece.filter(([k]) => k < i).slice(-2), ...marksOfPiece.filter(([k]) => k > i).slice(0, 2)];

  const plainNumber = (n) => /^[\p{L}\d][\p{L}\d._-]*$/u.test(n);
  const counting = (n) => /^(0|-?[1-9]\d*)$/.test(n);
  function freshHead() {
    let text = "when: " + today() + "\nmeasures:\n";
    for (let i = 0; i < data.places.length;) {
      const first = data.places[i];
      let end = i + 1;
      while (end < data.places.length && end - i < 10 && counting(first) && data.places[end] === String(Number(first) + end - i)) end++;
      const row = data.music.slice(i, end).map((x) => x || ".").join(" ");
      text += "  - " + (plainNumber(first) ? "m. " + first : JSON.stringify("m. " + JSON.stringify(first))) + ": " + row + "\n";
      i = end;
    }
    return text;
  }

  // The day and the measures of a head, and its check, which the first star of an entry bears. In a head that was written by hand
  // in another form nothing is folded: an entry then says all itself.
  function headOf(text) {
    let rows = [], when = "", all = true;
    for (const line of text.split(/\r?\n/)) {
      if (/^\s*(#.*)?$/.test(line) || /^measures:\s*(\s#.*)?$/.test(line)) continue;
      const day = /^when: *(\d{4}-\d\d-\d\d)\s*(\s#.*)?$/.exec(line), row = /^ *- ("(?:[^"\\]|\\.)*"|m\. \S+?): (.*)$/.exec(line);
      const m = row && lineForm.exec(row[1][0] === '"' ? JSON.parse(row[1]) : row[1]), words = m && row[2].replace(/\s#.*$/, "").trim().split(/\s+/);
      if (day) when = day[1];
      else if (!words || words.some((x) => !/^([0-9a-f]{8}|\.)$/.test(x))) all = false;
      else {
        const first = m[1][0] === '"' ? JSON.parse(m[1]) : m[1];
        words.forEach((x, k) => rows.push([k ? String(Number(first) + k) : first, x === "." ? "" : x]));
      }
    }
    if (!all) rows = [];
    const check = sum([when, ...rows.map((r) => r[0] + ":" + r[1])].join("\n")).toString(16).padStart(8, "0").slice(0, 3);
    return { when, rows, check, once: new Map(once(rows.map((r) => r[1]))) };
  }

  // Strokes that come evenly stand in a row (rows.go): 0..3/4 by 1/4 C5=1 D5=2 E5=3 F5=1.
  function inRows(text) {
    const strokes = text.split(", "), parts = strokes.map((s) => /^(-?\d+(?:\/\d+)?) ([^\s()]+)$/.exec(s));
    const value = (i) => parts[i][1].split("/").map(Number), minus = (i, k) => lowest(value(i), value(k));
    const out = [];
    for (let i = 0; i < strokes.length;) {
      let end = i + 1, row = "";
      const step = parts[i] && parts[i + 1] ? minus(i + 1, i) : "";
      while (step && end < strokes.length && parts[end] && minus(end, end - 1) === step) end++;
      if (end - i > 2 && end - i <= 1000 && step[0] !== "-" && step !== "0") row = parts[i][1] + ".." + parts[end - 1][1] + " by " + step + repeated(parts.slice(i, end).map((p) => p[2]));
      if (!row || row.length >= strokes.slice(i, end).join(", ").length) { row = strokes[i]; end = i + 1; }
      out.push(row);
      i = end;
    }
    return out.join(", ");
  }
  // The difference of two fractions in lowest terms.
  function lowest([a, b = 1], [c, d = 1]) {
    const over = a * d - c * b, under = b * d, common = (x, y) => (y ? common(y, x % y) : x), g = common(Math.abs(over), under) || 1;
    return over / g + (under / g > 1 ? "/" + under / g : "");
  }
  // Strokes that come again at once are counted, one by one or as a figure: x4/2 is the two strokes before it, four times in all.
  function repeated(keys) {
    const countOf = (times, figure) => " x" + times + (figure > 1 ? "/" + figure : ""), lengthOf = (list) => list.reduce((sum, k) => sum + 1 + k.length, 0);
    let out = "";
    for (let i = 0; i < keys.length;) {
      let best = 0, long = 1, times = 1;
      for (let figure = 1; figure <= 16 && i + 2 * figure <= keys.length; figure++) {
        let end = i + figure;
        while (end < keys.length && keys[end] === keys[end - figure]) end++;
        const count = Math.floor((end - i) / figure);
        if (count < 2 || count > 999) continue;
        const saved = lengthOf(keys.slice(i + figure, i + count * figure)) - countOf(count, figure).length;
        if (saved > best) { best = saved; long = figure; times = count; }
      }
      out += (long === 1 ? " " + keys[i] : repeated(keys.slice(i, i + long))) + (times > 1 ? countOf(times, long) : "");
      i += long * times;
    }
    return out;
  }

  function fold(entry, head) {
    const lines = entry.replace(/\n$/, "").split("\n"), kept = [], music = [];
    let notes = false, folded = head.rows.length > 0, first = -1, landmarks = "", check = head.check;
    for (const line of lines) {
      if (!notes) {
        if (line === "    notes:") notes = true;
        else if (line.startsWith("    landmarks: ")) landmarks = line.slice(15);
        else if (!head.when || line !== "    when: " + head.when) kept.push(line);
        continue;
      }
      const cut = /^ {6}- (?:("(?:[^"\\]|\\.)*")|(m\. .*?)): (.*)$/.exec(line), key = cut && (cut[1] ? JSON.parse(cut[1]) : cut[2]), m = cut && lineForm.exec(key);
      if (!m) { folded = false; break; }
      const number = m[1][0] === '"' ? JSON.parse(m[1]) : m[1], of = head.rows.flatMap((r, i) => (r[0] === number ? [i] : []));
      const at = m[2] ? Number(m[2]) : of.length === 1 ? of[0] : -1;
      folded = folded && at >= 0 && !!head.rows[at] && head.rows[at][0] === number && (!m[3] || m[3] === head.rows[at][1]);
      if (!folded) break;
      if (first < 0) first = at;
      const short = m[3] ? key.slice(3, -9) + "*" + check : key;
      if (m[3]) check = "";
      music.push("    " + (cut[1] ? JSON.stringify(short) : short) + ": " + inRows(cut[3]));
    }
    folded = folded && music.length > 0 && !check && (landmarks !== "" || !head.once.size || head.once.size === 1 && head.once.has(first) && music.length === 1);
    for (const word of landmarks.split(" ").filter(Boolean)) {
      const [by, x] = word.split(":"), mark = head.once.get(first + Number(by));
      folded = folded && mark !== undefined && (x === undefined || x === mark);
    }
    if (folded) return [...kept, ...music].join("\n") + "\n";
    return entry;
  }
