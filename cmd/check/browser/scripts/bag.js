// The label holds all its words within 62 × 100 mm.
(() => {
  const bag = document.querySelector(".bag"), mm = 96 / 25.4, out = [];
  if (!bag) return ["no label on the page"];
  const r = bag.getBoundingClientRect();
  if (Math.abs(r.width - 62 * mm) > 1 || Math.abs(r.height - 100 * mm) > 1) out.push(`the label is ${(r.width / mm).toFixed(1)} × ${(r.height / mm).toFixed(1)} mm`);
  for (const e of bag.querySelectorAll("*")) {
    const q = e.getBoundingClientRect();
    if (q.bottom > r.bottom + 1 || q.right > r.right + 1) { out.push(`the label cuts off ${e.tagName.toLowerCase()} by ${Math.round(Math.max(q.bottom - r.bottom, q.right - r.right))} px`); break; }
  }
  return out;
})()
