/* Would it suit my tank? The same rules as care sheets follow (a test holds the two against each other). It asks nobody
   and keeps nothing but what stands in the address after the sign #. */
(function () {
  "use strict";
  var CACO3 = 100.086, CAO = 56.077, PPM = CAO / CACO3 / 10, SLACK = 1e-6;
  var noise = { temperature: 1, gh: 1, kh: 1, ph: 0.2 }, METER = 0.1;
  var hardness = { "dgh": ["dGH", 1], "°d": ["°d", 1], "°dgh": ["dGH", 1], "°dh": ["dGH", 1], "dh": ["dGH", 1], "ppm": ["ppm", PPM], "mg/l": ["mg/L", PPM], "mmol/l": ["mmol/L", CAO / 10], "°f": ["°f", 10 * PPM], "°fh": ["°f", 10 * PPM], "°e": ["°e", 64.79891 / 4.54609 * PPM] };
  var alkalinity = { "dkh": ["dKH", 1], "°d": ["°d", 1], "°dkh": ["dKH", 1], "°dh": ["dKH", 1], "dh": ["dKH", 1], "ppm": ["ppm", PPM], "mg/l": ["mg/L", PPM], "meq/l": ["meq/L", CAO / 20], "mmol/l": ["mmol/L", CAO / 20] };
  var micro = { "us/cm": ["uS/cm", 1], "µs/cm": ["uS/cm", 1], "μs/cm": ["uS/cm", 1], "ms/cm": ["mS/cm", 1000] };
  var flux = ["umol/m2/s", 1];
  var photons = { "umol/m2/s": flux, "µmol/m2/s": flux, "μmol/m2/s": flux, "umol/m²/s": flux, "µmol/m²/s": flux, "μmol/m²/s": flux, "par": flux, "ppfd": flux, "umol": flux, "µmol": flux, "μmol": flux, "lux": ["lux", 15 / 1000], "lx": ["lux", 15 / 1000] };
  var degrees = { "c": ["C", 1, 0], "°c": ["C", 1, 0], "f": ["F", 5 / 9, -32], "°f": ["F", 5 / 9, -32], "k": ["K", 1, -273.15] };
  var lengths = { "cm": ["cm", 1], "mm": ["mm", 0.1], "m": ["m", 100], "in": ["in", 2.54], "ft": ["ft", 30.48] };
  /* own looks a word up that somebody else wrote, as in an address: only what the table itself holds, not what every object has. */
  function own(table, key) { return Object.prototype.hasOwnProperty.call(table, key) ? table[key] : undefined; }

  var kinds = { temperature: degrees, gh: hardness, kh: alkalinity, conductivity: micro, light: photons, ph: null, length: lengths, output: { "lm": ["lm", 1] } };

  /* Words for who has no figure, as ranges in the units of the rules: KH and light are parted as in the offers, GH at 8 and
     15 dGH (common practice); the outer ends are those of usual taps and tanks (our choice). */
  var kinds3 = { soft: 0, weich: 0, medium: 1, mittel: 1, hard: 2, hart: 2, dim: 0, low: 0, dunkel: 0, bright: 2, hell: 2 };
  var spans = { gh: [[1, 7, "dGH"], [8, 14, "dGH"], [15, 25, "dGH"]], kh: [[1, 4, "dKH"], [4, 8, "dKH"], [8, 16, "dKH"]], light: [[15, 30, "umol/m2/s"], [30, 50, "umol/m2/s"], [50, 100, "umol/m2/s"]] };

  /* word reads a kind of water or light; undefined for what is none. */
  function word(kind, text) {
    var s = own(spans, kind), at = own(kinds3, text.toLowerCase());
    if (!s || at === undefined || (kind === "light") !== /^(dim|low|dunkel|medium|mittel|bright|hell)$/i.test(text) && at !== 1) { return undefined; }
    var r = s[at];
    return { known: true, low: r[0], best: (r[0] + r[1]) / 2, high: r[1], text: r[0] + ".." + r[1] + " " + r[2] };
  }

  /* read turns what somebody typed into a value in the unit of the rules. {} for nothing, {fault} for what is no figure. */
  function read(kind, text) {
    var t = String(text).replace(/[\s\u00a0]+/g, " ").trim();
    if (t === "" || t === "?") { return {}; }
    var named = word(kind, t);
    if (named) { return named; }
    t = t.replace(/(\d),(\d{1,2})(?!\d)/g, "$1.$2").replace(/(\d)\s*[–-]\s*(\d)/, "$1..$2");
    if (kind === "light") { t = t.replace(/^(?:par|ppfd) ?[:=]? ?(\d[\d. ]*)$/i, "$1 par").replace(/^(?:par|ppfd) ?[:=]? ?(?=\d)/i, ""); } /* as a meter says it */
    var m = /^(<)? ?(\d+(?:\.\d+)?)(?: ?\.\. ?(\d+(?:\.\d+)?))? ?(.*)$/.exec(t);
    if (!m || (m[1] && m[3])) { return { fault: true }; }
    var unit = m[4].trim(), u = ["", 1, 0];
    if (own(kinds, kind)) {
      u = own(kinds[kind], unit.toLowerCase());
      if (!u) { return { fault: true }; }
    } else if (unit !== "") { return { fault: true }; }
    var base = function (n) { return (n + (u[2] || 0)) * u[1]; };
    var a = parseFloat(m[2]), b = m[3] === undefined ? a : parseFloat(m[3]);
    if (a > b) { var x = a; a = b; b = x; }
    var low = base(a), high = base(b), best = low / 2 + high / 2;
    if (m[1] && kind !== "ph" && kind !== "temperature") { low = 0; best = high / 2; } /* under a test's limit, half of it at best; of those two the limit itself */
    return { known: true, below: !!m[1], low: low, best: best, high: high, text: (m[1] || "") + m[2] + (m[3] === undefined ? "" : ".." + m[3]) + (u[0] ? " " + u[0] : "") };
  }

  /* judge holds a value against a band [low, high]: within the noise of a test it is near the edge, and a lower end of nothing is no edge. */
  function judge(band, v, noise) {
    if (!band || !v || !v.known) { return { outcome: "not-known", by: 0 }; }
    var lo = v.below ? v.high : v.low, hi = v.below ? v.low : v.high; /* below a limit it is outside only with all of what it may be */
    var below = band[0] - lo, above = hi - band[1];
    var under = noise === undefined ? METER * band[0] : noise, over = noise === undefined ? METER * band[1] : noise; /* of light, a meter's tenth */
    if (below > under + SLACK && below >= above) { return { outcome: "outside", by: -below }; }
    if (above > over + SLACK) { return { outcome: "outside", by: above }; }
    var margin = 0.15 * (band[1] - band[0]);
    var inner = v.below ? v.best : v.low, outer = v.below ? v.best : v.high;
    if (band[0] > 0 && (inner < band[0] + margin - SLACK || v.low < band[0] - SLACK) || outer > band[1] - margin + SLACK || v.high > band[1] + SLACK) { return { outcome: "near-edge", by: 0 }; }
    return { outcome: "well-inside", by: 0 };
  }

  function gas(need, co2) {
    if (need === "none") { return "well-inside"; }
    if (!need || !co2) { return "not-known"; }
    if (co2 === "yes") { return "well-inside"; }
    return need === "helps" ? "near-edge" : "outside";
  }

  function classOf(change, ends) {
    for (var i = 0; i < 3; i++) { if (Math.abs(change) <= ends[i] + SLACK) { return i + 1; } }
    return 4;
  }

  /* step is the class of the change from the giver's water: 0 not known, 1 small … 4 very large. */
  function step(plant, tank) {
    var from = plant.from || {}, worst = 0, rise = 0;
    [["temperature", [3, 6, 10]], ["gh", [5, 10, 15]], ["kh", [3, 6, 10]]].forEach(function (p) {
      var v = tank[p[0]];
      if (typeof from[p[0]] !== "number" || !v || !v.known) { return; }
      var change = v.best - from[p[0]];
      if (p[0] === "kh") { rise = change; }
      worst = Math.max(worst, classOf(change, p[1]));
    });
    if (from.co2 && tank.co2) { worst = Math.max(worst, from.co2 === "no" || tank.co2 === "yes" || plant.co2 === "none" ? 1 : 3); }
    var soft = plant.kh && plant.kh[1] <= 5 + SLACK && rise > 1;
    if ((soft || plant.melts >= 3 || plant.melts === 2 && worst >= 2) && worst > 0 && worst < 3) { return worst + 1; }
    return worst;
  }

  /* fit judges a plant against a tank and sums up by the rule of care sheets. */
  function fit(plant, tank) {
    var vs = ["temperature", "gh", "kh", "light"].map(function (p) {
      var j = judge(plant[p], tank[p], noise[p]);
      return { parameter: p, outcome: j.outcome, by: j.by, counts: true };
    });
    vs.push({ parameter: "co2", outcome: gas(plant.co2, tank.co2), by: 0, counts: plant.co2 === "needed" });
    var j = judge(plant.ph, tank.ph, noise.ph), kh = tank.kh && tank.kh.known ? tank.kh.best : 0;
    /* so high a pH leaves no free CO2 for a plant that lives on it: under 0.3 mg/L */
    var starves = j.outcome === "outside" && j.by > 0 && !plant.bicarbonate && 3.27 * kh * Math.pow(10, 7 - tank.ph.high) < 0.3;
    vs.push({ parameter: "ph", outcome: j.outcome, by: j.by, counts: vs[2].outcome === "not-known" || starves });
    var salty = !!(tank.conductivity && tank.conductivity.known && (tank.conductivity.below ? tank.conductivity.best : tank.conductivity.high) > Math.max(plant.salt || 0, 2000));
    var outside = vs.filter(function (v) { return v.outcome === "outside" && v.counts; });
    var hopeless = salty || outside.some(function (v) {
      return v.parameter === "co2" || v.parameter === "temperature" && Math.abs(v.by) > 3 + SLACK || v.parameter === "kh" && v.by > 4 + SLACK;
    });
    var s = step(plant, tank), summary = "good-match";
    if (vs[0].outcome === "not-known" && vs[1].outcome === "not-known" && vs[2].outcome === "not-known" && !salty) { summary = "cannot-say"; }
    else if (outside.length > 1 || hopeless) { summary = "poor-match"; }
    else if (outside.length === 1 || s >= 3) { summary = "one-change"; }
    return { verdicts: vs, summary: summary, step: s, salty: salty };
  }

  if (typeof module === "object" && module.exports) { module.exports = { read: read, fit: fit }; return; }

  var form = document.getElementById("suit"), store = document.getElementById("suit-data");
  if (!form || !store) { return; }
  var data = JSON.parse(store.textContent), words = data.words;
  var list = document.getElementById("suit-list"), said = document.getElementById("suit-said"), block = document.getElementById("suit-block"), send = document.getElementById("suit-send");
  var rowOf = {};
  Array.prototype.forEach.call(document.querySelectorAll("tr[data-plant]"), function (r) { rowOf[r.getAttribute("data-plant")] = r; });
  var judged = { temperature: 1, gh: 1, kh: 1, ph: 1, conductivity: 1, light: 1 };

  function say(key, values) {
    return (own(words, key) || key).replace(/\{(\w+)\}/g, function (all, name) { var v = values && own(values, name); return v === undefined ? all : v; });
  }

  function element(name, text, className) {
    var e = document.createElement(name);
    if (text) { e.textContent = text; }
    if (className) { e.className = className; }
    return e;
  }

  function answers() {
    var tank = {}, lines = [], all = 0;
    Array.prototype.forEach.call(form.elements, function (e) {
      if (!e.name) { return; }
      var kind = e.getAttribute("data-kind"), value = e.value.trim(), line = value;
      if (kind) {
        var v = read(kind, value), note = document.getElementById(e.id + "-note");
        e.setAttribute("aria-invalid", v.fault ? "true" : "false");
        if (note) { note.textContent = v.fault ? say("fault", { example: e.getAttribute("data-example") }) : ""; }
        if (v.fault) { line = ""; }
        if (v.known) { line = v.text; if (own(judged, e.name)) { tank[e.name] = v; all++; } }
      } else if (e.name === "co2") { tank.co2 = value; if (value) { all++; } }
      if (line && e.name !== "light" && value !== "?") { lines.push(e.name.replace(/-/g, " ") + ": " + line); }
    });
    return { tank: tank, lines: lines, any: all > 0 };
  }

  function reasons(f) {
    var out = [];
    if (f.salty) { out.push(say("salty")); }
    ["outside", "near-edge"].forEach(function (o) {
      f.verdicts.forEach(function (v) {
        if (v.outcome !== o || v.parameter === "ph" && !v.counts) { return; }
        out.push(say(o + (v.parameter === "co2" ? "-co2" : o === "outside" ? (v.by < 0 ? "-low" : "-high") : ""), { name: say(v.parameter) }));
      });
    });
    if (f.step >= 3) { out.push(say("step")); }
    return out;
  }

  var order = ["good-match", "one-change", "cannot-say", "poor-match"];

  function show() {
    var a = answers();
    list.textContent = "";
    form.setAttribute("data-any", a.any ? "yes" : "no");
    if (!a.any) { said.textContent = say("empty"); }
    else {
      var rows = data.plants.map(function (p) { return { plant: p, fit: fit(p, a.tank) }; });
      var counts = {};
      order.forEach(function (s) { counts[s] = rows.filter(function (r) { return r.fit.summary === s; }).length; });
      said.textContent = say("said", { all: rows.length }) + " " + order.filter(function (s) { return counts[s] > 0; }).map(function (s) { return say("said-" + s, { n: counts[s] }); }).join(", ") + ".";
      var missing = ["temperature", "gh", "kh", "light", "co2"].filter(function (p) { return p === "co2" ? !a.tank.co2 : !a.tank[p]; });
      if (missing.length) { said.textContent += " " + say("missing", { what: missing.map(function (p) { return say(p); }).join(", ") }); }
      order.forEach(function (s) {
        var these = rows.filter(function (r) { return r.fit.summary === s; });
        if (!these.length) { return; }
        these.sort(function (x, y) { return (y.plant.offered ? 1 : 0) - (x.plant.offered ? 1 : 0); });
        var head = element("h3", say(s)), mark = document.querySelector("[data-answer=" + s + "]");
        head.insertBefore(mark.cloneNode(true), head.firstChild);
        list.appendChild(head);
        var ul = element("ul", "", "slips");
        ul.setAttribute("role", "list");
        these.forEach(function (r) {
          var li = element("li", "", "label"), row = rowOf[r.plant.id];
          li.appendChild(row.querySelector(".slip").cloneNode(true));
          var why = reasons(r.fit).join(" ");
          if (why) { li.appendChild(element("p", why)); }
          ul.appendChild(li);
        });
        list.appendChild(ul);
      });
    }
    var text = [data.begin].concat(a.lines, [data.end]).join("\n");
    block.textContent = text;
    if (send && data.mail) { send.href = data.mail + "&body=" + encodeURIComponent(say("mail") + "\r\n\r\n" + text.replace(/\n/g, "\r\n") + "\r\n"); }
    var parts = [];
    Array.prototype.forEach.call(form.elements, function (e) { if (e.name && e.value.trim()) { parts.push(encodeURIComponent(e.name) + "=" + encodeURIComponent(e.value.trim())); } });
    history.replaceState(null, "", parts.length ? "#" + parts.join("&") : location.pathname + location.search);
  }

  /* recall fills the form from the address. One that was cut, or that has a key of no field or one twice, fills in nothing. */
  function recall() {
    var fields = {}, found = [];
    Array.prototype.forEach.call(form.elements, function (e) { if (e.name) { fields[e.name] = e; } });
    try {
      location.hash.slice(1).split("&").filter(Boolean).forEach(function (part) {
        var i = part.indexOf("="), e = own(fields, decodeURIComponent(part.slice(0, Math.max(i, 0))));
        if (!e || found.some(function (f) { return f[0] === e; })) { throw new Error("no field, or one twice"); }
        found.push([e, decodeURIComponent(part.slice(i + 1)).slice(0, 80)]);
      });
    } catch (err) { return; }
    found.forEach(function (f) { f[0].value = f[1]; });
  }

  form.hidden = false;
  document.getElementById("suit-answer").hidden = false;
  form.addEventListener("submit", function (e) {
    e.preventDefault();
    show();
    var head = document.getElementById("h-answer");
    head.tabIndex = -1;
    head.focus({ preventScroll: true });
    head.scrollIntoView({ block: "start" });
  });
  form.addEventListener("change", show);
  form.addEventListener("reset", function () { setTimeout(show, 0); });
  window.addEventListener("hashchange", function () { recall(); show(); });
  recall();
  show();
})();
