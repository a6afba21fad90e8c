// Where the focus is: the number of the stop, and what is wrong with how it shows (WCAG 2.2, 2.4.7 and 2.4.11).
(() => {
  const e = document.activeElement;
  if (!e || e === document.body) return ["-1"];
  const s = getComputedStyle(e), r = e.getClientRects()[0], out = [e.dataset.stop === undefined ? "-2" : e.dataset.stop];
  const name = e.tagName.toLowerCase() + " " + e.textContent.trim().slice(0, 30);
  if (s.outlineStyle === "none" || parseFloat(s.outlineWidth) < 2) out.push("no focus to be seen on " + name);
  if (!r || r.bottom < 0 || r.top > innerHeight || r.right < 0 || r.left > innerWidth) out.push("focus outside the window on " + name);
  else {
    const hit = document.elementFromPoint(Math.min(Math.max(r.left + r.width / 2, 1), innerWidth - 1), Math.min(Math.max(r.top + r.height / 2, 1), innerHeight - 1));
    if (hit && !e.contains(hit) && !hit.contains(e)) out.push("focus covered by " + hit.tagName.toLowerCase() + " on " + name);
  }
  return out;
})()
