// Hole files: read as io/yaml_reader.py reads the plain part of YAML, and written as io/hole_writer.py writes.

// ─── Reading ─────────────────────────────────────────────────────────────────────────────────────────────────────────

const NUMBER = /^-?(\d+(\.\d*)?|\.\d+)([eE][-+]?\d+)?$/;
const MEANINGS = new Map(Object.entries({"": null, "~": null, null: null, true: true, false: false}).flatMap(
  ([word, value]) => [word, capital(word), word.toUpperCase()].map((form) => [form, value])));
const ESCAPES = {0: "\0", a: "\x07", b: "\b", t: "\t", n: "\n", v: "\v", f: "\f", r: "\r", e: "\x1b", " ": " ", '"': '"', "/": "/", "\\": "\\", N: "\x85", _: "\xa0", L: "\u2028", P: "\u2029"};
const LINES = "lines of `key: value`, evenly indented, with every bracket and quote closed";

/** What a file has that it can't have: its line, what was expected and found. */
class Unreadable extends Error {
  constructor(line, expected, found) {
    super(`line ${line}: expected ${expected}, found ${found}`);
  }
}

/** Return what an unquoted scalar means. */
function plainValue(text) {
  if (MEANINGS.has(text)) return MEANINGS.get(text);
  return NUMBER.test(text) && Number.isFinite(Number(text)) ? Number(text) : text;
}

/**
 * Return {data, lines, comments, doubled}: data in lists and Maps, which keep the order of their keys; lines by location, as
 * "areas/2/outline"; lines of comments and of doubled keys. Text and lines are those that the program reads.
 */
function readYaml(whole) {
  const text = whole.replace(/^\ufeff/, "").replace(/\r\n?/g, "\n");
  const lines = new Map(), comments = [], doubled = [];
  let at = 0;

  const rows = text.split("\n"), starts = [0];
  for (const row of rows) starts.push(starts.at(-1) + row.length + 1);
  const lineOf = (place) => {
    let low = 0, high = rows.length;
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if (starts[middle] <= place) low = middle;
      else high = middle;
    }
    return low + 1;
  };
  const column = () => at - starts[lineOf(at) - 1];
  const fail = (expected = LINES, found = null, place = at) => {
    const row = lineOf(place);
    throw new Unreadable(row, expected, found || `something else near '${short(rows[row - 1].trim(), 60)}'`);
  };
  const ends = (place) => place >= text.length || text[place] === "\n";
  const gap = (place) => ends(place) || text[place] === " " || text[place] === "\t";
  const marker = (sign) => text.startsWith(sign, at) && gap(at + 3) && column() === 0;

  /** Go on past blanks, and past line ends and comments where `far`. */
  function skip(far = true) {
    for (;;) {
      while (text[at] === " " || (text[at] === "\t" && text.slice(at - column(), at).trim())) at += 1;
      if (text[at] === "#" && (at === 0 || /\s/.test(text[at - 1]))) {
        comments.push(lineOf(at));
        while (!ends(at)) at += 1;
      }
      if (!far || text[at] !== "\n") return;
      at += 1;
    }
  }

  function quoted() {
    const mark = text[at], start = at;
    let found = "";
    for (at += 1; ; at += 1) {
      if (at >= text.length) fail(LINES, null, start);
      const sign = text[at];
      if (sign === mark) {
        if (mark === '"' || text[at + 1] !== "'") break;
        at += 1;
        found += "'";
      } else if (sign === "\n") { // folded: one line end is a space, more are one fewer
        found = found.replace(/[ \t]+$/, "");
        let ended = 0;
        while (/\s/.test(text[at] || "")) { ended += text[at] === "\n" ? 1 : 0; at += 1; }
        if (marker("---") || marker("...")) fail(LINES, null, start);
        found += ended > 1 ? "\n".repeat(ended - 1) : " ";
        at -= 1;
      } else if (mark === '"' && sign === "\\") {
        at += 1;
        const size = {x: 2, u: 4, U: 8}[text[at]];
        if (size) {
          const code = text.slice(at + 1, at + 1 + size);
          if (!new RegExp(`^[0-9a-fA-F]{${size}}$`).test(code) || parseInt(code, 16) > 0x10ffff) fail();
          found += String.fromCodePoint(parseInt(code, 16));
          at += size;
        } else if (text[at] === "\n") {
          while (/\s/.test(text[at + 1] || "")) at += 1;
        } else if (text[at] in ESCAPES) found += ESCAPES[text[at]];
        else fail();
      } else found += sign;
    }
    at += 1;
    return found;
  }

  /** Refuse what is more than the plain part of YAML. */
  function refuse() {
    const sign = text[at], word = (text.slice(at + 1).match(/^[^\s,[\]{}]*/) || [""])[0];
    if (sign === "&" || sign === "*") fail("every value written out", `the anchor or alias \`${short(word, 60)}\``);
    if (sign === "!") fail("plain values", `the tag \`!${short(word, 60)}\``);
    if (sign === "|" || sign === ">") fail("text on one line, in quotes if need be", `a block of text after \`${sign}\``);
    if ("@`%".includes(sign) || (",[]{}".includes(sign)) || ("-?:".includes(sign) && gap(at + 1))) fail();
  }

  /** Read an unquoted scalar; in brackets (flow) commas and brackets end it, else lines indented further go on with it. */
  function plain(flow, indent) {
    refuse();
    let found = "";
    for (;;) {
      const start = at;
      while (!ends(at) && !(text[at] === "#" && /\s/.test(text[at - 1]))) {
        if (text[at] === ":" && (gap(at + 1) || (flow && ",[]{}".includes(text[at + 1])))) break;
        if (flow && ",[]{}".includes(text[at])) break;
        at += 1;
      }
      const piece = text.slice(start, at);
      found += piece.trim();
      at = start + piece.trimEnd().length;
      const stay = at;
      while (gap(at) && at < text.length && text[at] !== "\n") at += 1;
      if (text[at] !== "\n") { at = stay; return found; }
      let ended = 0;
      while (at < text.length && /\s/.test(text[at])) { ended += text[at] === "\n" ? 1 : 0; at += 1; }
      const more = at < text.length && text[at] !== "#" && (flow ? !",[]{}:".includes(text[at]) : column() > indent) && !marker("---") && !marker("...");
      if (!more) { at = stay; return found; }
      found += ended > 1 ? "\n".repeat(ended - 1) : " ";
    }
  }

  const key = () => {
    const start = at;
    if (text[at] === "?" && gap(at + 1)) fail("a plain word before each colon", "something else");
    if (text[at] === "[" || text[at] === "{") fail("a plain word before each colon", "something else");
    const found = text[at] === '"' || text[at] === "'" ? quoted() : text[at] === ":" ? "" : plain(true, 0);
    if (!found) fail("a plain word before each colon", "nothing", start);
    return found;
  };

  /** Keep a value under a key, the first of a doubled one. */
  function keep(entries, name, place, path, read) {
    const again = entries.has(name);
    if (again) doubled.push({line: lineOf(place), name});
    else lines.set([...path, name].join("/"), lineOf(place));
    const value = read();
    if (!again) entries.set(name, value);
  }

  function flow(path) {
    if (path.length > 20) fail("at most 20 brackets or indents inside each other", "more");
    const open = text[at], list = open === "[", found = list ? [] : new Map();
    if (text[at] === '"' || text[at] === "'") return quoted();
    if (open !== "[" && open !== "{") return plainValue(plain(true, 0));
    const start = at;
    for (at += 1; ; ) {
      skip();
      if (at >= text.length) fail(LINES, null, start);
      if (text[at] === (list ? "]" : "}")) { at += 1; return found; }
      const place = at;
      if (list) {
        lines.set([...path, found.length].join("/"), lineOf(place));
        found.push(flow([...path, found.length]));
      } else {
        const name = key();
        skip();
        keep(found, name, place, path, () => {
          if (text[at] !== ":") return null;
          at += 1;
          skip();
          return text[at] === "," || text[at] === "}" ? null : flow([...path, name]);
        });
      }
      skip();
      if (text[at] === ",") at += 1;
      else if (text[at] !== (list ? "]" : "}")) fail();
    }
  }

  const done = () => {
    skip(false);
    if (!ends(at)) fail();
  };

  /** Tell whether a key stands here: a scalar and a colon on one line. */
  function keyed() {
    const row = text.slice(at, starts[lineOf(at)] - 1);
    if (/^(?:"(?:[^"\\]|\\.)*"|'(?:[^']|'')*')[ \t]*:(?=\s|$)/.test(row)) return true;
    return row[0] === "?" && gap(at + 1) || (!"\"'[{".includes(row[0]) && /:(?=\s|$)/.test(row.replace(/\s#.*/, "")));
  }

  /** Read what begins here, indented further than `indent`. */
  function block(indent, path) {
    if (path.length > 20) fail("at most 20 brackets or indents inside each other", "more");
    const deep = column();
    if (text[at] === "-" && gap(at + 1)) return entriesOf(deep, path);
    if (keyed()) return mapping(deep, path);
    refuseTabs();
    const value = "[{\"'".includes(text[at]) ? flow(path) : plainValue(plain(false, indent));
    done();
    return value;
  }

  function refuseTabs() {
    if (text.slice(at - column(), at).includes("\t") || text[at] === "\t") fail();
  }

  function entriesOf(deep, path) {
    const found = [];
    for (;;) {
      lines.set([...path, found.length].join("/"), lineOf(at));
      at += 1;
      const line = lineOf(at);
      skip();
      const none = at >= text.length || (lineOf(at) !== line && column() <= deep);
      found.push(none ? null : block(deep, [...path, found.length]));
      skip();
      refuseTabs();
      if (at >= text.length || column() < deep || marker("---") || marker("...")) return found;
      if (column() > deep) fail();
      if (!(text[at] === "-" && gap(at + 1))) return found;
    }
  }

  function mapping(deep, path) {
    const found = new Map();
    for (;;) {
      refuseTabs();
      const place = at, name = key();
      skip(false);
      if (text[at] !== ":") fail();
      at += 1;
      keep(found, name, place, path, () => {
        const line = lineOf(at);
        skip();
        const inline = at < text.length && lineOf(at) === line;
        if (inline) {
          const value = "[{\"'".includes(text[at]) ? flow([...path, name]) : plainValue(plain(false, deep));
          done();
          return value;
        }
        const list = text[at] === "-" && gap(at + 1) && column() === deep;
        if (list && !marker("---")) return entriesOf(deep, [...path, name]);
        return at < text.length && column() > deep ? block(deep, [...path, name]) : null;
      });
      skip();
      if (at >= text.length || column() < deep || marker("---") || marker("...")) return found;
      if (column() > deep) fail();
      if (text[at] === "-" && gap(at + 1)) fail();
    }
  }

  skip();
  if (marker("---")) { at += 3; skip(); }
  if (at >= text.length) fail("something written in it", "an empty file");
  const data = block(-1, []);
  skip();
  if (marker("...")) { at += 3; skip(); }
  if (marker("---")) fail("the end of the file", "`---`, which begins a second document");
  if (at < text.length) fail();
  return {data, lines, comments, doubled};
}

// ─── What a file holds, by the format ────────────────────────────────────────────────────────────────────────────────

function words(value) {
  if (value === null) return "nothing";
  if (typeof value === "string") return `'${short(value, 40)}'`;
  return typeof value === "object" ? (Array.isArray(value) ? `a list of ${value.length}` : "a group") : String(value);
}

/** Return what a JSON Schema lets through of a value, undefined for none; lose(path, words) is told of all else. */
function allowed(schema, value, path, lose) {
  if (schema.$ref) return allowed(DATA.format.$defs[schema.$ref.split("/").at(-1)], value, path, lose);
  const off = (expected) => { lose(path, `expected ${expected}, found ${words(value)}`); };
  if (schema.type === "object") {
    if (!(value instanceof Map)) return off("a group of `key: value`");
    const found = new Map();
    for (const [key, item] of value) {
      const part = (schema.properties && Object.hasOwn(schema.properties, key) && schema.properties[key]) || schema.additionalProperties;
      if (!part) lose([...path, key], "no key that a hole file has");
      else if (!key.trim() || [...key].length > 80) lose([...path, key], "a name is 1 to 80 letters");
      else {
        const kept = allowed(part, item, [...path, key], lose);
        if (kept !== undefined) found.set(key, kept);
      }
    }
    const missing = path.length ? (schema.required || []).find((key) => !found.has(key)) : null;
    if (missing) return lose(path, `without a sound \`${missing}\``);
    return schema.properties ? Object.fromEntries(found) : found;
  }
  if (schema.type === "array") {
    if (!Array.isArray(value)) return off("a list");
    if (value.length > schema.maxItems) return off(`at most ${schema.maxItems} entries`);
    const parts = value.map((item, i) => allowed((schema.prefixItems || [])[i] || schema.items || {}, item, [...path, i], schema.prefixItems ? () => {} : lose));
    if (schema.prefixItems) return value.length === schema.minItems && !parts.includes(undefined) ? parts : off(`${schema.minItems} numbers [${["x", "y", "height"].slice(0, schema.minItems)}]`);
    return parts.filter((part) => part !== undefined);
  }
  if (schema.type === "number" || schema.type === "integer") {
    const low = schema.minimum ?? schema.exclusiveMinimum ?? schema.const, high = schema.maximum ?? schema.const;
    const sound = typeof value === "number" && value >= low && value <= high && value !== schema.exclusiveMinimum;
    return sound && (schema.type === "number" || Number.isInteger(value)) ? value : off(`a number from ${low} to ${high}`);
  }
  if (schema.type === "boolean") return typeof value === "boolean" ? value : off("true or false");
  const names = schema.enum || (schema.const ? [schema.const] : null);
  if (names) return names.includes(value) ? value : off(`one of ${names.join(", ")}`);
  return typeof value === "string" && [...value].length <= (schema.maxLength || 80) ? value : off("text, in quotes if it is a number");
}

/** Return an empty hole. */
const emptyHole = () => ({
  name: "", par: 4, stroke_index: null, units: "yards", bearing: null, tees: [], pins: [], surround: DATA.ground, areas: [],
  line: [], boundary: [], heights: [], landmarks: [], spots: [], local_rules: [], origin: null, source: "",
});

/** Return a hole of a file's data, and what of it is lost: words with their place. */
function holeOf(data, lines = new Map()) {
  const lost = [];
  const told = (path) => path.map((step) => (typeof step === "number" ? `no. ${step + 1}` : short(step, 40))).join(" > ");
  const sound = allowed(DATA.format, data, [], (path, what) => {
    const line = lines.get(path.join("/"));
    lost.push(`${told(path) || "the file"}${line ? `, line ${line}` : ""}: ${what}`);
  }) || {};
  const named = (group) => [...(group || [])].map(([name, at]) => (Array.isArray(at) ? {name, at} : {name, at: at.at, lie: at.lie || ""}));
  const area = ({kind, outline, name = "", smooth = false, inner = [], marking = "", height = null, density = null, tilt = null}) => (
    {kind, name, marking, height, density, tilt, smooth, outline, inner});
  const {format: _, ...known} = sound;
  return {lost, hole: {
    ...emptyHole(), ...known, tees: named(sound.tees), pins: named(sound.pins), spots: named(sound.spots),
    areas: (sound.areas || []).filter((each) => each.outline.length).map(area),
    heights: (sound.heights || []).map(([x, y, height]) => ({at: [x, y], height})),
  }};
}

// ─── Writing ─────────────────────────────────────────────────────────────────────────────────────────────────────────

const PLAIN = /^(?:\p{Nd}+ )?[\p{L}\p{Nl}\p{No}](?:[\p{L}\p{N}_'’.°()/&+ -]*[\p{L}\p{N}_'’.°)])?$/u;
const MEANS = ["null", "true", "false", "yes", "no", "on", "off", "y", "n"];

/** Return a number without zeros that say nothing. */
function number(value, decimals = 6) {
  const text = value.toFixed(decimals);
  const bare = text.includes(".") ? text.replace(/\.?0+$/, "") : text;
  return bare === "-0" ? "0" : bare;
}

const word = (text) => (PLAIN.test(text) && !MEANS.includes(text.toLowerCase()) ? text : JSON.stringify(text));

/** Return plain data on one line. */
function flowing(value, decimals = 6) {
  if (typeof value === "string") return word(value);
  if (typeof value === "number") return number(value, decimals);
  if (typeof value === "boolean") return String(value);
  if (Array.isArray(value)) return `[${value.map((item) => flowing(item, decimals)).join(", ")}]`;
  return `{${Object.entries(value).map(([key, item]) => `${word(key)}: ${flowing(item, decimals)}`).join(", ")}}`;
}

/** Return head, the items with commas between, and tail; lines after the first begin so far in. */
function wrapped(head, items, tail, indent) {
  const lines = [], size = (text) => [...text].length;
  let line = head;
  items.forEach((item, i) => {
    const piece = item + (i < items.length - 1 ? "," : tail);
    if (size(line) + size(piece) + 1 > DATA.width && size(line) > indent) {
      lines.push(line.trimEnd());
      line = " ".repeat(indent);
    }
    line += `${piece} `;
  });
  return [...lines, line.trimEnd()].join("\n");
}

function areaText(area) {
  const keys = {kind: area.kind};
  for (const key of ["name", "marking", "height", "density", "tilt"]) if (area[key] !== null && area[key] !== "") keys[key] = area[key];
  if (area.smooth) keys.smooth = true;
  const rings = [area.outline, ...area.inner].map((ring) => ring.map((at) => flowing(at)));
  const text = `  - ${flowing(keys).slice(0, -1)},\n${wrapped("     outline: [", rings[0], rings.length === 1 ? "]}\n" : "],\n", 15)}\n`;
  const inner = rings.slice(1).map((ring, i) => wrapped(i ? "[" : "     inner: [[", ring, "]", 14));
  return inner.length ? `${text}${inner.join(`,\n${" ".repeat(13)}`)}]}\n` : text;
}

/** Return the text of a hole's file. */
function holeText(hole) {
  const places = (list) => `{${list.map(({name, at}) => `${word(name)}: ${flowing(at)}`).join(", ")}}`;
  let text = `format: 1\nname: ${word(hole.name)}\npar: ${hole.par}\n`;
  if (hole.stroke_index !== null) text += `stroke_index: ${hole.stroke_index}\n`;
  text += `units: ${hole.units}\n${hole.bearing === null ? "" : `bearing: ${number(hole.bearing)}\n`}tees: ${places(hole.tees)}\npins: ${places(hole.pins)}\n`;
  text += `surround: ${hole.surround}\nareas:${hole.areas.length ? "" : " []"}\n${hole.areas.map(areaText).join("")}`;
  const long = (key, open, items, close) => { if (items.length) text += `${wrapped(`${key}: ${open}`, items, close, key.length + 3)}\n`; };
  long("line", "[", hole.line.map((at) => flowing(at)), "]");
  long("boundary", "[", hole.boundary.map((at) => flowing(at)), "]");
  long("heights", "[", hole.heights.map(({at, height}) => flowing([...at, height])), "]");
  long("landmarks", "[", hole.landmarks.map(({name, at}) => flowing({name, at})), "]");
  long("spots", "{", hole.spots.map(({name, at, lie}) => `${word(name)}: ${flowing(lie ? {at, lie} : {at})}`), "}");
  long("local_rules", "[", [...hole.local_rules].sort(), "]");
  if (hole.origin) text += `origin: ${flowing(hole.origin, 9)}\n`;
  if (hole.source) text += `source: ${word(hole.source)}\n`;
  return text;
}

/** Return a name as part of a file name: lower case, words joined by hyphens. */
function slug(name) {
  const bare = name.normalize("NFKD").toLowerCase().replace(/ß/g, "ss").replace(/[\p{M}'’]/gu, "");
  return bare.replace(/[^\p{L}\p{N}]+/gu, "-").replace(/^-|-$/g, "").slice(0, 60).replace(/-$/, "") || "hole";
}
