// What hostile words may have left in the page: handlers, links that run script, styles, frames, foreign addresses,
// and the mark that their script would leave.
(() => {
  const out = [], own = location.origin;
  if (window.harmed) out.push("a script of the journal ran");
  for (const e of document.querySelectorAll("*")) {
    const name = e.tagName.toLowerCase();
    if (["iframe", "object", "embed", "base", "foreignobject", "portal", "marquee"].includes(name)) out.push("the journal made a " + name);
    if (name === "style" || (name === "script" && !(e.type || "").includes("json") && !e.src.startsWith(own + "/look/"))) out.push("the journal made a " + name);
    for (const a of e.attributes) {
      if (/^on/i.test(a.name) || a.name === "style" || a.name === "srcdoc") out.push(`${name} has ${a.name}="${a.value.slice(0, 40)}"`);
      if (/^(href|src|action|formaction|xlink:href|data)$/i.test(a.name) && /^\s*(javascript|vbscript|data|file):/i.test(a.value)) out.push(`${name} leads to ${a.value.slice(0, 40)}`);
    }
    if (/^(img|script|link|source|audio|video|image|use)$/.test(name)) {
      const to = e.getAttribute("src") || e.getAttribute("srcset") || (e.rel === "canonical" || e.rel === "alternate" ? "" : e.getAttribute("href")) || "";
      if (to && new URL(to, location.href).origin !== own) out.push(`${name} fetches ${to.slice(0, 60)}`);
    }
  }
  return [...new Set(out)];
})()
