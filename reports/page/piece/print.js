  // Printing: folds open, the paper as chosen; the summary leaves out what is without doubt, the proof everything but the score. What
  // the browser itself prints is what is looked at: the whole score as a proof, the passages with everything.
  const sheet = document.createElement("style");
  document.head.append(sheet);
  const paper = () => { sheet.textContent = "@page { size: " + byId("paper").value + "; }"; };
  byId("paper").addEventListener("change", paper);
  const print = (mode) => { document.documentElement.dataset.print = mode; paper(); window.print(); };
  byId("print-summary").addEventListener("click", () => print("summary"));
  byId("print-all").addEventListener("click", () => print("everything"));
  byId("print-proof").addEventListener("click", () => print("proof"));
  const wanted = new URLSearchParams(location.search);
  if (wanted.has("print")) document.documentElement.dataset.print = wanted.get("print");
  if (wanted.has("paper")) { byId("paper").value = wanted.get("paper") === "Letter" ? "Letter" : "A4"; paper(); }
  let folded = [];
  const unfoldAll = () => {
    const mode = document.documentElement.dataset.print || (inScore() ? "proof" : "everything");
    if (byId("printed-on")) byId("printed-on").textContent = "Printed on " + today() + ".";
    if (mode === "proof") return;
    for (const card of cards) if (mode !== "summary" || !data.passages[card.dataset.number].firm) fill(card);
    if (mode !== "summary") { folded = [...document.querySelectorAll("details:not([open])")]; folded.forEach((d) => { d.open = true; }); }
  };
  window.addEventListener("beforeprint", unfoldAll);
  window.addEventListener("afterprint", () => {
    if (!wanted.has("print")) delete document.documentElement.dataset.print;
    folded.forEach((d) => { d.open = false; });
    folded = [];
    for (const card of cards) if (!card.classList.contains("open")) empty(card);
  });

  if (Object.keys(state).some((key) => Object.keys(state[key]).length)) keep(); else draw();
  if (askedAgain) say("The newest run has read what you decided, and asks again about " + plural(askedAgain, "decision") + ": the " + (askedAgain === 1 ? "passage says" : "passages say") + " why.");
  // In a low window what is offered is seen before what it takes the place of.
  if (innerHeight < 700) for (const was of document.querySelectorAll("details.was[open]")) was.open = false;
  if (!follow() && cards.length) {
    const first = Math.max(0, cards.findIndex((card) => !judged(card)));
    stand(first);
    // In a low window the first passage comes into view whole: its keys are never pressed on half of its music.
    if (innerHeight < 700 && cards[first].getBoundingClientRect().bottom > innerHeight) cards[first].scrollIntoView({ block: "start" });
  }
  let last = "";
  try { last = sessionStorage.getItem(location.pathname); } catch { /* not kept */ }
  if (wanted.get("view") === "score" || last === "score" && hasScore && !location.hash) view("score");
