// What does not fit: a page that scrolls sideways, a box that cuts its own content off, a control cut by the window.
(() => {
  const faults = [], root = document.documentElement, w = root.clientWidth;
  const name = e => e.tagName.toLowerCase() + (e.id ? "#" + e.id : "") + (e.getAttribute("class") ? "." + e.getAttribute("class").trim().replace(/\s+/g, ".") : "");
  const apart = e => e.closest(".sideways, .unseen, .skip, svg *");
  if (root.scrollWidth > w) {
    let worst = null, most = w;
    for (const e of document.body.querySelectorAll("*")) {
      if (apart(e)) continue;
      const r = e.getBoundingClientRect().right;
      if (r > most + 0.5) { most = r; worst = e; }
    }
    faults.push(`scrolls sideways: ${worst ? name(worst) : "something"} reaches ${Math.round(Math.max(most, root.scrollWidth))} of ${w}`);
  }
  for (const e of document.body.querySelectorAll("*")) {
    if (apart(e) || e.closest("svg") || !e.getClientRects().length) continue;
    const s = getComputedStyle(e);
    const cut = (o, full, seen) => (o === "hidden" || o === "clip") && full > seen + 1;
    if (cut(s.overflowX, e.scrollWidth, e.clientWidth) || cut(s.overflowY, e.scrollHeight, e.clientHeight)) faults.push("cuts its content off: " + name(e));
    if (e.matches("button") && e.scrollWidth > e.clientWidth + 1) faults.push("words leave the button " + name(e));
  }
  return faults;
})()
