// Movement for those who asked for none (WCAG 2.2, 2.3.3), and any longer than 150 ms for others.
(() => {
  const still = matchMedia("(prefers-reduced-motion: reduce)").matches, out = [];
  const ms = s => Math.max(...s.split(",").map(x => parseFloat(x) * (x.trim().endsWith("ms") ? 1 : 1000)));
  for (const e of document.body.querySelectorAll("*")) {
    const s = getComputedStyle(e);
    const took = Math.max(ms(s.transitionDuration), s.animationName === "none" ? 0 : ms(s.animationDuration));
    if (took > (still ? 0 : 150)) out.push(`${e.tagName} moves for ${took} ms`);
  }
  return out.slice(0, 3);
})()
