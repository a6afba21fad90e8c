// The rules of WCAG 2.0 to 2.2, levels A and AA, and axe's best practices. Each violation is one line.
axe.run(document, {
  runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
  resultTypes: ["violations"],
  preload: false,
}).then(r => r.violations.map(v =>
  `axe ${v.id}: ${v.help}, ${v.nodes.length} times, first at ${v.nodes[0].target.join(" ")}: ` +
  [...v.nodes[0].any, ...v.nodes[0].all, ...v.nodes[0].none].map(c =>
    c.message + (c.relatedNodes && c.relatedNodes.length ? " (see " + c.relatedNodes.map(n => n.target.join(" ")).join(", ") + ")" : "")).join("; ")))
