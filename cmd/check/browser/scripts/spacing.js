// The text spacing that a reader may set without losing anything: WCAG 2.2, 1.4.12.
(() => {
  const s = new CSSStyleSheet();
  s.replaceSync("* { line-height: 1.5 !important; letter-spacing: .12em !important; word-spacing: .16em !important } p { margin-bottom: 2em !important }");
  document.adoptedStyleSheets = [s];
})()
