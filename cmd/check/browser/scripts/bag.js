// What is printed of a label's page holds all its words: the label within 62 × 100 mm, the strip within A5, the card within A6.
(() => {
  const mm = 96 / 25.4, out = [], tall = { bag: [100, 100], cut: [0, 198], swap: [105, 105] };
  const all = [...document.querySelectorAll("div.bag, div.cut, div.swap")].filter(e => e.getClientRects().length);
  if (all.length != 1) return [`${all.length} papers are printed`];
  const paper = all[0], name = { bag: "label", cut: "strip", swap: "card" }[paper.className], r = paper.getBoundingClientRect();
  const wide = { bag: 62, cut: 92, swap: 132 }[paper.className], [least, most] = tall[paper.className];
  if (Math.abs(r.width - wide * mm) > 1 || r.height < least * mm - 1 || r.height > most * mm + 1) out.push(`the ${name} is ${(r.width / mm).toFixed(1)} × ${(r.height / mm).toFixed(1)} mm`);
  for (const e of paper.querySelectorAll("*")) {
    const q = e.getBoundingClientRect();
    if (q.bottom > r.bottom + 1 || q.right > r.right + 1) { out.push(`the ${name} cuts off ${e.tagName.toLowerCase()} by ${Math.round(Math.max(q.bottom - r.bottom, q.right - r.right))} px`); break; }
  }
  for (const u of paper.querySelectorAll("use")) if (!u.getBoundingClientRect().width) out.push(`the ${name} lacks ${u.getAttribute("href")}`);
  return out;
})()
