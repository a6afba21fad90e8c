// What is pressed with a finger and is smaller than 24 by 24 px (WCAG 2.2, 2.5.8), unless it stands in a line of text or
// belongs to a drawing whose words repeat it.
(() => {
  const faults = [];
  const control = "a[href], button, summary, select, textarea, input:not([type=hidden])";
  const shown = e => e.getClientRects().length && getComputedStyle(e).visibility !== "hidden" && !e.closest(".unseen, .skip, svg");
  // rest is what a block says outside its controls, less what only parts them.
  const rest = block => {
    let text = "";
    const walk = document.createTreeWalker(block, NodeFilter.SHOW_TEXT);
    while (walk.nextNode()) {
      const p = walk.currentNode.parentElement;
      if (!p.closest(control) && shown(p)) text += walk.currentNode.data;
    }
    return text.replace(/[\s·,;|()–—:.]+/g, "");
  };
  for (const e of document.querySelectorAll(control)) {
    if (!shown(e)) continue;
    let box = e.getBoundingClientRect();
    if (e.matches("input") && e.closest("label")) box = e.closest("label").getBoundingClientRect();
    if (box.height >= 23.9 && box.width >= 23.9) continue;
    let block = e.parentElement;
    while (block && getComputedStyle(block).display.startsWith("inline") && getComputedStyle(block).display === "inline") block = block.parentElement;
    if (getComputedStyle(e).display === "inline" && rest(block)) continue;
    faults.push(`${Math.round(box.width)} × ${Math.round(box.height)} px: ${e.tagName.toLowerCase()} “${(e.textContent || e.id).trim().slice(0, 40)}” in ${block.tagName.toLowerCase()}.${block.className}`);
  }
  return [...new Set(faults)];
})()
