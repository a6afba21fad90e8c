// A filled form → the text of a diary entry. The desk composes the same text: build/compose.
"use strict";
const compose = (() => {
  // characters that show nothing: controls, spaces, and those that steer direction or the order of bytes
  const blank = /[\u0000-\u001f\u007f-\u00a0\u1680\u2000-\u200a\u2028-\u202f\u205f\u2066-\u2069\u3000\ufeff\ufffd-\uffff]|[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g;
  const line = (s) => s.replace(blank, " ").replace(/ +/g, " ").replace(/^ | $/g, "");
  const quoted = (s) => '"' + s.replace(/\\/g, "\\\\").replace(/"/g, '\\"') + '"';
  const plain = /^[A-Za-z0-9<][A-Za-z0-9 .<%/°µ-]*$/;
  const reserved = new Set(["null", "yes", "no", "on", "off", "y", "n"]);

  const scalar = (v) => plain.test(v) && !reserved.has(v.toLowerCase()) ? v : quoted(v);

  // {a: 1, b: 2}; words are always quoted, and what is empty is left out
  const flow = (pairs) => {
    const parts = [];
    for (const [key, value, words] of pairs) {
      const v = line(value || "");
      if (v) parts.push(key + ": " + (words ? quoted(v) : scalar(v)));
    }
    return parts.length ? "{" + parts.join(", ") + "}" : "";
  };
  const of = (x, keys, words = []) => keys.map((k) => [k, x[k], words.includes(k)]);
  const amount = ["stems", "plantlets", "leaves", "length", "cover", "mass", "area"];
  const lists = {
    counts: (x) => of(x, ["plant", ...amount]),
    plantings: (x) => of(x, ["plant", ...amount, "from"], ["from"]),
    trims: (x) => of(x, ["plant", "cuttings", "length", "replanted", "removed"]),
    losses: (x) => of(x, ["plant", ...amount, "lot", "count", "cause"], ["cause"]),
    lots: (x) => of(x, ["lot", "plant", "form", "count", "ready", "received-as", "identity", "grown", "submersed-for", "length", "rooted", "pests", "dips", "copper"], ["received-as", "pests", "dips", "copper"]),
    photos: (x) => of(x, ["file", "alt"], ["file", "alt"]),
  };
  const body = (s) => s.replace(/\r\n?/g, "\n").split("\n").map((l) => l.replace(blank, " ").replace(/ +$/, "")).join("\n").replace(/^\n+|\n+$/g, "");

  const text = (e) => {
    let out = "---\n";
    const section = (key, value) => { if (value) out += key + ": " + value + "\n"; };
    const list = (key) => {
      const items = (e[key] || []).map((x) => flow(lists[key](x))).filter(Boolean);
      if (items.length) out += key + ":\n" + items.map((i) => "  - " + i + "\n").join("");
    };
    const title = line(e.title || "");
    if (title) section("title", quoted(title));
    section("parameters", flow((e.parameters || []).map((r) => [r.key, r.value])));
    for (const key of ["counts", "plantings", "trims", "losses"]) list(key);
    section("water-change", flow(of(e["water-change"] || {}, ["share", "with"], ["with"])));
    list("lots");
    const still = (e["still-there"] || []).map(line).filter(Boolean).map(scalar);
    if (still.length) section("still-there", "[" + still.join(", ") + "]");
    list("photos");
    out += "---\n";
    const words = body(e.words || "");
    return words ? out + "\n" + words + "\n" : out;
  };

  // spaces at the ends, those that Go takes for spaces
  const trim = (s) => (s || "").replace(/^[\t-\r \u0085\u00a0\u1680\u2000-\u200a\u2028\u2029\u202f\u205f\u3000]+|[\t-\r \u0085\u00a0\u1680\u2000-\u200a\u2028\u2029\u202f\u205f\u3000]+$/g, "");
  // a figure as the format writes it: with a point, and without zeros at its end
  const number = (s) => {
    s = trim(s);
    const m = /^(<?[0-9]*)[.,]([0-9]+)$/.exec(s);
    if (!m) return s;
    const whole = m[1] === "" || m[1] === "<" ? m[1] + "0" : m[1], rest = m[2].replace(/0+$/, "");
    return rest ? whole + "." + rest : whole;
  };
  // a bare figure with its unit; whatever else was typed is left for the reader to judge
  const withUnit = (s, unit) => {
    s = number(s);
    return /^<?[0-9]+(\.[0-9]+)?$/.test(s) ? trim(s + " " + unit) : s;
  };

  // what the filled form of a tank says: fields are its values by name, data what the page was made with
  const entry = (tank, fields, day, data) => {
    const get = (name) => trim(fields[name]), measure = (to, p, n) => { to[p.measure] = withUnit(n, p.unit || ""); return to; };
    const date = new Date(day + "T12:00:00"), named = { weekday: data.days[date.getDay()], day: date.getDate(), month: data.months[date.getMonth()] };
    const e = { title: tank.name + ", " + data.words.weekday.replace(/\{(\w+)\}/g, (_, k) => named[k]),
      parameters: [], counts: [], plantings: [], trims: [], lots: [], words: fields.words, "water-change": {} };
    for (const r of tank.readings) if (get("p." + r.key)) e.parameters.push({ key: r.key, value: withUnit(get("p." + r.key), r.unit || "") });
    for (const p of tank.plants) {
      const [length, cut, count, pieces] = ["length", "trim", "count", "trim-length"].map((k) => get(p.id + "." + k)), same = fields[p.id + ".same"];
      if (fields[p.id + ".gone"]) e.counts.push(measure({ plant: p.id }, p, "0"));
      else if (same || count !== p.last || p.stems && length !== p.length) {
        e.counts.push({ ...measure({ plant: p.id }, p, count), length: p.stems ? withUnit(length, p.lengthUnit) : "", area: p.area });
      }
      if (cut) e.trims.push(p.stems ? { plant: p.id, cuttings: number(cut), length: withUnit(pieces, p.lengthUnit) } : { plant: p.id, removed: withUnit(cut, p.unit || p.measure) });
      if (fields[p.id + ".offer"]) {
        e.lots.push({ ...p.lot, lot: get(p.id + ".lot"), plant: p.id, count: number(get(p.id + ".lot-count")) || (p.stems ? number(cut) : ""), ready: get(p.id + ".ready"),
          identity: get(p.id + ".identity"), length: p.stems ? withUnit(pieces, p.lengthUnit) : "" });
      }
    }
    if (get("add")) e.plantings.push({ plant: get("add"), [get("add-measure")]: number(get("add-count")) });
    if (get("share")) e["water-change"] = { share: withUnit(get("share"), "%"), with: "tap" };
    return e;
  };

  // a name that no lot has
  const freeLot = (plant, day, lots) => {
    const base = plant.split("-").filter(Boolean).slice(0, 2).map((w) => w[0].toUpperCase()).join("") + "-" + day.slice(5, 7) + day.slice(8);
    let name = base;
    for (let n = 2; lots.includes(name); n++) name = base + "-" + n;
    return name;
  };
  return { text, number, withUnit, entry, freeLot };
})();
if (typeof module !== "undefined") module.exports = compose;
