// Search: finds plants, entries and pages in the index that the page carries, by any name that growers use and in any
// spelling of it. Remembers nothing; what was asked stands in the page's own address.
"use strict";
(() => {
  // fold brings text to the form in which names are compared, as the program does: no capitals, accents or signs, and
  // an umlaut is the same with two dots, written out with an e, or left out.
  const fold = s => s.replace(/ß/g, "ss").toLowerCase().normalize("NFD").replace(/[\p{Mn}'’‘`´ʼ]/gu, "").replace(/×/g, " x ").replace(/ø/g, "o")
    .replace(/[^a-z0-9]+/g, " ").replace(/([aou])e/g, "$1").trim();

  // edits is the number of letters to add, drop, change or swap with a neighbour, as far as it is at most limit.
  const edits = (a, b, limit) => {
    if (Math.abs(a.length - b.length) > limit) return limit + 1;
    let older = [], old = Array.from({ length: b.length + 1 }, (_, j) => j);
    for (let i = 1; i <= a.length; i++) {
      const row = [i];
      for (let j = 1; j <= b.length; j++) {
        row[j] = Math.min(old[j - 1] + (a[i - 1] === b[j - 1] ? 0 : 1), old[j] + 1, row[j - 1] + 1);
        if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) row[j] = Math.min(row[j], older[j - 2] + 1);
      }
      older = old; old = row;
    }
    return Math.min(old[b.length], limit + 1);
  };
  const slips = n => n < 5 ? 0 : n < 8 ? 1 : n < 13 ? 2 : 3;

  // ready folds an item of the index once.
  const ready = item => {
    const title = fold(item.title), names = (item.names || []).map(fold), text = fold(item.text + " " + item.kind);
    return { item, title, names, all: [title, ...names].join(" | "), text,
      compact: [title, ...names].map(n => n.replace(/ /g, "")), words: [...new Set([title, ...names, text].join(" ").split(" "))] };
  };

  // weigh tells how well an item answers; 0: not at all. Each word must be somewhere: in a name it weighs more than in the
  // text, at the beginning of a word most, misspelt least; a whole name weighs more than all that.
  const weigh = (r, asked) => {
    const words = asked.split(" "), joined = asked.replace(/ /g, "");
    let sum = r.compact.includes(joined) ? 50 : 0;
    for (const w of words) {
      const at = r.all.indexOf(w);
      if (at >= 0) sum += at === 0 || r.all[at - 1] === " " ? 6 : 4;
      else if (r.text.includes(w)) sum += 1;
      else if (r.compact.some(c => c.includes(joined))) sum += 2;
      else if (r.words.some(x => edits(w, x, slips(w.length)) <= slips(w.length))) sum += 0.5;
      else return 0;
    }
    return sum;
  };

  // find gives the items that answer, the best first.
  const find = (index, text) => {
    const asked = fold(text);
    if (!asked) return [];
    return index.map((r, at) => ({ r, at, weight: weigh(r, asked) })).filter(f => f.weight > 0)
      .sort((a, b) => b.weight - a.weight || a.at - b.at).map(f => f.r.item);
  };

  if (typeof module !== "undefined") { module.exports = { fold, edits, ready, find }; return; }

  const form = document.querySelector("[data-search]");
  const data = document.getElementById("search-index");
  if (!form || !data) return;
  const index = JSON.parse(data.textContent).map(ready);
  const words = document.getElementById("search-words").dataset;
  const box = form.elements["for"];
  const count = document.querySelector("[data-search-count]");
  const list = document.querySelector("[data-search-found]");

  const show = () => {
    list.textContent = "";
    history.replaceState(null, "", location.pathname + (box.value.trim() ? "#" + encodeURIComponent(box.value.trim()) : ""));
    if (!fold(box.value)) { count.textContent = ""; return; }
    const found = find(index, box.value);
    count.textContent = found.length === 0 ? words.none : found.length === 1 ? words.single : words.many.replace("{n}", found.length);
    for (const item of found.slice(0, 40)) {
      const li = document.createElement("li"), a = document.createElement("a"), kind = document.createElement("small"), text = document.createElement("p");
      a.href = item.href;
      const name = document.createElement(item.latin ? "i" : "span");
      if (item.latin) name.lang = "la";
      name.textContent = item.title;
      a.append(name);
      kind.textContent = " " + item.kind;
      text.textContent = item.text;
      text.className = "soft";
      li.append(a, kind, text);
      list.append(li);
    }
  };

  form.addEventListener("submit", e => { e.preventDefault(); show(); });
  box.addEventListener("input", show);
  try { box.value = decodeURIComponent(location.hash.slice(1)) || new URLSearchParams(location.search).get("for") || ""; } catch { box.value = ""; }
  if (box.value) show();
})();
