(function () {
  "use strict";
  var boxes = Array.prototype.slice.call(document.querySelectorAll("input[data-class]"));
  function show() {
    boxes.forEach(function (box) {
      document.querySelectorAll("table[data-class=" + box.dataset.class + "]").forEach(function (t) { t.hidden = !box.checked; });
    });
  }
  boxes.forEach(function (box) { box.addEventListener("change", show); });
  function step(by) {
    var rows = Array.prototype.filter.call(document.querySelectorAll("tbody tr"), function (r) { return !r.closest("table").hidden; });
    if (!rows.length) { return; }
    var at = rows.indexOf(document.activeElement);
    var next = rows[at < 0 ? (by > 0 ? 0 : rows.length - 1) : Math.min(Math.max(at + by, 0), rows.length - 1)];
    next.focus();
    next.scrollIntoView({ block: "center" });
  }
  document.addEventListener("keydown", function (e) {
    if (e.ctrlKey || e.metaKey || e.altKey) { return; }
    if (e.key === "n") { step(1); } else if (e.key === "p") { step(-1); } else if (e.key >= "1" && e.key <= "3") {
      var box = boxes[+e.key - 1];
      box.checked = !box.checked;
      show();
    } else if (e.key === "?") { document.querySelector(".help").scrollIntoView(); }
  });
})();
