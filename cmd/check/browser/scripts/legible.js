// Text whose colour is less than 7:1 against what is painted behind it (WCAG 2.2, 1.4.6), computed from what the browser
// renders: colours with their alpha over those of all boxes behind, opacity included.
(() => {
  const faults = [], pen = document.createElement("canvas").getContext("2d", { willReadFrequently: true }), known = {};
  const rgba = text => known[text] || (known[text] = (() => {
    pen.clearRect(0, 0, 1, 1);
    pen.fillStyle = text;
    pen.fillRect(0, 0, 1, 1);
    const d = pen.getImageData(0, 0, 1, 1).data;
    return [d[0], d[1], d[2], d[3] / 255];
  })());
  const over = (a, b) => [0, 1, 2].map(i => a[i] * a[3] + b[i] * (1 - a[3])).concat(1);
  const part = v => (v /= 255) <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4;
  const bright = c => 0.2126 * part(c[0]) + 0.7152 * part(c[1]) + 0.0722 * part(c[2]);
  const ratio = (a, b) => { const x = bright(a), y = bright(b); return (Math.max(x, y) + 0.05) / (Math.min(x, y) + 0.05); };
  const ground = e => {
    const layers = [];
    for (let p = e; p; p = p.parentElement) {
      const c = rgba(getComputedStyle(p).backgroundColor);
      if (c[3]) layers.push(c);
      if (c[3] === 1) break;
    }
    return layers.reduceRight((under, c) => over(c, under), rgba(getComputedStyle(document.documentElement).colorScheme === "dark" ? "#121212" : "#fff"));
  };
  const faint = e => { let o = 1; for (let p = e; p; p = p.parentElement) o *= parseFloat(getComputedStyle(p).opacity); return o; };
  const check = (e, colour, what) => {
    const back = ground(e), c = rgba(colour).slice();
    c[3] *= faint(e);
    const r = ratio(over(c, back), back);
    if (r < 6.995) faults.push(`${r.toFixed(2)}: “${what.trim().slice(0, 40)}” in ${e.tagName.toLowerCase()}.${e.getAttribute("class") || ""}`);
  };
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT), done = new Set();
  while (walk.nextNode()) {
    const e = walk.currentNode.parentElement;
    if (!walk.currentNode.data.trim() || done.has(e) || !e.getClientRects().length || e.closest("script, style, noscript, title, desc, [disabled], .unseen, .skip") || getComputedStyle(e).visibility === "hidden") continue;
    done.add(e);
    check(e, e.closest("svg") ? getComputedStyle(e).fill : getComputedStyle(e).color, walk.currentNode.data);
  }
  for (const e of document.querySelectorAll("input, select, textarea")) {
    if (/range|checkbox|radio|hidden|file/.test(e.type) || !e.getClientRects().length) continue;
    check(e, getComputedStyle(e).color, e.id);
    if (e.placeholder) check(e, getComputedStyle(e, "::placeholder").color, "placeholder of " + e.id);
  }
  return [...new Set(faults)];
})()
