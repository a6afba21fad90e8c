// Served by the preview only: keeps an open page up to date with what was saved.
(() => {
  "use strict";
  const me = document.currentScript;
  const key = "slipleaf preview " + location.pathname;

  // What a reload would lose: how far the page was scrolled and which disclosures stood open.
  const disclosures = () => [...document.querySelectorAll("details")];
  const keep = () => sessionStorage.setItem(key, JSON.stringify({ x: scrollX, y: scrollY, open: disclosures().map((d) => d.open) }));
  const restore = () => {
    const kept = sessionStorage.getItem(key);
    if (!kept) return;
    sessionStorage.removeItem(key);
    const { x, y, open } = JSON.parse(kept);
    disclosures().forEach((d, i) => { if (open[i] !== undefined) d.open = open[i]; });
    scrollTo({ left: x, top: y, behavior: "instant" });
  };
  restore();

  const swapStyles = (was, is) => {
    for (const link of document.querySelectorAll("link[rel=stylesheet]")) {
      if (new URL(link.href).pathname !== was) continue;
      const fresh = link.cloneNode();
      fresh.href = is;
      fresh.addEventListener("load", () => link.remove());
      fresh.addEventListener("error", () => location.reload());
      link.after(fresh);
    }
  };

  const complain = async (broken) => {
    const old = document.getElementById("preview-complaints");
    if (!broken) { old?.remove(); return; }
    const answer = await fetch("/-/complaints");
    const part = new DOMParser().parseFromString(await answer.text(), "text/html").getElementById("preview-complaints");
    document.getElementById("preview-complaints")?.remove();
    if (part) document.body.append(part);
  };

  const query = new URLSearchParams({ at: location.pathname, seen: me.dataset.edition });
  let events;
  const listen = () => {
    events = new EventSource("/-/events?" + query);
    events.addEventListener("reload", () => { events.close(); keep(); location.reload(); });
    events.addEventListener("styles", (e) => { const { old, new: fresh } = JSON.parse(e.data); swapStyles(old, fresh); });
    events.addEventListener("complaints", (e) => complain(JSON.parse(e.data)));
  };
  listen();
  // A browser keeps few streams open to one host, so a page that is left gives its own back.
  addEventListener("pagehide", () => events.close());
  addEventListener("pageshow", (e) => { if (e.persisted) listen(); });
})();
