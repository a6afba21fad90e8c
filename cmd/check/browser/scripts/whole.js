// Words that are broken within themselves: their box is too narrow for them. An address or a code may break where it must, and a
// word of more than 15 letters, which browsers that know the language hyphenate: this one has no dictionary.
(() => {
  const faults = new Set(), range = document.createRange();
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let n; n = walk.nextNode();) {
    const e = n.parentElement;
    if (e.closest("thead") && e.closest("thead").getBoundingClientRect().width < 2 || e.closest("svg, script, style, pre, code, .code, .addr, .unseen, textarea, select")) continue;
    for (const m of n.data.matchAll(/[\p{L}\p{N}]+/gu)) {
      range.setStart(n, m.index);
      range.setEnd(n, m.index + m[0].length);
      const lines = new Set([...range.getClientRects()].filter(r => r.width > 0.5).map(r => Math.round(r.bottom)));
      if (lines.size > 1 && !(m[0].length > 15 && getComputedStyle(e).hyphens === "auto") && !n.data.includes("://")) faults.add(`"${m[0]}" is broken in <${e.tagName.toLowerCase()} class="${e.className}">, ${Math.round(e.getBoundingClientRect().width)} px wide`);
    }
  }
  return [...faults].slice(0, 8);
})()
