// Search: finds plants, entries and pages in the index that the page carries. Remembers nothing; what was asked
// stands in the page's own address, after the #.
"use strict";
(() => {
  const form = document.querySelector("[data-search]");
  const data = document.getElementById("search-index");
  if (!form || !data) return;
  const index = JSON.parse(data.textContent);
  const words = document.getElementById("search-words").dataset;
  const box = form.elements["for"];
  const count = document.querySelector("[data-search-count]");
  const list = document.querySelector("[data-search-found]");
  const fold = s => s.toLowerCase().normalize("NFD").replace(/[\u0300-\u036f]/g, "").replace(/[‘’]/g, "'").replace(/×/g, "x");
  const folded = index.map(i => ({ title: fold(i.title), text: fold(i.text + " " + i.kind) }));

  // Each word must be somewhere; in the title it weighs more, at the beginning of a word most.
  const weigh = (at, asked) => {
    let sum = 0;
    for (const w of asked) {
      const t = folded[at].title.indexOf(w), x = folded[at].text.indexOf(w);
      if (t < 0 && x < 0) return 0;
      sum += t >= 0 || index[at].latin ? (t <= 0 || folded[at].title[t - 1] === " " ? 6 : 4) : 1;
    }
    return sum;
  };

  const show = () => {
    const asked = fold(box.value).split(/\s+/).filter(Boolean);
    list.textContent = "";
    history.replaceState(null, "", asked.length ? "#" + encodeURIComponent(box.value.trim()) : "#");
    if (!asked.length) { count.textContent = ""; return; }
    const found = index.map((item, at) => ({ item, at, weight: weigh(at, asked) })).filter(f => f.weight > 0)
      .sort((a, b) => b.weight - a.weight || a.at - b.at);
    count.textContent = found.length === 0 ? words.none : found.length === 1 ? words.one : words.many.replace("{n}", found.length);
    for (const { item } of found.slice(0, 40)) {
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
  try { box.value = decodeURIComponent(location.hash.slice(1)); } catch { box.value = ""; }
  if (box.value) show();
})();
