// The form of all tanks on one page, which works without a network and sends nothing by itself.
(() => {
  const holder = document.getElementById("tankside-data");
  if (!holder) return;
  const data = JSON.parse(holder.textContent), say = data.words, $ = (id) => document.getElementById(id);
  const el = (tag, attrs, ...kids) => {
    const e = document.createElement(tag);
    for (const [k, v] of Object.entries(attrs || {})) if (v !== false && v != null) e.setAttribute(k, v === true ? "" : v);
    e.append(...kids);
    return e;
  };
  const form = $("tankside"), pick = $("tank"), day = $("day"), rows = $("rows"), shown = $("readings"), more = $("more"), out = $("out"), text = $("text");
  const store = {
    get(key) { try { return JSON.parse(localStorage.getItem("tankside:" + key)) || {}; } catch { return {}; } },
    set(key, value) { try { localStorage.setItem("tankside:" + key, JSON.stringify(value)); } catch { /* a browser that keeps nothing */ } },
    drop(key) { try { localStorage.removeItem("tankside:" + key); } catch { /* the same */ } },
  };
  const today = () => { const d = new Date(); return [d.getFullYear(), d.getMonth() + 1, d.getDate()].map((n) => String(n).padStart(2, "0")).join("-"); };
  const field = (name, label, attrs) => el("div", {}, el("label", { for: "f-" + name }, label), el("input", { id: "f-" + name, name, autocomplete: "off", ...attrs }));
  const check = (name, label, plant) => el("label", { class: "pick" }, el("input", { type: "checkbox", name }), el("span", {}, label, el("span", { class: "unseen" }, " " + plant)));

  const marked = (s) => s.replace(".", data.decimal);
  const row = (p) => {
    const figure = p.unit ? { type: "text", inputmode: "decimal" } : { type: "number", inputmode: "numeric", min: 0 };
    const step = (n, label) => el("button", { type: "button", "data-step": n, "aria-label": label.replace("{plant}", p.name) }, n < 0 ? "−" : "+");
    const name = el("legend", { class: "name" }, el("span", {}, p.name, " "), el("small", {}, `${marked(p.last)}${p.unit ? " " + p.unit : ""} ${p.noun}, ${p.day}`));
    if (p.taxon) name.firstChild.append(el("i", { lang: "la" }, p.taxon));
    const cut = p.stems
      ? [field(p.id + ".length", say["stem-length"].replace("{unit}", p.lengthUnit), { inputmode: "decimal", value: p.length }),
        el("div", { class: "two" }, field(p.id + ".trim", say.pieces, { type: "number", inputmode: "numeric", min: 0 }), field(p.id + ".trim-length", say["piece-length"].replace("{unit}", p.lengthUnit), { inputmode: "decimal" }))]
      : [field(p.id + ".trim", `${say["taken-out"]} (${p.unit || p.noun})`, { inputmode: "decimal" })];
    const identity = el("select", { id: `f-${p.id}.identity`, name: p.id + ".identity" }, ...["certain", "likely", "unsure"].map((k) => el("option", { value: k, selected: k === (p.lot.identity || "certain") }, say["identity-" + k])));
    return el("fieldset", { class: "pl", id: "plant-" + p.id }, name,
      el("div", { class: "ctl" }, step(-1, say.less), el("input", { ...figure, name: p.id + ".count", value: p.last, "aria-label": `${p.name}: ${p.noun}` }), step(1, say.more), check(p.id + ".same", say.same, p.name), check(p.id + ".gone", say.gone, p.name)),
      el("details", {}, el("summary", {}, say.cut, el("span", { class: "unseen" }, " " + p.name)),
        el("div", { class: "trim" }, ...cut, el("label", { class: "check" }, el("input", { type: "checkbox", name: p.id + ".offer" }), " " + say.offer),
          el("div", { class: "lot" }, el("div", { class: "two" }, field(p.id + ".lot", say.lot, { value: compose.freeLot(p.id, day.value, data.lots) }), field(p.id + ".lot-count", say["lot-count"], { type: "number", inputmode: "numeric", min: 1 }),
            field(p.id + ".ready", say["lot-ready"], { type: "date", value: day.value }), el("div", {}, el("label", { for: `f-${p.id}.identity` }, say["lot-identity"]), identity))))));
  };
  const reading = (r) => field("p." + r.key, r.name + (r.sign ? ", " + r.sign : "") + (r.last ? " · " + say.was.replace("{value}", marked(r.last)) : ""), { inputmode: "decimal" });

  let tank = null, first = {};
  const fields = () => [...form.elements].filter((f) => f.name && f !== pick && f !== day);
  const value = (f) => (f.type === "checkbox" ? f.checked : f.value);
  const show = (id) => {
    tank = data.tanks.find((t) => t.id === id) || data.tanks[0];
    pick.value = tank.id;
    form.reset();
    day.value = today();
    pick.value = tank.id;
    rows.replaceChildren(...tank.plants.map(row));
    shown.replaceChildren(...tank.readings.filter((r) => r.usual).map(reading));
    more.replaceChildren(...tank.readings.filter((r) => !r.usual).map(reading));
    first = Object.fromEntries(fields().map((f) => [f.name, value(f)]));
    const draft = store.get(tank.id);
    for (const f of fields()) {
      if (!(f.name in draft)) continue;
      if (f.type === "checkbox") f.checked = draft[f.name]; else f.value = draft[f.name];
      f.closest("details")?.setAttribute("open", "");
    }
    if (draft[" day"]) day.value = draft[" day"];
    tank.plants.forEach(looked);
    touched();
    out.hidden = true;
    $("said").textContent = Object.keys(draft).length ? say["draft-restored"] : "";
  };
  const at = (name) => form.elements[name];
  const looked = (p) => {
    const pl = $("plant-" + p.id), gone = at(p.id + ".gone").checked;
    pl.classList.toggle("left", gone);
    pl.classList.toggle("looked", gone || at(p.id + ".same").checked || at(p.id + ".count").value !== p.last);
    const offer = at(p.id + ".offer"), n = at(p.id + ".lot-count"), cut = at(p.id + ".trim");
    if (offer.checked && !n.value && /^\d+$/.test(cut.value)) n.value = cut.value;
  };
  const touched = () => {
    const draft = {};
    for (const f of fields()) if (value(f) !== first[f.name]) draft[f.name] = value(f);
    const any = Object.keys(draft).length > 0;
    if (any) store.set(tank.id, { ...draft, " day": day.value }); else store.drop(tank.id);
    form.classList.toggle("touched", any);
    return any;
  };
  form.addEventListener("input", (e) => {
    if (e.target === pick) return;
    const pl = e.target.closest("fieldset.pl");
    if (pl) {
      const id = pl.id.slice(6);
      if (e.target.checked && e.target.name.endsWith(".same")) at(id + ".gone").checked = false;
      if (e.target.checked && e.target.name.endsWith(".gone")) at(id + ".same").checked = false;
      looked(tank.plants.find((p) => p.id === id));
    }
    touched();
    out.hidden = true;
  });
  pick.addEventListener("change", () => { location.hash = pick.value; show(pick.value); });

  // steppers, with a long press for ten
  let timer = 0, held = false;
  const by = (b, n) => {
    const f = b.parentElement.querySelector("[name$='.count']");
    f.value = Math.max(0, (Number(f.value.replace(",", ".")) || 0) + n);
    f.dispatchEvent(new Event("input", { bubbles: true }));
  };
  rows.addEventListener("pointerdown", (e) => {
    const b = e.target.closest("[data-step]");
    if (!b) return;
    held = false;
    const tens = () => { held = true; by(b, 10 * b.dataset.step); timer = setTimeout(tens, 400); };
    timer = setTimeout(tens, 500);
  });
  for (const name of ["pointerup", "pointerout", "pointercancel"]) rows.addEventListener(name, () => clearTimeout(timer));
  rows.addEventListener("click", (e) => { const b = e.target.closest("[data-step]"); if (b && !held) by(b, Number(b.dataset.step)); held = false; });
  rows.addEventListener("contextmenu", (e) => { if (e.target.closest("[data-step]")) e.preventDefault(); });
  rows.addEventListener("focusin", (e) => { if (e.target.inputMode) e.target.select(); });

  const entry = () => compose.entry(tank, Object.fromEntries(fields().map((f) => [f.name, value(f)])), day.value, data);

  // handing over
  const file = () => {
    const n = (store.get(" made")[tank.id + day.value] || 0) + 1 + (tank.entries.includes(day.value) ? 1 : 0);
    return `tanks/${tank.id}/${day.value}${n > 1 ? "-" + n : ""}.md`;
  };
  form.addEventListener("submit", (e) => {
    e.preventDefault();
    if (!touched()) { $("said").textContent = say["nothing-said"]; return; }
    text.value = compose.text(entry());
    $("path").textContent = file();
    out.hidden = false;
    $("handed").textContent = "";
    const a = $("new-file");
    if (a) {
      const path = encodeURIComponent(file()), holding = (s) => data.newFile.replaceAll("{path}", () => path).replaceAll("{text}", () => encodeURIComponent(s));
      a.href = holding(text.value);
      if (a.href.length > 8000) { // more than many servers take
        a.href = holding("");
        $("handed").textContent = say["too-long"];
      }
    }
    out.focus();
    out.scrollIntoView();
  });
  const handed = (how) => { $("handed").textContent = how; $("anew").hidden = false; };
  const share = $("share");
  share.hidden = !navigator.share;
  share.addEventListener("click", () => navigator.share({ title: file(), text: text.value }).then(() => handed(say.shared), (e) => { if (e.name !== "AbortError") byHand(); }));
  const byHand = () => { // whoever may not copy by the button copies what is marked
    text.focus();
    text.select();
    if (document.execCommand("copy")) handed(say.copied); else handed(say["by-hand"]);
  };
  $("copy").addEventListener("click", async () => {
    try { await navigator.clipboard.writeText(text.value); handed(say.copied); } catch { byHand(); }
  });
  $("keep").addEventListener("click", () => {
    const a = el("a", { download: file().split("/").pop(), href: URL.createObjectURL(new Blob([text.value], { type: "text/markdown" })) });
    a.click();
    setTimeout(() => URL.revokeObjectURL(a.href), 60000);
    handed(say["kept-as-file"]);
  });
  $("new-file")?.addEventListener("click", () => handed(say.opened));
  $("anew").addEventListener("click", () => {
    const made = store.get(" made"), key = tank.id + day.value;
    store.set(" made", { [key]: (made[key] || 0) + 1 });
    store.drop(tank.id);
    show(tank.id);
    scrollTo(0, 0);
  });

  for (const t of data.tanks) pick.append(el("option", { value: t.id }, t.name));
  form.hidden = false;
  form.classList.add("stepped");
  day.value = today();
  show(decodeURIComponent(location.hash.slice(1)));
  const offline = $("offline");
  navigator.serviceWorker?.register("worker.js").then(() => navigator.serviceWorker.ready).then(() => { offline.textContent = say["works-offline"]; offline.dataset.ready = ""; }, () => {});
})();
