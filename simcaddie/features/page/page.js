// Draws what was worked out beforehand, and looks it up. Nothing is simulated here: every number that is shown stands in
// the data. Lengths are yards, x to the right and y up the hole; bearings are radians clockwise from +y.
(() => {
const KINDS = DATA.kinds;
const STORE = "simcaddie page";
const BALLS = 20, NO_SWING = 255;
const INK = "#26292d", PAPER = "#fdfbf5", TROUBLE = "#a8442f", QUIET = "#4d5258";
const MARKING = {red: "#b5352c", yellow: "#d09a14"};
const CHOICE = ["#1b4a78", "#a84c15"], DASHES = ["", "7 3"];
const TEXTURE = {trees: "o", heather: "+", gorse: "x", bunker: ".", water: "-", out_of_bounds: "/"};
const PENALTY = new Set(["water", "out_of_bounds", "lost", "unplayable"]);
const OUT = KINDS.findIndex((kind) => kind.name === "out_of_bounds");
const FALL_MS = 170;

// ─── Small things ────────────────────────────────────────────────────────────────────────────────────────────────────

function unpack(text, Type) {
  const raw = atob(text), bytes = new Uint8Array(raw.length);
  for (let i = 0; i < raw.length; i += 1) bytes[i] = raw.charCodeAt(i);
  return new Type(bytes.buffer);
}

const signed = (value, places) => {
  const text = fixed(value, places);
  return Number(value.toFixed(places)) === 0 ? fixed(0, places) : value > 0 ? `+${text}` : text;
};
const listed = (words) => (words.length < 2 ? words.join("") : `${words.slice(0, -1).join(", ")} and ${words.at(-1)}`);
const ahead = (at, bearing, far) => [at[0] + far * Math.sin(bearing), at[1] + far * Math.cos(bearing)];
const bearingOf = (a, b) => Math.atan2(b[0] - a[0], b[1] - a[1]);
const still = () => matchMedia("(prefers-reduced-motion: reduce)").matches;

/** Round to whole numbers that add up to total, by largest remainders. */
function wholes(values, total) {
  const floors = values.map(Math.floor);
  const order = values.map((_, i) => i).sort((i, j) => (floors[i] - values[i]) - (floors[j] - values[j]) || i - j);
  const spare = total - floors.reduce((sum, value) => sum + value, 0);
  const turn = spare > 0 ? order : order.slice().reverse();
  for (let i = 0; i < Math.abs(spare); i += 1) floors[turn[i % turn.length]] += spare > 0 ? 1 : -1;
  return floors;
}

// ─── What is kept on this device ─────────────────────────────────────────────────────────────────────────────────────

const kept = (() => {
  let value = {read: false, guesses: []};
  try {
    const found = JSON.parse(localStorage.getItem(STORE) || "null");
    if (found && Array.isArray(found.guesses)) value = found;
  } catch { /* a device that keeps nothing */ }
  const save = () => { try { localStorage.setItem(STORE, JSON.stringify(value)); } catch { /* nothing is kept */ } };
  return {
    get read() { return value.read; },
    get guesses() { return value.guesses; },
    markRead() { value.read = true; save(); },
    add(guess) { value.guesses.push(guess); save(); },
    clear() { value.guesses = []; save(); },
  };
})();

// ─── The data, opened when it is first needed ────────────────────────────────────────────────────────────────────────

const state = {
  hole: 0, player: 0, question: 0, tab: "try", option: 0, guess: 5, phase: "guess", whole: {},
  pair: [0, 0], turning: 0, look: null, lie: null, timer: 0, paper: 0, fallen: 0, opened: new Set(),
};
const hole = () => DATA.holes[state.hole];
const player = () => hole().players[state.player];
const asked = () => player().questions[state.question];
const length = (yards) => Math.round(yards / hole().perUnit);
const unit = () => (hole().units === "metres" ? "m" : "yd");
const clubOf = (swing) => (player().swings[swing] ? player().swings[swing].title : "touch shot");

const openedOptions = new WeakMap();
/** Return the numbers of a question's options as typed arrays, and the options of each swing from left to right. */
function options(question = asked()) {
  let found = openedOptions.get(question);
  if (found) return found;
  const raw = question.options;
  found = {count: raw.count, best: raw.best, swing: unpack(raw.swing, Uint8Array), aim: unpack(raw.aim, Int8Array)};
  for (const key of ["mean", "se", "diff", "diffSe", "netPar", "blowUp", "points", "trouble", "leave"]) {
    found[key] = unpack(raw[key], Float32Array);
  }
  for (const key of ["finish", "pmf"]) found[key] = unpack(raw[key], Uint16Array);
  found.balls = unpack(raw.balls, Int16Array);
  found.ballKind = unpack(raw.ballKind, Uint8Array);
  found.ofSwing = new Map();
  for (let i = 0; i < found.count; i += 1) {
    if (!found.ofSwing.has(found.swing[i])) found.ofSwing.set(found.swing[i], []);
    found.ofSwing.get(found.swing[i]).push(i);
  }
  for (const row of found.ofSwing.values()) row.sort((i, j) => found.aim[i] - found.aim[j]);
  const places = question.aimWord ?? raw.aimWord;
  const words = question.words ?? raw.words ?? player().words ?? hole().words ?? DATA.words;
  const told = question.aimWords ?? raw.aimWords;
  const number = told ? null : unpack(places, Uint16Array);
  found.words = told ? (i) => told[i] : (i) => words[number[i]];
  openedOptions.set(question, found);
  return found;
}

const openedCells = new WeakMap();
function cells() {
  const raw = asked().anywhere;
  if (!raw) return null;
  let found = openedCells.get(raw);
  if (!found) {
    found = {
      ...raw, swing: unpack(raw.swing, Uint8Array), aim: unpack(raw.aim, Int8Array), toGo: unpack(raw.toGo, Uint16Array),
    };
    openedCells.set(raw, found);
  }
  return found;
}

const openedRings = new WeakMap();
/** Return the rings of a path of straight lines: arrays of [x, y]. */
function rings(owner, path) {
  let found = openedRings.get(owner);
  if (!found) {
    found = path.split(/[Mm]/).slice(1).map((part) => {
      const numbers = (part.match(/-?\d*\.?\d+(?:e[-+]?\d+)?/gi) || []).map(Number);
      return Array.from({length: numbers.length >> 1}, (_, i) => [numbers[2 * i], numbers[2 * i + 1]]);
    });
    openedRings.set(owner, found);
  }
  return found;
}

/** Tell whether a point lies inside rings, by the even-odd rule. */
function inside(all, [x, y]) {
  let odd = false;
  for (const ring of all) {
    for (let i = 0, j = ring.length - 1; i < ring.length; j = i, i += 1) {
      const [ax, ay] = ring[i], [bx, by] = ring[j];
      if (ay > y !== by > y && x < ((bx - ax) * (y - ay)) / (by - ay) + ax) odd = !odd;
    }
  }
  return odd;
}

/** Return the code of the kind of ground at a place: the highest that covers it. */
function groundAt(at) {
  const map = hole().map;
  if (map.boundary && !inside(rings(map, map.boundary), at)) return OUT;
  let code = map.surround;
  for (const area of map.shapes) if (area.kind > code && inside(rings(area, area.path), at)) code = area.kind;
  return code;
}

const aimBearing = (i, question = asked()) => question.pinLine + (options(question).aim[i] * Math.PI) / 180;
const pinOf = (question = asked()) => hole().map.pins.find((pin) => pin.name === question.pin) || hole().map.pins[0];

function degrees(aim) {
  if (aim === 0) return "at the pin";
  return `${Math.abs(aim)}° ${aim < 0 ? "left" : "right"} of the pin`;
}

/** Say an aim by degrees, and by what lies there where the hole has a landmark near. */
function aimWords(i) {
  const words = options().words(i);
  return /°|pin line/.test(words) || words === degrees(options().aim[i]) ? "" : words;
}

const carryOf = (swing, from = hole().place.at) => player().swings[swing]?.carry ?? between(from, pinOf().at);

/** Return a choice's twenty balls: [x, y, kind] each. */
function ballsOf(i) {
  const all = options();
  return Array.from({length: BALLS}, (_, b) => {
    const k = i * BALLS + b;
    return [all.balls[2 * k] / 10, all.balls[2 * k + 1] / 10, all.ballKind[k]];
  });
}

const finishOf = (i) => Array.from(options().finish.subarray(i * KINDS.length, (i + 1) * KINDS.length), (v) => v / 1e4);
const goodOf = (i) => finishOf(i).reduce((sum, share, kind) => sum + (KINDS[kind].good ? share : 0), 0);

const RANK = {good: 0, rough: 1, trouble: 2, penalty: 3};

function ofTen(i) {
  const shares = finishOf(i), sum = shares.reduce((a, b) => a + b, 0) || 1;
  const tens = wholes(shares.map((share) => (10 * share) / sum), 10);
  return tens.map((count, kind) => ({kind, count, share: shares[kind]})).filter((row) => row.count > 0)
    .sort((a, b) => RANK[markOf(a.kind)] - RANK[markOf(b.kind)] || b.share - a.share);
}

/** Return of a hundred plays: better than net par, in net par, one over, two or more over. */
function ofHundred(i) {
  const {cap, netPar} = player(), law = options().pmf.subarray(i * (cap + 1), (i + 1) * (cap + 1));
  const steps = [0, 0, 0, 0];
  law.forEach((share, score) => { steps[clamp(score - netPar, -1, 2) + 1] += share; });
  const sum = steps.reduce((a, b) => a + b, 0) || 1;
  return wholes(steps.map((value) => (100 * value) / sum), 100);
}

function hundredTitles() {
  const par = player().netPar;
  return [`${par - 1} or less`, `${par}, net par`, `${par + 1}`, `${par + 2} or more`];
}

function questionWords(question) {
  const pin = question.pin === "any" ? "any pin" : `${question.pin} pin`;
  return question.day ? `${pin}, ${question.day.name}` : pin;
}

// ─── The map ─────────────────────────────────────────────────────────────────────────────────────────────────────────

const screenChart = {ground: $("ground"), over: $("over"), prefix: "g", u: 1, view: [0, 0, 1, 1], wide: 1, tall: 1, texture: []};

const around = ([x0, y0, x1, y1], by) => `M${x0 - by} ${y0 - by}H${x1 + by}V${y1 + by}H${x0 - by}Z`;

/** Draw the ground of the hole into a chart, lowest kind first. */
function drawGround(chart) {
  const map = hole().map, root = chart.ground, defs = shape("defs"), land = shape("g", {transform: "scale(1,-1)"});
  root.replaceChildren(defs, land);
  chart.texture = [];
  const textured = new Map();
  const fill = (d, code, edged) => {
    const kind = KINDS[code];
    if (!textured.has(code)) {
      textured.set(code, texture(defs, `${chart.prefix}-${code}`, kind.hatch ? kind.hatch[0] : TEXTURE[kind.name], kind.edge));
      if (textured.get(code)) chart.texture.push(textured.get(code));
    }
    const rule = {"fill-rule": "evenodd", "vector-effect": "non-scaling-stroke"};
    shape("path", {d, fill: kind.fill, ...rule}, land);
    if (textured.get(code)) shape("path", {d, fill: `url(#${chart.prefix}-${code})`, ...rule}, land);
    if (edged) {
      const width = kind.name === "green" ? 1.3 : kind.name === "trees" ? 0.5 : 0.8;
      const edge = shape("path", {d, fill: "none", stroke: kind.edge, "stroke-width": width, ...rule}, land);
      if (kind.name === "path") edge.setAttribute("stroke-dasharray", "5 3");
    }
  };
  const frame = around(map.view, 2000);
  fill(frame, map.surround, false);
  const drawn = map.shapes.filter((area) => area.kind !== OUT || !map.boundary);
  for (const area of drawn.sort((a, b) => a.kind - b.kind)) fill(area.path, area.kind, area.kind !== OUT);
  if (map.boundary && OUT >= 0) fill(`${frame} ${map.boundary}`, OUT, false);
  for (const area of map.shapes) {
    if (!MARKING[area.marking]) continue;
    const line = shape("path", {d: area.path, fill: "none", stroke: MARKING[area.marking], "stroke-width": 1.8, "vector-effect": "non-scaling-stroke"}, land);
    if (area.marking === "yellow") line.setAttribute("stroke-dasharray", "6 3");
  }
  if (map.boundary) {
    shape("path", {d: map.boundary, fill: "none", stroke: INK, "stroke-width": 1.1, "stroke-dasharray": "9 3 1.5 3", "vector-effect": "non-scaling-stroke"}, land);
  }
}

/** Make a chart show a box of yards in a frame of so many pixels. */
function frameChart(chart, box, wide, tall, margin = 26) {
  const [x0, y0, x1, y1] = box;
  const u = Math.max((x1 - x0) / Math.max(wide - 2 * margin, 40), (y1 - y0) / Math.max(tall - 2 * margin, 40), 0.02);
  const cx = (x0 + x1) / 2, cy = (y0 + y1) / 2, w = wide * u, h = tall * u;
  Object.assign(chart, {u, wide, tall, view: [cx - w / 2, cy - h / 2, cx + w / 2, cy + h / 2]});
  for (const root of [chart.ground, chart.over]) root.setAttribute("viewBox", `${cx - w / 2} ${-cy - h / 2} ${w} ${h}`);
  for (const tile of chart.texture) tile.setAttribute("patternTransform", `scale(${u})`);
}

const pixel = (chart, [x, y]) => [(x - chart.view[0]) / chart.u, (chart.view[3] - y) / chart.u];
const stand = (chart, [x, y], turn = 0) => `translate(${x} ${-y}) rotate(${turn}) scale(${chart.u})`;
const seenIn = (chart, at, inset = 0) => {
  const [x, y] = pixel(chart, at);
  return x >= inset && x <= chart.wide - inset && y >= inset && y <= chart.tall - inset;
};
const apart = (a, b) => a[2] <= b[0] || b[2] <= a[0] || a[3] <= b[1] || b[3] <= a[1];

function labelNode(chart, text, at, {size = 12, weight = 400, style = "normal", fill = INK} = {}) {
  return shape("text", {
    class: "label", transform: stand(chart, at), "text-anchor": "middle", "dominant-baseline": "central", fill,
    "font-size": size, "font-weight": weight, "font-style": style, stroke: PAPER, "stroke-width": 3, "paint-order": "stroke",
  }, null, text);
}

/** Put a label beside its point where nothing else is, or nowhere; return its box in pixels. */
function placeLabel(chart, parent, taken, {text, at, gap = 8, places = null, ...look}) {
  const {size = 12, weight = 400, style = "normal"} = look;
  const wide = textWidth(text, size, weight, style), tall = size * 1.2;
  const [px, py] = pixel(chart, at);
  const dx = gap + wide / 2, dy = gap + tall / 2;
  const tries = places || [[dx, 0], [-dx, 0], [0, -dy], [0, dy], [dx, -dy], [-dx, -dy], [dx, dy], [-dx, dy]];
  for (const [ox, oy] of tries) {
    const x = px + ox, y = py + oy, box = [x - wide / 2 - 3, y - tall / 2 - 1, x + wide / 2 + 3, y + tall / 2 + 1];
    if (box[0] < 2 || box[1] < 2 || box[2] > chart.wide - 2 || box[3] > chart.tall - 2) continue;
    if (!taken.every((other) => apart(box, other))) continue;
    taken.push(box);
    const made = labelNode(chart, text, [chart.view[0] + x * chart.u, chart.view[3] - y * chart.u], look);
    parent.append(made);
    return {box, made};
  }
  return null;
}

/** Return the place inside an area, as far as it is seen, where its name stands best; null where it isn't seen. */
function middleOf(chart, area) {
  const all = rings(area, area.path), xs = all[0].map((p) => p[0]), ys = all[0].map((p) => p[1]), [vx0, vy0, vx1, vy1] = chart.view;
  const x0 = Math.max(Math.min(...xs), vx0), x1 = Math.min(Math.max(...xs), vx1);
  const y0 = Math.max(Math.min(...ys), vy0), y1 = Math.min(Math.max(...ys), vy1);
  if (x0 >= x1 || y0 >= y1) return null;
  const found = [];
  for (let i = 1; i < 12; i += 1) {
    for (let j = 1; j < 12; j += 1) {
      const at = [x0 + ((x1 - x0) * i) / 12, y0 + ((y1 - y0) * j) / 12];
      if (inside(all, at)) found.push(at);
    }
  }
  if (!found.length) return null;
  const mean = [0, 1].map((k) => found.reduce((sum, p) => sum + p[k], 0) / found.length);
  return found.reduce((best, p) => (between(p, mean) < between(best, mean) ? p : best));
}

const DIAMOND = "M0 -5.5L5.5 0L0 5.5L-5.5 0Z", PENNANT = "M0 0V-18L11 -14L0 -10", UP = "M0 -5.5L5.2 4H-5.2Z";
const ARROW = "M0 -9L4.5 4L0 1.5L-4.5 4Z";

/** Mark a thing to aim at: at its place, or by an arrow at the map's edge on the way there. Return its label, or null. */
function markLandmark(chart, parent, landmark, middle) {
  const from = hole().place.at, turn = bearingOf(from, landmark.at), far = between(from, landmark.at);
  if (seenIn(chart, landmark.at, 12)) {
    shape("path", {d: UP, fill: PAPER, stroke: INK, "stroke-width": 1.2, transform: stand(chart, landmark.at)}, parent);
    return {text: landmark.name, at: landmark.at, by: 6};
  }
  let at = null;
  for (let d = 0; d < far; d += chart.u * 3) {
    const next = ahead(from, turn, d);
    if (seenIn(chart, next, 14)) at = next; else if (at) break;
  }
  if (!at || Math.abs(Math.sin(turn - middle)) > 0.9) return null;
  shape("path", {d: ARROW, fill: INK, stroke: PAPER, "stroke-width": 0.8, transform: stand(chart, at, (turn * 180) / Math.PI)}, parent);
  return {text: `${landmark.name} (${length(far)})`, at, by: 8};
}

function widthOf(area) {
  const xs = rings(area, area.path)[0].map((p) => p[0]);
  return Math.max(...xs) - Math.min(...xs);
}

/** Draw arcs of distance, tee, pins, landmarks and names; return the labels with their boxes. */
function drawMarks(chart, parent, question, {busy = []} = {}) {
  const map = hole().map, place = hole().place, labels = [], taken = [...busy];
  const add = (label) => { const made = placeLabel(chart, parent, taken, label); if (made) labels.push(made); return made; };
  const step = 50 * hole().perUnit, thin = {fill: "none", "vector-effect": "non-scaling-stroke"};
  const around0 = (at, by) => { const [x, y] = pixel(chart, at); taken.push([x - by, y - by, x + by, y + by]); };
  const pin = pinOf(question);
  const middle = bearingOf(place.at, pin.at);
  for (const other of map.pins) around0(other.at, 5);
  around0(place.at, 8);
  const [px, py] = pixel(chart, pin.at);
  taken.push([px - 4, py - 19, px + 12, py + 5]);
  if (map.line && map.line.length > 1) {
    shape("path", {...thin, d: `M${map.line.map(([x, y]) => `${x} ${-y}`).join("L")}`, stroke: INK, "stroke-opacity": 0.28, "stroke-width": 1, "stroke-dasharray": "1 4"}, parent);
  }
  for (const other of map.pins) {
    if (other !== pin) shape("circle", {r: 2.6, fill: PAPER, stroke: INK, "stroke-width": 1, transform: stand(chart, other.at)}, parent);
  }
  const flag = shape("g", {transform: stand(chart, pin.at)}, parent);
  shape("path", {d: PENNANT, fill: INK, stroke: INK, "stroke-width": 1.3, "stroke-linejoin": "round"}, flag);
  shape("circle", {r: 2.2, fill: INK}, flag);
  shape("path", {d: DIAMOND, fill: place.lie === "tee" ? INK : PAPER, stroke: INK, "stroke-width": 1.2, transform: stand(chart, place.at)}, parent);
  const marks = (map.landmarks || []).map((landmark) => markLandmark(chart, parent, landmark, middle)).filter(Boolean);
  for (const {at, by} of marks) around0(at, by);
  add({text: `${pin.name} pin ${length(between(place.at, pin.at))} ${unit()}`, at: pin.at, gap: 16, weight: 600});
  add({text: place.name, at: place.at, weight: 600, gap: 13});
  for (const {text, at, by} of marks) add({text, at, gap: by + 4});
  for (const area of map.shapes) {
    if (!area.name) continue;
    const at = middleOf(chart, area), small = ["bunker", "green", "tee"].includes(KINDS[area.kind].name);
    if (!at || (small && widthOf(area) < 12 * chart.u)) continue;
    const clear = [[0, 0], [0, 14], [0, -14], [0, 28], [0, -28]];
    add({text: area.name, at, places: small ? null : clear, gap: 6, style: "italic", fill: QUIET, size: 11});
  }
  for (let far = step; far < between(place.at, pin.at) + 3 * step; far += step) {
    const ends = [-0.7, 0.7].map((turn) => ahead(place.at, middle + turn, far));
    const arc = `M${ends[0][0]} ${-ends[0][1]}A${far} ${far} 0 0 1 ${ends[1][0]} ${-ends[1][1]}`;
    shape("path", {...thin, d: arc, stroke: INK, "stroke-opacity": 0.22, "stroke-width": 1}, parent);
    for (const turn of [-0.26, 0.26, -0.36, 0.36, -0.16, 0.16, -0.5, 0.5, 0.06]) {
      const at = ahead(place.at, middle + turn, far);
      if (seenIn(chart, at, 8) && add({text: `${Math.round(far / hole().perUnit)}`, at, places: [[0, 0]], size: 11, weight: 600, fill: QUIET})) break;
    }
  }
  return labels;
}

/** Return what a ball's mark is: by shape, so that nobody needs to tell colours apart. */
function markOf(code) {
  const kind = KINDS[code];
  if (kind.good) return "good";
  if (PENALTY.has(kind.name)) return "penalty";
  return kind.trouble ? "trouble" : "rough";
}

const MARK_TITLE = {good: "fairway or green", rough: "rough", trouble: "sand, trees and such", penalty: "lost or a penalty"};
const MARKS = {
  good: ["circle", {r: 4.6, fill: INK, stroke: PAPER, "stroke-width": 1.2}],
  rough: ["circle", {r: 4.2, fill: PAPER, stroke: INK, "stroke-width": 1.7}],
  trouble: ["path", {d: "M-5.6 -3.4L-3.4 -5.6L0 -2.2L3.4 -5.6L5.6 -3.4L2.2 0L5.6 3.4L3.4 5.6L0 2.2L-3.4 5.6L-5.6 3.4L-2.2 0Z", fill: TROUBLE, stroke: PAPER, "stroke-width": 1}],
  penalty: ["path", {d: "M0 -6.4L6.4 0L0 6.4L-6.4 0Z", fill: TROUBLE, stroke: PAPER, "stroke-width": 1.2}],
};
const OF_CHOICE = [
  ["circle", {r: 4.4, fill: CHOICE[0], stroke: PAPER, "stroke-width": 1.2}],
  ["rect", {x: -3.8, y: -3.8, width: 7.6, height: 7.6, fill: PAPER, stroke: CHOICE[1], "stroke-width": 2}],
];

function addBall(chart, parent, [x, y, kind], [form, look], number) {
  const ball = shape("g", {class: "ball", transform: stand(chart, [x, y]), "data-x": x, "data-y": y, "data-kind": KINDS[kind].name, "data-ball": number}, parent);
  shape(form, look, ball);
  return ball;
}

function keyMark(mark) {
  const root = shape("svg", {viewBox: "-8 -8 16 16", width: 18, height: 18, "aria-hidden": "true"});
  shape("circle", {r: 8, fill: "#e6e9cb"}, root);
  shape(...MARKS[mark], root);
  return root;
}

/** An aim line that is turned without being made anew. */
function makeLine(parent, order) {
  const group = shape("g", {class: `aim-line choice-${order}`}, parent), path = {fill: "none", "vector-effect": "non-scaling-stroke", "stroke-linecap": "round"};
  return {
    group,
    casing: shape("path", {...path, stroke: PAPER, "stroke-width": 5, "stroke-opacity": 0.85}, group),
    line: shape("path", {...path, stroke: CHOICE[order], "stroke-width": 2.2, "stroke-dasharray": DASHES[order]}, group),
    mark: shape("g", {class: "carry"}, group),
    text: null,
    order,
  };
}

/** Turn a line; its words stand at the club's carry, or beside it half way (side −1 left, 1 right). Return their box. */
function turnLine(chart, drawn, from, bearing, far, words, side = 0) {
  const end = ahead(from, bearing, far), d = `M${from[0]} ${-from[1]}L${end[0]} ${-end[1]}`;
  drawn.casing.setAttribute("d", d);
  drawn.line.setAttribute("d", d);
  drawn.mark.setAttribute("transform", stand(chart, end, (bearing * 180) / Math.PI));
  if (!drawn.mark.firstChild) {
    shape("path", {d: "M-13 0H13", stroke: PAPER, "stroke-width": 6, "stroke-linecap": "round"}, drawn.mark);
    shape("path", {d: "M-13 0H13", stroke: CHOICE[drawn.order], "stroke-width": 3, "stroke-linecap": "round"}, drawn.mark);
    shape("circle", {r: 5.5, fill: PAPER, stroke: CHOICE[drawn.order], "stroke-width": 2.2}, drawn.mark);
  }
  const wide = textWidth(words, 13, 700, "normal") + 8, [x, y] = pixel(chart, side ? ahead(from, bearing, 0.5 * far) : end);
  let py = side ? y : y - 24;
  if (py < 12) py = y + 24;
  const px = clamp(x + side * (wide / 2 + 5), wide / 2 + 2, chart.wide - wide / 2 - 2);
  if (!drawn.text) {
    drawn.text = labelNode(chart, words, end, {size: 13, weight: 700, fill: CHOICE[drawn.order]});
    drawn.group.append(drawn.text);
  }
  if (drawn.text.textContent !== words) drawn.text.textContent = words;
  drawn.text.setAttribute("transform", stand(chart, [chart.view[0] + px * chart.u, chart.view[3] - py * chart.u]));
  return {box: [px - wide / 2, py - 10, px + wide / 2, py + 10], ends: [pixel(chart, from), pixel(chart, end)]};
}

/** Hide the names that lines and their words would cross, and show the others. */
function clearWay(drawn, boxes = [], labels = onMap.labels) {
  const taken = [...boxes, ...drawn.map((line) => line.box)];
  for (const {box, made} of labels) {
    const free = taken.every((other) => apart(box, other)) && drawn.every(({ends: [a, b]}) => {
      const steps = Math.max(2, Math.ceil(Math.hypot(b[0] - a[0], b[1] - a[1]) / 7));
      for (let k = 0; k <= steps; k += 1) {
        const x = a[0] + ((b[0] - a[0]) * k) / steps, y = a[1] + ((b[1] - a[1]) * k) / steps;
        if (x > box[0] - 1 && x < box[2] + 1 && y > box[1] - 1 && y < box[3] + 1) return false;
      }
      return true;
    });
    made.setAttribute("visibility", free ? "visible" : "hidden");
  }
}

const onMap = {labels: [], lines: [], balls: null, marks: null, look: null};

const NEAREST = 70;

/** Return the box of yards that the stroke needs: from the place to where the club lands, the pin where it is near; once
 * balls have fallen, where they lie. */
function strokeView() {
  const place = hole().place.at, all = options(), pin = pinOf().at;
  if (state.tab === "try" && state.phase !== "guess") return landingView(state.option);
  const chosen = state.tab === "compare" ? state.pair : [state.option];
  const points = [place];
  for (const i of chosen) {
    const row = all.ofSwing.get(all.swing[i]), far = carryOf(all.swing[i]);
    for (const j of [row[0], row.at(-1), i]) points.push(ahead(place, aimBearing(j), far));
    points.push(ahead(place, aimBearing(row[row.length >> 1]), 1.12 * far));
    if (between(place, pin) < 1.45 * far) points.push(pin);
    if (state.tab === "compare") points.push(...ballsOf(i));
  }
  return boxOf(points);
}

function landingView(i) {
  const end = ahead(hole().place.at, aimBearing(i), carryOf(options().swing[i])), points = [...ballsOf(i), end];
  if (between(end, pinOf().at) < 50) points.push(pinOf().at);
  const [x0, y0, x1, y1] = boxOf(points), cx = (x0 + x1) / 2, cy = (y0 + y1) / 2;
  const half = [Math.max(x1 - x0, NEAREST) / 2, Math.max(y1 - y0, NEAREST) / 2];
  return [cx - half[0], cy - half[1], cx + half[0], cy + half[1]];
}

function boxOf(points) {
  const xs = points.map((p) => p[0]), ys = points.map((p) => p[1]);
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
}

const wholeNow = () => state.whole[state.tab] ?? !["try", "compare"].includes(state.tab);

/** Set what the map shows, and draw all that stands on it. */
function drawMap() {
  const size = $("map").getBoundingClientRect();
  if (size.width < 20 || size.height < 20) return;
  const chart = screenChart, root = chart.over;
  const large = clamp(Math.min(size.width, size.height) / 560, 1, 1.7), wide = size.width / large, tall = size.height / large;
  frameChart(chart, wholeNow() ? hole().map.view : strokeView(), wide, tall, 24);
  chart.large = large;
  root.replaceChildren();
  onMap.marks = shape("g", {}, root);
  const note = [0, tall - 28 / large, 80 / large, tall], button = [wide - 130 / large, tall - 58 / large, wide, tall];
  onMap.labels = drawMarks(chart, onMap.marks, asked(), {busy: [note, button]});
  onMap.lines = [];
  onMap.look = null;
  if (state.tab === "look") drawLook();
  else turnMap();
  onMap.balls = shape("g", {id: "balls"}, root);
  drawBalls();
}

/** Turn the lines to the choices, and keep the names out of their way. */
function turnMap() {
  const chart = screenChart, place = hole().place.at, all = options();
  const chosen = state.tab === "compare" ? state.pair : [state.option];
  const sides = state.tab === "compare" ? (all.aim[chosen[0]] <= all.aim[chosen[1]] ? [-1, 1] : [1, -1]) : [0];
  const drawn = chosen.map((i, order) => {
    if (!onMap.lines[order]) onMap.lines[order] = makeLine(chart.over, order);
    const far = carryOf(all.swing[i]), words = `${clubOf(all.swing[i])} ${length(far)}`;
    return turnLine(chart, onMap.lines[order], place, aimBearing(i), far, words, sides[order]);
  });
  const shut = state.tab === "try" && state.phase !== "guess";
  if (shut) onMap.lines[0].text.setAttribute("visibility", "hidden");
  const balls = state.tab === "compare" ? state.pair.flatMap(ballsOf) : shut ? ballsOf(state.option) : [];
  clearWay(shut ? [] : drawn, balls.map((ball) => {
    const [x, y] = pixel(chart, ball);
    return [x - 6, y - 6, x + 6, y + 6];
  }));
}

function drawBalls() {
  const chart = screenChart, parent = onMap.balls;
  if (!parent) return;
  parent.replaceChildren();
  if (state.tab === "compare") {
    state.pair.forEach((i, order) => ballsOf(i).forEach((ball, b) => addBall(chart, parent, ball, OF_CHOICE[order], b)));
  } else if (state.tab === "try" && state.phase !== "guess") {
    const many = state.phase === "fall" ? state.fallen : BALLS;
    ballsOf(state.option).slice(0, many).forEach((ball, b) => addBall(chart, parent, ball, MARKS[markOf(ball[2])], b));
  }
}

// ─── Try: guess, let balls fall, read the truth ──────────────────────────────────────────────────────────────────────

function radios(parent, name, rows, chosen, choose) {
  parent.replaceChildren(...rows.map(({value, text, under = "", off = false}) => {
    const input = node("input", {type: "radio", name, value, checked: value === chosen, disabled: off});
    input.addEventListener("change", () => choose(value));
    return node("label", {class: "pill"}, input, node("span", {}, node("b", {}, text), under ? node("small", {}, under) : ""));
  }));
}

function offered() {
  const all = options(), swings = player().swings;
  return [...all.ofSwing.keys()].sort((a, b) => (swings[b]?.carry ?? 0) - (swings[a]?.carry ?? 0) || a - b);
}

/** Return the option of a swing whose aim is nearest to so many degrees. */
function nearest(swing, aim) {
  const all = options(), row = all.ofSwing.get(swing) || [all.best];
  return row.reduce((best, i) => (Math.abs(all.aim[i] - aim) < Math.abs(all.aim[best] - aim) ? i : best));
}

/** Return the option of a swing that goes down the hole: to where its carry meets the line of play. */
function downTheHole(swing) {
  const line = hole().map.line || [], place = hole().place.at, far = carryOf(swing);
  let to = pinOf().at;
  for (let k = 1; k < line.length; k += 1) {
    const [a, b] = [line[k - 1], line[k]], [near, away] = [between(place, a), between(place, b)];
    if (near <= far && away > far) {
      const share = (far - near) / (away - near);
      to = [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])];
      break;
    }
  }
  return nearest(swing, ((bearingOf(place, to) - asked().pinLine) * 180) / Math.PI);
}

function setSlider(input, row, at, words) {
  if (input.max !== String(row.length - 1)) { input.min = 0; input.max = row.length - 1; }
  input.value = row.indexOf(at);
  input.setAttribute("aria-valuetext", words);
}

function rowOf(i) { return options().ofSwing.get(options().swing[i]); }

function readAim() {
  const i = state.option, all = options(), words = aimWords(i), aim = degrees(all.aim[i]);
  $("aim-read").replaceChildren(node("b", {}, capital(aim)), words ? node("span", {}, ` · ${words}`) : "");
  setSlider($("aim"), rowOf(i), i, words ? `${aim}, ${words}` : aim);
  const row = rowOf(i);
  $("aim-left").disabled = row[0] === i;
  $("aim-right").disabled = row.at(-1) === i;
  $("panel").dataset.option = i;
}

/** Turn the aim of what is being chosen to an option of the same club. */
function turnTo(i) {
  if (state.tab === "compare") {
    if (state.pair[state.turning] === i) return;
    state.pair[state.turning] = i;
    readChoices();
    turnMap();
    drawBalls();
  } else if (state.phase === "guess" && state.option !== i) {
    state.option = i;
    readAim();
    turnMap();
  }
}

function turnBy(steps) {
  const i = state.tab === "compare" ? state.pair[state.turning] : state.option, row = rowOf(i);
  turnTo(row[clamp(row.indexOf(i) + steps, 0, row.length - 1)]);
}

function readGuess() {
  $("guess-read").replaceChildren("How many of ten on fairway or green? ", node("b", {}, `${state.guess}`));
  $("guess").value = state.guess;
  $("guess").setAttribute("aria-valuetext", `${state.guess} of ten`);
  $("guess-less").disabled = state.guess === 0;
  $("guess-more").disabled = state.guess === 10;
}

function setGuess(value) {
  state.guess = clamp(value, 0, 10);
  readGuess();
}

function drawTry() {
  show("guess-step", state.phase === "guess");
  show("fall-step", state.phase === "fall");
  show("truth-step", state.phase === "truth");
  const all = options(), swing = all.swing[state.option];
  if (state.phase === "guess") {
    const rows = offered().map((value) => ({value, text: clubOf(value), under: player().swings[value]?.carry ? `${length(carryOf(value))}` : "feel"}));
    radios($("clubs"), "club", rows, swing, (value) => {
      state.option = nearest(value, all.aim[state.option]);
      readAim();
      drawMap();
    });
    const chosen = $("clubs").querySelector("input:checked");
    if (chosen) $("clubs").scrollLeft = chosen.parentElement.offsetLeft - $("clubs").clientWidth / 3;
    readAim();
    readGuess();
  }
  if (state.phase === "fall") tellFall();
  if (state.phase === "truth") tellTruth();
}

function tally(id, balls) {
  const counts = {good: 0, rough: 0, trouble: 0, penalty: 0};
  for (const ball of balls) counts[markOf(ball[2])] += 1;
  $(id).replaceChildren(...Object.keys(counts).map((mark) => node("li", {}, keyMark(mark), node("b", {}, `${counts[mark]}`), ` ${MARK_TITLE[mark]}`)));
  return counts;
}

function tellFall() {
  const fallen = ballsOf(state.option).slice(0, state.fallen), counts = tally("fall-tally", fallen);
  put("fall-good", `${counts.good}`);
  put("fall-of", `of ${state.fallen} ${state.fallen === 1 ? "ball" : "balls"} on fairway or green; you said ${state.guess} of ten`);
}

function letFall() {
  state.phase = "fall";
  state.fallen = 0;
  drawTry();
  scrollTo(0, 0);
  drawMap();
  if (still()) { endFall(); return; }
  $("skip").focus({preventScroll: true});
  const balls = ballsOf(state.option);
  const next = () => {
    const ball = balls[state.fallen];
    const made = addBall(screenChart, onMap.balls, ball, MARKS[markOf(ball[2])], state.fallen);
    made.firstChild.classList.add("falls");
    state.fallen += 1;
    tellFall();
    state.timer = setTimeout(state.fallen < BALLS ? next : endFall, state.fallen < BALLS ? FALL_MS : 700);
  };
  state.timer = setTimeout(next, 250);
}

function endFall() {
  clearTimeout(state.timer);
  if (state.phase !== "fall") return;
  state.phase = "truth";
  state.fallen = BALLS;
  state.opened.add(asked());
  const i = state.option, all = options(), twenty = ballsOf(i).filter((ball) => KINDS[ball[2]].good).length;
  kept.add({
    hole: hole().name, player: player().name, asked: questionWords(asked()), choice: `${clubOf(all.swing[i])}, ${all.words(i)}`,
    said: state.guess, twenty, truth: Number((10 * goodOf(i)).toFixed(1)), cost: Number(all.diff[i].toFixed(2)),
  });
  drawTry();
  drawBalls();
  if (state.tab === "try") $("truth-step").focus({preventScroll: true});
  scrollTo(0, 0);
  put("said", `You said ${state.guess} of ten. Of these twenty ${twenty} finished on fairway or green, in the long run ${fixed(10 * goodOf(i), 1)} of ten. ${fixed(all.mean[i], 2)} strokes on average.`);
}

function choiceWords(i) {
  const all = options(), words = all.words(i);
  return `${clubOf(all.swing[i])}, ${words}`;
}

/** Say with which pins and days the first choice is another club; empty where none was asked for or none is. */
function flips() {
  const here = options(), club = here.swing[here.best];
  const others = player().questions.filter((question) => question !== asked());
  const turned = others.filter((question) => options(question).swing[options(question).best] !== club);
  return {others, turned};
}

function flipWords() {
  const {others, turned} = flips();
  if (!others.length) return "";
  if (!turned.length) return `The ${clubOf(options().swing[options().best])} stays first with every pin and day that was asked for.`;
  const parts = turned.map((question) => `the ${clubOf(options(question).swing[options(question).best])} (${questionWords(question)})`);
  return `The answer flips to ${listed(parts)}.`;
}

function costWords(i) {
  const all = options();
  if (i === all.best) return ["best", "nothing that we tried is better here"];
  if (DATA.objective && Math.abs(all.diff[i]) <= DATA.objective.level) return [signed(all.diff[i], 2), "strokes against the best: level, too little to tell"];
  if (all.diff[i] < 0) return [signed(all.diff[i], 2), "strokes against the first choice, which is ranked by another aim"];
  return [signed(all.diff[i], 2), "strokes more than the best"];
}

function tellTruth() {
  const i = state.option, all = options(), good = goodOf(i), twenty = ballsOf(i);
  put("truth-chosen", `${capital(choiceWords(i))} · ${questionWords(asked())}`);
  const counts = tally("truth-tally", twenty);
  put("truth-guess", `${state.guess} of 10`);
  put("truth-twenty", `${counts.good} of ${BALLS}`);
  put("truth-ten", `${fixed(10 * good, 1)} of 10`);
  put("truth-unit", "balls on fairway or green");
  put("truth-mean", fixed(all.mean[i], 2));
  put("truth-se", `give or take ${fixed(Math.max(all.se[i], 0.001), 3)}`);
  const [number, words] = costWords(i);
  put("truth-cost", number);
  put("truth-cost-words", words);
  put("truth-best", i === all.best ? "" : `The best: ${choiceWords(all.best)}, ${fixed(all.mean[all.best], 2)} strokes. This one leaves ${length(all.leave[i])} ${unit()} on average, the best ${length(all.leave[all.best])} ${unit()}.`);
  put("truth-flip", flipWords());
  $("truth-finish").replaceChildren(...finishBlocks(i));
  $("truth-hundred").replaceChildren(...hundredBlocks(i));
  show("against-best", i !== all.best);
}

function finishBlocks(i) {
  const rows = ofTen(i), strip = node("div", {class: "strip", "aria-hidden": "true"});
  for (const {kind, count} of rows) {
    for (let n = 0; n < count; n += 1) {
      const cell = node("i"), mark = shape("svg", {viewBox: "-9 -9 18 18", width: 20, height: 20}, cell);
      cell.style.background = KINDS[kind].fill;
      shape(...MARKS[markOf(kind)], mark);
      strip.append(cell);
    }
  }
  return [strip, node("p", {}, rows.map(({kind, count}) => `${count} ${KINDS[kind].title}`).join(" · "))];
}

function hundredBlocks(i) {
  const counts = ofHundred(i), titles = hundredTitles(), bar = node("div", {class: "hundred-bar", "aria-hidden": "true"});
  counts.forEach((count, step) => {
    const part = node("span", {class: `step-${step}`}, count >= 8 ? `${count}` : "");
    part.style.flexGrow = count;
    if (count) bar.append(part);
  });
  const rows = counts.map((count, step) => node("li", {}, node("i", {class: `step-${step}`}), node("b", {}, `${count}`), ` in ${titles[step]}`));
  return [bar, node("ul", {class: "hundred-list"}, ...rows)];
}

function guessAgain() {
  state.phase = "guess";
  scrollTo(0, 0);
  drawTry();
  drawMap();
  $("aim").focus({preventScroll: true});
}

// ─── Compare: two choices, the same balls ────────────────────────────────────────────────────────────────────────────

function setPair(a, b) {
  state.pair = [a, b];
  drawCompare();
  drawMap();
}

function drawCompare() {
  const all = options(), pairs = asked().pairs || [];
  put("pair-help", "The same twenty balls, the same luck, for both. Turn either; drag on the map turns the one that is marked.");
  $("ready").replaceChildren(...pairs.map((pair) => {
    const button = node("button", {type: "button"}, pair.headline || `${capital(clubOf(all.swing[pair.a]))} or ${clubOf(all.swing[pair.b])}?`);
    button.addEventListener("click", () => setPair(pair.a, pair.b));
    return button;
  }));
  $("choices").replaceChildren(...state.pair.map((_, order) => choiceBlock(order)));
  readChoices();
}

function choiceBlock(order) {
  const all = options(), letter = "AB"[order];
  const mark = node("input", {type: "radio", name: "turning", value: order, checked: state.turning === order, "aria-label": `Turn choice ${letter} on the map`});
  mark.addEventListener("change", () => { state.turning = order; });
  const club = node("select", {id: `club-${order}`, "aria-label": `Club of choice ${letter}`}, ...offered().map((swing) => {
    const far = player().swings[swing]?.carry;
    return node("option", {value: swing}, far ? `${clubOf(swing)} ${length(far)}` : clubOf(swing));
  }));
  club.addEventListener("change", () => {
    state.turning = order;
    state.pair[order] = nearest(Number(club.value), all.aim[state.pair[order]]);
    readChoices();
    drawMap();
  });
  const slider = node("input", {type: "range", id: `aim-${order}`, step: 1, "aria-label": `Aim of choice ${letter}`});
  const take = () => { state.turning = order; document.getElementsByName("turning")[order].checked = true; };
  slider.addEventListener("input", () => { take(); turnTo(rowOf(state.pair[order])[Number(slider.value)]); });
  const step = (sign, by, words) => {
    const button = node("button", {type: "button", "aria-label": `${words}, choice ${letter}`}, sign);
    button.addEventListener("click", () => { take(); turnBy(by); });
    return button;
  };
  const swatch = shape("svg", {viewBox: "-8 -8 16 16", width: 22, height: 22, "aria-hidden": "true"});
  shape("circle", {r: 8, fill: "#e6e9cb"}, swatch);
  shape(...OF_CHOICE[order], swatch);
  return node("div", {class: `choice choice-${order}`},
    node("div", {class: "choice-head"}, node("label", {class: "turning"}, mark, swatch, node("b", {}, letter)), club),
    node("div", {class: "slide-row"}, step("↶", -1, "One degree left"), slider, step("↷", 1, "One degree right")),
    node("p", {class: "read", id: `choice-read-${order}`}));
}

function readChoices() {
  const all = options(), [a, b] = state.pair;
  state.pair.forEach((i, order) => {
    const words = aimWords(i), aim = degrees(all.aim[i]);
    $(`choice-read-${order}`).replaceChildren(node("b", {}, capital(aim)), words ? ` · ${words}` : "");
    setSlider($(`aim-${order}`), rowOf(i), i, words ? `${aim}, ${words}` : aim);
    $(`club-${order}`).value = all.swing[i];
  });
  const finishes = [ofTenMap(a), ofTenMap(b)], kinds = [...new Set([...finishes[0].keys(), ...finishes[1].keys()])];
  const hundreds = [ofHundred(a), ofHundred(b)], titles = hundredTitles();
  const rows = [
    ["strokes on average", ...[a, b].map((i) => fixed(all.mean[i], 2))],
    ["against the best", ...[a, b].map((i) => (i === all.best ? "best" : signed(all.diff[i], 2)))],
    [`${unit()} left`, ...[a, b].map((i) => `${length(all.leave[i])}`)],
    ["Of ten balls"],
    ...kinds.map((kind) => [KINDS[kind].title, ...finishes.map((found) => `${found.get(kind) ?? 0}`)]),
    ["Of a hundred plays"],
    ...titles.map((title, step) => [title, ...hundreds.map((found) => `${found[step]}`)]),
  ];
  const body = rows.map((row) => (row.length === 1
    ? node("tr", {class: "part"}, node("th", {scope: "colgroup", colspan: 3}, row[0]))
    : node("tr", {}, node("th", {scope: "row"}, row[0]), node("td", {}, row[1]), node("td", {}, row[2]))));
  $("against-table").replaceChildren(node("table", {class: "against"},
    node("caption", {class: "unseen"}, "The two choices"),
    node("thead", {}, node("tr", {}, node("td"), node("th", {scope: "col"}, "A"), node("th", {scope: "col"}, "B"))),
    node("tbody", {}, ...body)));
  tellPair(a, b);
}

const ofTenMap = (i) => new Map(ofTen(i).map(({kind, count}) => [kind, count]));

function tellPair(a, b) {
  const pair = (asked().pairs || []).find((one) => (one.a === a && one.b === b) || (one.a === b && one.b === a));
  show("because", Boolean(pair));
  show("bars", Boolean(pair && pair.bars.length));
  if (!pair) return;
  put("because", pair.because);
  const all = options(), most = Math.max(...pair.bars.map((bar) => Math.abs(bar.strokes)), 0.01);
  const hundredths = pair.bars.map((bar) => 100 * bar.strokes), total = hundredths.reduce((sum, value) => sum + value, 0);
  const shown = wholes(hundredths, Math.round(total));
  const rows = pair.bars.map((bar, n) => {
    const line = node("i", {class: bar.strokes < 0 ? "saves" : "costs"});
    line.style.width = `${(50 * Math.abs(bar.strokes)) / most}%`;
    return node("li", {}, node("span", {}, capital(bar.title), bar.detail ? node("small", {}, bar.detail) : ""), node("span", {class: "track", "aria-hidden": "true"}, line), node("b", {}, signed(shown[n] / 100, 2)));
  });
  const dearer = all.mean[pair.a] <= all.mean[pair.b] ? pair.b : pair.a;
  $("bars").replaceChildren(
    node("h2", {}, `What the ${clubOf(all.swing[dearer])} costs, and what it saves`), node("ul", {class: "bars"}, ...rows),
    node("p", {class: "sum"}, "in all, strokes ", node("b", {}, signed(Math.round(total) / 100, 2))));
}

// ─── Look from anywhere ──────────────────────────────────────────────────────────────────────────────────────────────

const NEXT_LIE = {fairway: "fairway", tee: "fairway", path: "fairway", bunker: "bunker"};
const lieTitle = (name) => KINDS.find((kind) => kind.name === name)?.title ?? name;

/** Return the lies that are worked out for a place, and the one that its ground has, or comes nearest to. */
function liesAt(at) {
  const name = KINDS[groundAt(at)].name, known = cells().lies.filter((lie) => playFrom(at, lie));
  const usual = [name, NEXT_LIE[name] || "rough", "light_rough", "fairway"].find((lie) => known.includes(lie)) ?? known[0];
  return PENALTY.has(name) || name === "green" ? {name, known: [], usual: null} : {name, known, usual};
}

/** Return what best play is from a place on a lie: {swing, aim, toGo}, null where nothing is worked out. */
function playFrom(at, lie) {
  const grid = cells();
  if (!grid) return null;
  const layer = grid.lies.indexOf(lie), column = Math.floor((at[0] - grid.x0) / grid.cell), row = Math.floor((at[1] - grid.y0) / grid.cell);
  if (layer < 0) return null;
  if (column < 0 || row < 0 || column >= grid.columns || row >= grid.rows) return null;
  const k = (layer * grid.rows + row) * grid.columns + column;
  return grid.swing[k] === NO_SWING ? null : {swing: grid.swing[k], aim: grid.aim[k], toGo: grid.toGo[k] / 100};
}

function lookAt(at) {
  const [x0, y0, x1, y1] = hole().map.view;
  state.look = [clamp(at[0], x0, x1), clamp(at[1], y0, y1)];
  state.lie = null;
  tellLook();
}

function tellLook() {
  const at = state.look, grid = cells();
  $("lies").closest("fieldset").hidden = true;
  if (!grid) { $("look-read").replaceChildren(node("p", {}, "Nothing was worked out from elsewhere on this hole.")); return; }
  if (!at) return;
  const {name, known, usual} = liesAt(at), off = PENALTY.has(name), lie = state.lie ?? usual, found = lie ? playFrom(at, lie) : null;
  $("lies").closest("fieldset").hidden = known.length < 2;
  radios($("lies"), "lie", known.map((value) => ({value, text: lieTitle(value)})), lie, (value) => {
    state.lie = value;
    tellLook();
    drawLook();
    $("lies").querySelector("input:checked")?.focus();
  });
  const far = between(at, pinOf().at), read = [];
  if (found) {
    const far2 = carryOf(found.swing, at);
    read.push(node("p", {class: "big"}, node("b", {id: "look-club"}, clubOf(found.swing)), node("span", {id: "look-aim"}, ` ${degrees(found.aim)}`)));
    read.push(node("p", {class: "big"}, node("b", {id: "look-to-go"}, fixed(found.toGo, 2)), node("span", {}, " strokes to go")));
    const carries = player().swings[found.swing]?.carry ? `; the club carries ${length(far2)} from a good lie` : "";
    read.push(node("p", {}, `${length(far)} ${unit()} to the ${pinOf().name} pin${carries}.`));
    if (name !== lie) read.push(node("p", {class: "quiet"}, `The ground here is ${lieTitle(name)}; read as from ${lieTitle(lie)}.`));
  } else if (off) {
    read.push(node("p", {}, `${capital(lieTitle(name))}: nobody plays from here. Tap where the ball would be dropped.`));
  } else {
    const green = name === "green";
    read.push(node("p", {}, green ? `On the green, ${length(far)} ${unit()} from the pin: putt.` : "No stroke was worked out from here. Tap nearer to the hole."));
  }
  $("look-read").replaceChildren(...read);
}

function drawLook() {
  const chart = screenChart, at = state.look;
  if (onMap.look) onMap.look.remove();
  onMap.look = shape("g", {}, chart.over);
  clearWay([]);
  if (!at) return;
  const lie = cells() ? state.lie ?? liesAt(at).usual : null, found = lie ? playFrom(at, lie) : null;
  if (found) {
    const bearing = bearingOf(at, pinOf().at) + (found.aim * Math.PI) / 180, far = carryOf(found.swing, at);
    const [x, y] = pixel(chart, at), line = turnLine(chart, makeLine(onMap.look, 0), at, bearing, far, clubOf(found.swing));
    clearWay([line], [[x - 15, y - 15, x + 15, y + 15]]);
  }
  const mark = shape("g", {id: "look-mark", transform: stand(chart, at), "data-x": at[0], "data-y": at[1]}, onMap.look);
  shape("circle", {r: 9, fill: PAPER, "fill-opacity": 0.6, stroke: INK, "stroke-width": 2}, mark);
  shape("path", {d: "M-14 0H-4M14 0H4M0 -14V-4M0 14V4", stroke: INK, "stroke-width": 2}, mark);
}

// ─── The answer, the notes, the paper ────────────────────────────────────────────────────────────────────────────────

/** Return the ranking as a table; each choice may be looked at against the best where it stands on the screen. */
function rankingTable(live, whole = false) {
  const all = options(), best = all.best, ranking = asked().ranking, many = live && !whole ? 8 : live ? ranking.length : 6;
  const heads = ["choice", "average", "costs", "trouble", "blow-up"];
  const rows = ranking.slice(0, many).map((row) => {
    const i = row.option, note = row.verdict && row.verdict !== "best" ? ` · ${row.verdict}` : "";
    const words = [node("b", {}, capital(row.club)), node("small", {}, `${row.aim}${note}${row.frontier ? " ◆" : ""}`)];
    const name = live && i !== best ? [linked(words, () => { state.pair = [best, i]; goTo("compare"); })] : words;
    return node("tr", {class: i === best ? "best" : "", "data-option": i},
      node("th", {scope: "row"}, ...name),
      node("td", {}, fixed(all.mean[i], 2)), node("td", {}, i === best ? "best" : signed(row.costs ?? all.diff[i], 2)),
      node("td", {}, fixed(10 * all.trouble[i], 1)), node("td", {}, fixed(10 * all.blowUp[i], 1)));
  });
  const more = live && ranking.length > many ? node("button", {type: "button"}, `All ${ranking.length} clubs`) : "";
  if (more) {
    more.addEventListener("click", () => {
      const grown = rankingTable(true, true);
      more.parentElement.parentElement.replaceWith(grown);
      grown.querySelectorAll("button")[many - 1]?.focus();
    });
  }
  return node("table", {class: "ranking"},
    node("caption", {}, more, more ? node("br") : "", "Strokes on average; trouble (first ball) and blow-up (two or more over net par): times in ten. ◆ no other choice beats it on both score and blow-up."),
    node("thead", {}, node("tr", {}, ...heads.map((head) => node("th", {scope: "col"}, head)))), node("tbody", {}, ...rows));
}

function linked(words, act) {
  const button = node("button", {type: "button", class: "linked"}, ...words);
  button.addEventListener("click", act);
  return button;
}

function flipTable(live) {
  const here = asked(), club = options().swing[options().best];
  const rows = player().questions.map((question, number) => {
    const all = options(question), first = question.ranking[0], turned = all.swing[all.best] !== club, title = capital(questionWords(question));
    const words = [node("b", {}, title), question.day ? node("small", {}, question.day.words) : ""];
    const name = live && question !== here ? [linked(words, () => setQuestion(number))] : words;
    return node("tr", {class: question === here ? "best" : ""},
      node("th", {scope: "row"}, ...name),
      node("td", {class: "words"}, `${first.club}, ${first.aim}`, turned ? node("strong", {class: "flips"}, " flips") : ""),
      node("td", {}, fixed(all.mean[all.best], 2)));
  });
  return node("table", {class: "ranking"}, node("caption", {}, flipWords()),
    node("thead", {}, node("tr", {}, ...["asked", "first choice", "average"].map((head) => node("th", {scope: "col", class: head === "first choice" ? "words" : false}, head)))), node("tbody", {}, ...rows));
}

function rankedFor() {
  const aim = DATA.objective;
  return aim && aim.name !== "strokes" ? node("p", {}, `Ranked for the ${aim.title}.`) : "";
}

function drawAnswer() {
  const open = state.opened.has(asked());
  show("answer-shut", !open);
  show("answer-body", open);
  if (!open) { $("answer-body").replaceChildren(); return; }
  const parts = [node("p", {class: "because"}, asked().sentence), asked().whyFirst ? node("p", {}, asked().whyFirst) : "", rankedFor(), node("h2", {}, "The choices"), rankingTable(true)];
  if (player().questions.length > 1) parts.push(node("h2", {}, "Turn one thing: pin and day"), flipTable(true));
  $("answer-body").replaceChildren(...parts);
}

function guessText() {
  const rows = kept.guesses.map((g) => `${g.hole}, ${g.player}, ${g.asked}: ${g.choice}. Said ${g.said} of ten, these twenty ${g.twenty}, in the long run ${fixed(g.truth, 1)} of ten (off by ${signed(g.said - g.truth, 1)}); costs ${fixed(g.cost, 2)} strokes.`);
  return rows.join("\n");
}

function guessSummary() {
  const off = kept.guesses.map((g) => g.said - g.truth), mean = off.reduce((a, b) => a + b, 0) / off.length;
  const many = `${off.length} ${off.length === 1 ? "guess" : "guesses"}`;
  if (Math.abs(mean) < 0.05) return `${many}, neither too many nor too few on average.`;
  return `${many}, on average ${fixed(Math.abs(mean), 1)} balls of ten too ${mean > 0 ? "many" : "few"}.`;
}

function drawNotes() {
  const some = kept.guesses.length > 0;
  show("guess-tools", some);
  put("guess-said", "");
  if (some) {
    const rows = kept.guesses.slice(-12).reverse().map((g) => node("tr", {}, node("th", {scope: "row"}, capital(g.choice), node("small", {}, `${g.hole}, ${g.player}, ${g.asked}`)),
      node("td", {}, `${g.said}`), node("td", {}, fixed(g.truth, 1)), node("td", {}, signed(g.said - g.truth, 1))));
    $("guesses").replaceChildren(node("p", {id: "guess-summary"}, guessSummary()), node("table", {class: "ranking"},
      node("caption", {class: "unseen"}, "Your guesses, of ten balls"),
      node("thead", {}, node("tr", {}, ...["choice", "said", "truth", "off by"].map((head) => node("th", {scope: "col"}, head)))), node("tbody", {}, ...rows)));
    $("guess-text").value = guessText();
  } else $("guesses").replaceChildren(node("p", {}, "None yet."));
  $("card").replaceChildren(...(DATA.card || []).flatMap((card) => [node("h2", {}, `Carries of ${card.player}`), cardTable(card)]));
  const from = DATA.attribution ? ` ${DATA.attribution}` : "";
  put("made", `Every number was worked out beforehand by ${DATA.program}, seed ${DATA.seed}; this page looks them up and asks nobody.${from}`);
}

function cardTable(card) {
  const rows = card.swings.map((swing) => node("tr", {}, node("th", {scope: "row"}, capital(swing.title)), node("td", {}, `${length(swing.carry)}`),
    node("td", {}, swing.eightInTen === null ? "" : `${length(swing.eightInTen)}`)));
  return node("table", {class: "ranking card"}, node("caption", {}, `${unit()}; carry on average, and what eight balls in ten beat.`),
    node("thead", {}, node("tr", {}, ...["club", "carry", "eight in ten"].map((head) => node("th", {scope: "col"}, head)))), node("tbody", {}, ...rows));
}

async function copyGuesses() {
  const box = $("guess-text");
  try {
    await navigator.clipboard.writeText(box.value);
  } catch {
    box.focus();
    box.select();
    if (!document.execCommand("copy")) { put("guess-said", "Mark the text and copy it."); return; }
  }
  put("guess-said", "Copied.");
}

function facts() {
  const h = hole(), who = player(), gets = who.strokesReceived;
  const rows = [`par ${h.par}`, `${length(h.length)} ${unit()}`];
  if (h.strokeIndex !== null && h.strokeIndex !== undefined) rows.push(`stroke index ${h.strokeIndex}`);
  const shots = `${Math.abs(gets) || "no"} stroke${Math.abs(gets) === 1 || gets === 0 ? "" : "s"}`;
  rows.push(`${who.name} ${gets < 0 ? "gives" : "gets"} ${shots}: net par ${who.netPar}`);
  if (who.played) rows.push(`${who.played} played`);
  return rows.join(" · ");
}

const holeTitle = (h) => (h.number === null || h.number === undefined ? h.name : `${h.number} ${h.name}`);

/** Lay out what is printed: the hole, its best line with twenty balls, the answer and the cautions. */
function drawPaper() {
  const wide = 680, tall = 470, i = options().best;
  const ground = shape("svg", {width: "100%", viewBox: "0 0 1 1"}), over = shape("svg", {width: "100%", viewBox: "0 0 1 1"});
  const chart = {ground, over, prefix: "p", u: 1, view: [], wide, tall, texture: []};
  drawGround(chart);
  frameChart(chart, hole().map.view, wide, tall, 18);
  const lines = shape("g"), balls = shape("g"), drawn = makeLine(lines, 0), all = options();
  const line = turnLine(chart, drawn, hole().place.at, aimBearing(i), carryOf(all.swing[i]), `${clubOf(all.swing[i])} ${length(carryOf(all.swing[i]))}`, 1);
  const fallen = ballsOf(i), spots = fallen.map((ball) => pixel(chart, ball));
  clearWay([line], spots.map(([x, y]) => [x - 5, y - 5, x + 5, y + 5]), drawMarks(chart, over, asked()));
  fallen.forEach((ball, b) => addBall(chart, balls, ball, MARKS[markOf(ball[2])], b));
  over.append(lines, balls);
  const day = asked().day ? ` The day: ${asked().day.words}.` : "";
  const parts = [
    node("h1", {}, holeTitle(hole())), node("p", {}, `${facts()} · ${questionWords(asked())}.${day}`),
    node("div", {class: "paper-map"}, ground, over), node("p", {class: "because"}, asked().sentence),
    asked().whyFirst ? node("p", {}, asked().whyFirst) : "", rankedFor(), rankingTable(false),
  ];
  if (player().questions.length > 1) parts.push(flipTable(false));
  parts.push(node("p", {class: "small"}, `${(DATA.cautions || []).join(" ")} ${DATA.attribution || ""} ${DATA.program}, seed ${DATA.seed}.`));
  $("paper").replaceChildren(...parts);
}

// ─── All together ────────────────────────────────────────────────────────────────────────────────────────────────────

const TABS = ["try", "compare", "look", "answer", "notes"];

function goTo(tab) {
  if (state.phase === "fall") endFall();
  state.tab = tab;
  for (const name of TABS) show(`at-${name}`, name === tab);
  for (const button of $("tabs").children) {
    if (button.dataset.tab === tab) button.setAttribute("aria-current", "page");
    else button.removeAttribute("aria-current");
  }
  $("app").dataset.tab = tab;
  drawAll();
  scrollTo(0, 0);
}

function drawAll() {
  const h = hole(), draw = {try: drawTry, compare: drawCompare, look: tellLook, answer: drawAnswer, notes: drawNotes}[state.tab];
  put("hole-name", holeTitle(h));
  put("hole-facts", facts());
  put("unit-note", h.units === "metres" ? "metres" : "yards");
  put("map-help", {
    try: "Left and right arrow keys turn the aim.", compare: "Left and right arrow keys turn the aim of the marked choice.",
    look: "Arrow keys move the mark.",
  }[state.tab] || "The hole.");
  $("map").setAttribute("aria-label", `Map of ${h.name}`);
  const whole = wholeNow();
  $("see-all").setAttribute("aria-pressed", String(whole));
  put("see-all", whole ? "This stroke" : "Whole hole");
  show("see-all", ["try", "compare"].includes(state.tab));
  draw();
  drawMap();
}

function fillSelect(id, titles, chosen) {
  $(id).replaceChildren(...titles.map((title, value) => node("option", {value, selected: value === chosen}, title)));
  show(`${id}-field`, titles.length > 1);
}

const pinsAsked = () => [...new Set(player().questions.map((question) => question.pin))];
const daysAsked = () => [...new Set(player().questions.map((question) => (question.day ? question.day.name : "")))];

function drawAsked() {
  const pins = pinsAsked(), days = daysAsked(), question = asked();
  fillSelect("player", hole().players.map((one) => one.name), state.player);
  fillSelect("pin", pins.map((pin) => `${pin} pin`), pins.indexOf(question.pin));
  fillSelect("day", days.map((day) => day || "calm day"), days.indexOf(question.day ? question.day.name : ""));
  show("asked", ["player", "pin", "day"].some((id) => !$(`${id}-field`).hidden));
}

/** Start on a question: the club and aim that were chosen stay where it has them. */
function setQuestion(number, {fresh = false} = {}) {
  clearTimeout(state.timer);
  const before = fresh ? null : options(), aims = before && [state.option, ...state.pair].map((i) => [before.swing[i], before.aim[i]]);
  state.question = number;
  state.phase = "guess";
  const all = options(), keep = (order) => (all.ofSwing.has(aims[order][0]) ? nearest(...aims[order]) : all.best);
  if (fresh) {
    state.option = downTheHole(offered()[0]);
    const pair = (asked().pairs || [])[0];
    state.pair = pair ? [pair.a, pair.b] : [all.best, state.option];
  } else {
    state.option = keep(0);
    state.pair = [keep(1), keep(2)];
  }
  drawAsked();
  drawAll();
  clearTimeout(state.paper);
  state.paper = setTimeout(drawPaper, 600);
}

function turnQuestion() {
  const pin = pinsAsked()[Number($("pin").value)], day = daysAsked()[Number($("day").value)];
  const number = player().questions.findIndex((question) => question.pin === pin && (question.day ? question.day.name : "") === day);
  if (number >= 0) setQuestion(number);
}

function setHole(number) {
  state.hole = clamp(number, 0, DATA.holes.length - 1);
  state.player = Math.min(state.player, hole().players.length - 1);
  state.look = null;
  state.whole = {};
  $("look-read").replaceChildren();
  drawGround(screenChart);
  $("hole-before").disabled = state.hole === 0;
  $("hole-after").disabled = state.hole === DATA.holes.length - 1;
  setQuestion(0, {fresh: true});
}

function openHole(number) {
  setHole(number);
  if (DATA.holes.length > 1) history.replaceState(null, "", `#${state.hole + 1}`);
}

function pointOf(event) {
  const size = $("map").getBoundingClientRect(), {view, u, large} = screenChart;
  return [view[0] + ((event.clientX - size.left) * u) / large, view[3] - ((event.clientY - size.top) * u) / large];
}

function turnToward(event) {
  const at = pointOf(event), place = hole().place.at;
  if (between(at, place) < 14 * screenChart.u) return;
  const i = state.tab === "compare" ? state.pair[state.turning] : state.option;
  let aim = ((bearingOf(place, at) - asked().pinLine) * 180) / Math.PI;
  aim -= 360 * Math.round(aim / 360);
  turnTo(nearest(options().swing[i], aim));
}

function mapEvents() {
  const map = $("map");
  let start = null, turning = false;
  map.addEventListener("pointerdown", (event) => {
    if (event.target.closest("button") || event.button !== 0 || !["try", "compare"].includes(state.tab)) return;
    start = [event.clientX, event.clientY];
    turning = event.pointerType !== "touch";
    if (!turning) return;
    map.setPointerCapture(event.pointerId);
    turnToward(event);
  });
  map.addEventListener("pointermove", (event) => {
    if (!start) return;
    const across = Math.abs(event.clientX - start[0]);
    if (!turning) turning = across > 8 && across > Math.abs(event.clientY - start[1]);
    if (turning) turnToward(event);
  });
  map.addEventListener("pointerup", (event) => {
    const still = start && Math.hypot(event.clientX - start[0], event.clientY - start[1]) < 8;
    if (still && !turning) turnToward(event);
    start = null;
  });
  for (const end of ["pointercancel", "lostpointercapture"]) map.addEventListener(end, () => { start = null; });
  map.addEventListener("click", (event) => {
    if (event.target.closest("button") || state.tab !== "look") return;
    lookAt(pointOf(event));
    drawLook();
  });
  map.addEventListener("keydown", (event) => {
    const way = {ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1]}[event.key];
    if (!way || event.target !== map) return;
    if (state.tab === "look") {
      const step = (cells()?.cell ?? 4) * (event.shiftKey ? 5 : 1), from = state.look || hole().place.at;
      lookAt([from[0] + way[0] * step, from[1] + way[1] * step]);
      drawLook();
    } else if (way[0] && ["try", "compare"].includes(state.tab)) turnBy(way[0]);
    else return;
    event.preventDefault();
  });
  new ResizeObserver(() => {
    const {wide, tall, large} = screenChart;
    if (Math.abs(wide * large - map.clientWidth) > 1 || Math.abs(tall * large - map.clientHeight) > 3) drawMap();
  }).observe(map);
}

function cautions() {
  $("cautions").replaceChildren(...(DATA.cautions || []).map((text) => node("p", {}, text)));
  const rule = "This page is for before the round. During one it stays shut: Rule 4.3 forbids using it from the ball’s position.";
  $("first-text").replaceChildren(node("p", {}, node("b", {}, rule)), ...(DATA.cautions || []).map((text) => node("p", {}, text)));
  $("first-done").addEventListener("click", () => { kept.markRead(); $("first").close(); });
  $("first").addEventListener("cancel", (event) => event.preventDefault());
  if (!kept.read) $("first").showModal();
}

function holeList() {
  if (DATA.holes.length < 2) return;
  show("turn-holes", true);
  $("hole-list").replaceChildren(...DATA.holes.map((one, number) => {
    const button = node("button", {type: "button"}, node("b", {}, holeTitle(one)), node("small", {}, `par ${one.par} · ${Math.round(one.length / one.perUnit)} ${one.units === "metres" ? "m" : "yd"}`));
    button.addEventListener("click", () => { $("holes").close(); openHole(number); });
    return node("li", {}, button);
  }));
  $("hole-list-open").addEventListener("click", () => $("holes").showModal());
  $("holes-done").addEventListener("click", () => $("holes").close());
  $("hole-before").addEventListener("click", () => openHole(state.hole - 1));
  $("hole-after").addEventListener("click", () => openHole(state.hole + 1));
  addEventListener("hashchange", () => setHole((Number(location.hash.slice(1)) || 1) - 1));
}

function events() {
  for (const button of $("tabs").children) button.addEventListener("click", () => goTo(button.dataset.tab));
  $("aim").addEventListener("input", () => turnTo(rowOf(state.option)[Number($("aim").value)]));
  $("aim-left").addEventListener("click", () => turnBy(-1));
  $("aim-right").addEventListener("click", () => turnBy(1));
  $("guess").addEventListener("input", () => setGuess(Number($("guess").value)));
  $("guess-less").addEventListener("click", () => setGuess(state.guess - 1));
  $("guess-more").addEventListener("click", () => setGuess(state.guess + 1));
  $("fall").addEventListener("click", letFall);
  $("skip").addEventListener("click", endFall);
  $("again").addEventListener("click", guessAgain);
  $("against-best").addEventListener("click", () => { state.pair = [state.option, options().best]; goTo("compare"); });
  $("see-all").addEventListener("click", () => { state.whole[state.tab] = !wholeNow(); drawAll(); });
  $("answer-open").addEventListener("click", () => { state.opened.add(asked()); drawAnswer(); });
  $("guess-copy").addEventListener("click", copyGuesses);
  $("guess-clear").addEventListener("click", () => { kept.clear(); drawNotes(); });
  $("player").addEventListener("change", () => { state.player = Number($("player").value); setQuestion(0, {fresh: true}); });
  for (const id of ["pin", "day"]) $(id).addEventListener("change", turnQuestion);
  addEventListener("beforeprint", drawPaper);
}

show("app", true);
document.title = DATA.title;
events();
mapEvents();
holeList();
for (const name of TABS) show(`at-${name}`, name === state.tab);
$("tabs").firstElementChild.setAttribute("aria-current", "page");
$("app").dataset.tab = "try";
setHole((Number(location.hash.slice(1)) || 1) - 1);
cautions();
requestAnimationFrame(() => performance.mark("drawn"));
})();
