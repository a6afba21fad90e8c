// Marks of charts and drawings that do not stand out from what they stand on (WCAG 2.2, 1.4.11: 3 to 1), and words in
// them that do not (1.4.3: 4.5 to 1). What lies beneath a mark is asked of the browser, at points along its outline; a
// mark passes at a point if its line or its fill differs enough from that, and fails if it does so at fewer than half of
// the points at which it is seen. The last line names the classes that were looked at.
(() => {
  const bare = /^(grid|gap|good-band|d-soil-rich|d-soil-some|d-sand|d-grain|d-grit|d-water|d-hill|d-lead|d-wet|d-jar|d-thread|d-black|d-midrib|d-inner|d-[abcd][0-3]|d-[xyirt])$/; // each told of in marks.go
  const faults = new Map(), seen = new Set(), looked = new Map();
  const pen = document.createElement("canvas").getContext("2d", { willReadFrequently: true });
  pen.canvas.width = pen.canvas.height = 1;
  const known = new Map();
  const colour = css => { // [r, g, b], or null for none, a pattern and what is transparent
    if (!known.has(css)) {
      let c = null;
      if (css && css !== "none" && !css.startsWith("url(")) {
        pen.clearRect(0, 0, 1, 1); pen.fillStyle = css; pen.fillRect(0, 0, 1, 1);
        const d = pen.getImageData(0, 0, 1, 1).data;
        if (d[3] > 0) c = [d[0], d[1], d[2]];
      }
      known.set(css, c);
    }
    return known.get(css);
  };
  const light = c => {
    const [r, g, b] = c.map(v => (v /= 255) <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4);
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const ratio = (a, b) => { const x = light(a), y = light(b); return (Math.max(x, y) + 0.05) / (Math.min(x, y) + 0.05); };
  const inside = (e, x, y) => {
    if (!e.isPointInFill) return false;
    return e.isPointInFill(new DOMPoint(x, y).matrixTransform(e.getScreenCTM().inverse()));
  };
  const paints = (e, x, y) => { // the colour of e at a point, or null
    const s = getComputedStyle(e);
    if (!(e instanceof SVGElement)) return colour(s.backgroundColor);
    if (e.matches("svg, g, text, tspan")) return null;
    return inside(e, x, y) ? colour(s.fill) : null; // lines that cross stand on the same ground
  };
  const under = (e, x, y) => {
    for (const o of document.elementsFromPoint(x, y)) {
      if (o === e || e.contains(o) || e.compareDocumentPosition(o) & Node.DOCUMENT_POSITION_FOLLOWING) continue;
      const c = paints(o, x, y);
      if (c) return c;
    }
    return colour(getComputedStyle(document.documentElement).backgroundColor) || [255, 255, 255];
  };
  const covered = (e, x, y) => document.elementsFromPoint(x, y).some(o => o !== e && o instanceof SVGElement && !o.matches("svg, g, text, tspan") && e.compareDocumentPosition(o) & Node.DOCUMENT_POSITION_FOLLOWING);
  const name = e => "." + (e.getAttribute("class") || "").trim().split(/\s+/).join(".");
  const fault = (e, r, least) => {
    const where = (e.closest("svg").getAttribute("class") || "").split(/\s+/)[0];
    const key = `${where} ${e.tagName} ${name(e)}: ${r.toFixed(2)} of ${least}`;
    faults.set(key, (faults.get(key) || 0) + 1);
  };
  for (const e of document.querySelectorAll(":is(svg.chart, svg.inset, svg[class^='d-'], svg.mark) :is(path, circle, rect, text, tspan, g, stop)")) {
    const own = (e.getAttribute("class") || "").trim().split(/\s+/), s = getComputedStyle(e);
    for (let up = e; up && up.matches("svg, svg *"); up = up.parentElement) for (const c of (up.getAttribute("class") || "").trim().split(/\s+/)) seen.add(c);
    if (!e.matches("path, circle, rect, text") || !e.getClientRects().length || e.closest("defs, .d-back, .d-dim, .d-ghost")) continue;
    if (own.some(c => bare.test(c))) continue;
    const group = name(e) + (e.closest("svg").getAttribute("aria-labelledby") || e.closest("svg").getAttribute("class"));
    looked.set(group, (looked.get(group) || 0) + 1);
    if (looked.get(group) > 24) continue; // more of the same tell no more
    if (e.tagName === "text") {
      const r = e.getBoundingClientRect(), x = r.left + r.width / 2, y = r.top + r.height / 2;
      const halo = parseFloat(s.strokeWidth) > 1 && colour(s.stroke), got = ratio(colour(s.fill), halo || under(e, x, y));
      if (got < 4.5) fault(e, got, 4.5);
      continue;
    }
    const inks = [parseFloat(s.strokeWidth) > 0 && colour(s.stroke), colour(s.fill)].filter(Boolean);
    if (!inks.length) continue;
    const length = e.getTotalLength(), m = e.getScreenCTM();
    let points = 0, good = 0, worst = 21;
    for (const share of [0.06, 0.2, 0.35, 0.5, 0.65, 0.8, 0.94]) {
      const p = e.getPointAtLength(length * share).matrixTransform(m);
      if (p.x < 0 || p.y < 0 || p.x >= innerWidth || p.y >= innerHeight || covered(e, p.x, p.y)) continue;
      const ground = under(e, p.x, p.y), r = Math.max(...inks.map(c => ratio(c, ground)));
      points++;
      if (r >= 3) good++;
      worst = Math.min(worst, r);
    }
    if (points && good * 2 < points) fault(e, worst, 3);
  }
  return [...[...faults].map(([f, n]) => `${f} (${n} times)`), [...seen].sort().join(" ")];
})()
