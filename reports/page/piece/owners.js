  // Whose a judgement is: it keeps the initials under which it was made, and goes to the file of these alone. What is decided
  // before any are written is theirs who write them first. What two editors said of one passage stands apart: what the other
  // one said is kept beside a decision as an entry of its own.
  const myInitials = () => { const initials = byId("initials").value.trim(); return /^\p{L}{1,5}$/u.test(initials) ? initials : ""; };
  const every = () => [...Object.values(state.decided), ...Object.values(state.findings)];
  const parts = (decision) => [decision, ...(decision.apart || [])];
  const ofOther = (by) => !!by && !!myInitials() && by !== myInitials();
  function claim(initials) {
    if (initials) for (const decision of every()) if (!decision.by) decision.by = decision.saved || initials;
  }
  // The judgements of others that no file has yet: by initials, how many.
  function others() {
    const out = {};
    for (const decision of every()) for (const part of parts(decision)) if (ofOther(part.by) && (part.entry || part.out) && !partSaved(part)) out[part.by] = (out[part.by] || 0) + 1;
    return out;
  }
  const othersSaid = () => Object.entries(others()).map(([by, n]) => plural(n, "judgement") + " of " + by).join(", ");
  // Initials that were a slip: what was judged under them, and is in no file, becomes theirs whose initials stand now.
  function drawOthers() {
    const button = byId("own"), said = othersSaid();
    button.hidden = !said;
    if (said) button.textContent = "Not saved: " + said + ". Make " + myInitials() + "\u2019s";
  }
  function makeMine() {
    const said = othersSaid();
    if (!said) return;
    change(() => {
      for (const decision of every()) for (const part of parts(decision)) if (ofOther(part.by) && !partSaved(part)) part.by = myInitials();
    }, said + (/ of .* of /.test(said) ? " are " : /^1 /.test(said) ? " is " : " are ") + myInitials() + "\u2019s now.");
  }
