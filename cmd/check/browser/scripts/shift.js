// The sum of the layout shifts since the page opened; 0.02 is allowed.
new Promise(done => {
  let sum = 0;
  const o = new PerformanceObserver(l => { for (const e of l.getEntries()) if (!e.hadRecentInput) sum += e.value; });
  o.observe({ type: "layout-shift", buffered: true });
  requestAnimationFrame(() => requestAnimationFrame(() => { o.disconnect(); done(sum > 0.02 ? ["layout shifts by " + sum.toFixed(3)] : []); }));
})
