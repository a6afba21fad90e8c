// Every control that the Tab key should reach, numbered in the page, as one line each. A group of radio buttons is one.
(() => {
  const groups = new Set(), out = [];
  const all = document.querySelectorAll("a[href], button, input:not([type=hidden]), select, textarea, summary, [tabindex='0']");
  for (const e of all) {
    if (e.disabled || !e.checkVisibility({ visibilityProperty: true })) continue;
    if (e.type === "radio") { if (groups.has(e.name)) continue; groups.add(e.name); }
    e.dataset.stop = out.length;
    out.push(e.tagName.toLowerCase() + (e.id ? "#" + e.id : "") + " " + (e.textContent.trim() || e.getAttribute("aria-label") || "").slice(0, 40));
  }
  return out;
})()
