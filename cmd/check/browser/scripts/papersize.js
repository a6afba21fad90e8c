// Words that would be printed under 9 pt (12 CSS px), as drawn: a picture may scale its words.
(() => {
  const out = new Set();
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walk.nextNode()) {
    const e = walk.currentNode.parentElement;
    if (!walk.currentNode.textContent.trim() || e.closest("script, style, title, desc, sub, sup") || !e.getClientRects().length) continue;
    let size = parseFloat(getComputedStyle(e).fontSize);
    const svg = e.closest("svg");
    if (svg && e.getScreenCTM) size *= e.getScreenCTM().a;
    if (size < 11.95) out.add(`${(size * 0.75).toFixed(1)} pt: ${e.tagName.toLowerCase()} "${walk.currentNode.textContent.trim().slice(0, 30)}"`);
  }
  return [...out].slice(0, 5);
})()
