// The desk's script: steppers with a long press for ten, and a draft that stays in this browser until it is on the disk.
"use strict";
(() => {
  const saved = document.querySelector("[data-saved]");
  if (saved) localStorage.removeItem("draft:" + saved.dataset.saved);
  // what is copied is a field, or the text before the button; a page that may not write to the clipboard marks it first
  for (const b of document.querySelectorAll("[data-copy]")) {
    b.hidden = false;
    b.addEventListener("click", async () => {
      const field = document.getElementById(b.dataset.copy), text = b.parentElement.previousElementSibling;
      if (field) field.select(); else getSelection().selectAllChildren(text);
      try { await navigator.clipboard.writeText(field ? field.value : text.textContent.trim()); } catch { if (!document.execCommand("copy")) return; }
      b.classList.add("main");
    });
  }

  // steppers, with a long press for ten
  for (const b of document.querySelectorAll("[data-step]")) {
    b.hidden = false;
    const field = b.parentElement.querySelector("input");
    const by = (n) => {
      field.value = Math.max(0, (Number(field.value.replace(",", ".")) || 0) + n);
      field.dispatchEvent(new Event("input", { bubbles: true }));
    };
    let timer = 0, held = false;
    const end = () => { clearTimeout(timer); };
    b.addEventListener("pointerdown", () => {
      held = false;
      const tens = () => { held = true; by(10 * b.dataset.step); timer = setTimeout(tens, 400); };
      timer = setTimeout(tens, 500);
    });
    for (const name of ["pointerup", "pointerleave", "pointercancel"]) b.addEventListener(name, end);
    b.addEventListener("click", () => { if (!held) by(Number(b.dataset.step)); held = false; });
    b.addEventListener("contextmenu", (e) => e.preventDefault());
  }
  const form = document.querySelector("form[data-draft]");
  if (!form) return;
  form.classList.add("stepped");

  // a tap into a number replaces it
  for (const f of form.querySelectorAll("[inputmode]")) f.addEventListener("focus", () => f.select());

  // what was looked at is marked; "same" and "gone" exclude each other; what is offered begins as what was cut
  const looked = (pl) => {
    const get = (key) => pl.querySelector(`[name$='.${key}']`);
    const [count, last, same, gone] = [get("count"), get("last"), get("same"), get("gone")];
    if (!count) return;
    pl.classList.toggle("left", gone.checked);
    pl.classList.toggle("looked", same.checked || gone.checked || count.value !== last.value);
    const offer = get("offer"), n = get("lot-count"), cut = get("trim");
    if (offer && offer.checked && !n.value && /^\d+$/.test(cut.value)) n.value = cut.value;
  };
  const rows = [...form.querySelectorAll("fieldset.pl")];
  form.addEventListener("input", (e) => {
    const pl = e.target.closest("fieldset.pl");
    if (pl) {
      if (e.target.checked) {
        const other = e.target.name.endsWith(".same") ? "gone" : e.target.name.endsWith(".gone") ? "same" : "";
        if (other) pl.querySelector(`[name$='.${other}']`).checked = false;
      }
      looked(pl);
    }
    keep();
  });

  // what is wrong with a field is said as soon as it is left; the journal's reader judges it, and nothing is written
  const whyOf = (f) => f.getAttribute("aria-describedby") && document.getElementById(f.getAttribute("aria-describedby"));
  let judging = null;
  form.addEventListener("change", async (e) => {
    if (!e.target.name || e.target.type === "file") return;
    judging?.abort();
    judging = new AbortController();
    const body = new FormData(form);
    body.delete("photo");
    body.delete("photo-kept");
    body.append("do", "judge");
    let page;
    try { page = new DOMParser().parseFromString(await (await fetch(form.action, { method: "POST", body, signal: judging.signal })).text(), "text/html"); } catch { return; } // saving says it
    if (!page.querySelector("form[data-draft]")) return;
    for (const f of form.querySelectorAll("[name][aria-invalid]")) {
      if (page.querySelector(`[name="${f.name}"][aria-invalid]`)) continue;
      whyOf(f)?.remove();
      f.removeAttribute("aria-invalid");
      f.closest(".ctl, .two > div")?.classList.remove("bad");
    }
    for (const was of page.querySelectorAll("[name][aria-invalid]")) {
      const f = form.elements[was.name], why = page.getElementById(was.getAttribute("aria-describedby"));
      if (!f || !why) continue;
      whyOf(f)?.remove();
      why.setAttribute("role", "status");
      f.setAttribute("aria-invalid", "true");
      f.setAttribute("aria-describedby", why.id);
      const at = f.closest(".ctl");
      (at || f.parentElement).classList.add("bad");
      if (at) at.after(why); else f.after(why);
    }
  });

  // the draft
  const at = "draft:" + form.dataset.draft, note = document.getElementById("draft");
  const fields = () => [...form.elements].filter((f) => f.name && f.type !== "hidden" && f.type !== "file" && f.type !== "submit");
  const value = (f) => (f.type === "checkbox" ? f.checked : f.value);
  const first = Object.fromEntries(fields().map((f) => [f.name, f.type === "checkbox" ? f.defaultChecked : f.tagName === "SELECT" ? f.value : f.defaultValue]));
  let stored = null;
  try { stored = JSON.parse(localStorage.getItem(at)); } catch { /* damaged */ }
  const failed = Boolean(document.getElementById("faults")); // the page holds what was typed already
  const keep = () => {
    const draft = failed ? { ...stored } : {};
    for (const f of fields()) if (value(f) !== first[f.name]) draft[f.name] = value(f);
    form.classList.toggle("touched", Object.keys(draft).length > 0); // there is something to save
    try {
      if (Object.keys(draft).length) localStorage.setItem(at, JSON.stringify(draft)); else localStorage.removeItem(at);
    } catch { /* a browser that keeps nothing */ }
  };
  if (stored && !failed) {
    for (const f of fields()) {
      if (!(f.name in stored)) continue;
      if (f.type === "checkbox") f.checked = stored[f.name]; else f.value = stored[f.name];
      f.closest("details")?.setAttribute("open", "");
    }
    note.textContent = form.dataset.restored;
    const drop = document.createElement("button");
    drop.type = "button"; drop.className = "drop"; drop.textContent = form.dataset.drop;
    drop.addEventListener("click", () => { localStorage.removeItem(at); location.reload(); });
    note.after(drop);
    form.classList.add("touched");
  } else keep();
  rows.forEach(looked);

  // a photo is taken in at once, so that saving does not wait for it
  const file = form.elements.photo, kept = form.elements["photo-kept"], told = document.getElementById("photo-said");
  let taking = null;
  const take = async () => {
    const f = file.files[0];
    kept.value = "";
    if (!f) { told.textContent = ""; return; }
    told.textContent = form.dataset.taking;
    const body = new FormData();
    body.append("form", form.elements.form.value);
    body.append("photo", f);
    try {
      const answer = await (await fetch("/desk/photo/", { method: "POST", body })).json();
      if (file.files[0] !== f) return; // another was chosen meanwhile
      told.textContent = answer.said;
      told.className = answer.fault ? "why" : "";
      told.toggleAttribute("data-kept", Boolean(answer.kept));
      if (answer.kept) { kept.value = answer.kept; file.value = ""; }
    } catch { told.textContent = ""; } // it goes with the form
  };
  file.addEventListener("change", () => { taking = take().finally(() => { taking = null; }); });
  form.addEventListener("submit", (e) => {
    if (!taking) return;
    e.preventDefault();
    taking.then(() => form.requestSubmit());
  });
  addEventListener("offline", () => { note.textContent = form.dataset.offline; });
})();
