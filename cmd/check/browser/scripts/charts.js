// Words of a chart that cross each other or leave the picture.
(() => {
  const out = [];
  for (const svg of document.querySelectorAll("svg.chart")) {
    const frame = svg.getBoundingClientRect();
    if (!frame.width) continue; // the layout for another width
    const name = (svg.querySelector("title") || svg).textContent.trim().slice(0, 40);
    const words = [...svg.querySelectorAll("text")].filter(t => t.textContent.trim() && t.getClientRects().length).map(t => {
      const r = t.getBoundingClientRect(), air = r.height * 0.18; // a line box is taller than its letters
      return { text: t.textContent.trim(), l: r.left, r: r.right, t: r.top + air, b: r.bottom - air };
    });
    for (const [i, a] of words.entries()) {
      if (a.l < frame.left - 1 || a.r > frame.right + 1 || a.t < frame.top - 1 || a.b > frame.bottom + 1) out.push(`chart "${name}": "${a.text}" leaves the picture by ${Math.round(Math.max(frame.left - a.l, a.r - frame.right, frame.top - a.t, a.b - frame.bottom))} px`);
      for (const b of words.slice(i + 1)) {
        if (Math.min(a.r, b.r) - Math.max(a.l, b.l) > 1 && Math.min(a.b, b.b) - Math.max(a.t, b.t) > 1) out.push(`chart "${name}": "${a.text}" crosses "${b.text}"`);
      }
    }
  }
  return out;
})()
