// The map, and the hand on it. A hole is never changed but replaced: what undo goes back to are holes of before. Lengths are in
// the file's units, x to the right and y up the hole; u is units per pixel of the screen.
(() => {
const COLOURS = DATA.colours, INK = COLOURS.ink, PAPER = COLOURS.paper, TROUBLE = COLOURS.trouble, BLUE = COLOURS.chosen;
const STORE = `simcaddie trace ${DATA.id}`;
const NEAR = {mouse: 10, pen: 16, touch: 22}; // pixels
const MARKS = ["tees", "pins", "spots", "landmarks", "heights"];
const ONE = {tees: "tee", pins: "pin", spots: "spot", landmarks: "landmark", heights: "height", line: "line of play", boundary: "boundary"};
const FIRST = {tees: ["white", "yellow", "red", "blue"], pins: ["middle", "front", "back"], spots: ["second", "third"], landmarks: []};
const TOOLS = {
  choose: ["Choose", "Tap what is drawn to choose it; drag its points, or a + on its edge for one more. Drag the ground to move the map."],
  areas: ["Area", "Tap points around it. A double tap, a tap on the first point or Enter closes it."],
  tees: ["Tee", "Tap where the tee is; the first one counts as the usual one."],
  pins: ["Pin", "Tap where the hole may be cut; middle is the usual pin."],
  line: ["Line", "The line of play: tap corners from the tee to the green; a double tap or Enter ends it. Left out, it is found from the fairways."],
  boundary: ["Boundary", "Tap points around the course: beyond them is out of bounds."],
  spots: ["Spot", "Tap a place to ask from."],
  landmarks: ["Landmark", "Tap a thing to aim at."],
  heights: ["Height", "Tap a place and say how high it lies; heights count from any level."],
  ruler: ["Ruler", "Tap two points."],
  inner: ["", "Tap points around the hole in the area. A double tap or Enter closes it."],
  scale: ["", "Tap two points a known distance apart, and drag them to set them right: the nearer you look and the farther apart they are, the better."],
  origin: ["", "Tap the tee in the picture."],
  ahead: ["", "Tap where the hole goes: the middle of the green is best."],
  north: ["", "Tap two points, the second one to the north of the first."],
  matchTee: ["", "Tap in the picture where the first tee is."],
  matchPin: ["", "Tap in the picture where the usual pin is."],
};
const RINGS = new Set(["areas", "boundary", "inner"]), TWO = new Set(["ruler", "scale", "north"]);
const DRAWS = new Set([...RINGS, "line"]);

const state = {
  doc: {hole: emptyHole(), place: null, tied: true}, past: [], future: [], tag: "",
  tool: "choose", kind: KINDS.find((kind) => kind.fairway).name, points: [], chosen: null, corner: null,
  view: {x: 0, y: 150, u: 1}, size: [1, 1], cross: null, over: null, snapped: false, faults: [], tab: "draw",
  file: "", lost: [], saved: null, bitmap: null, cover: 60, next: "", closed: {time: -1e9, px: [0, 0]}, keeps: true,
};
const hole = () => state.doc.hole;
const unit = () => DATA.short[hole().units];
const tenth = (value) => Math.round(value * 10) / 10 + 0;
const rounded = ([x, y]) => [tenth(x), tenth(y)];
const whole = (value) => `${Math.round(value)}`;
const say = (text) => put("said", text);
const isEmpty = (one) => !MARKS.some((what) => one[what].length) && !one.areas.length && !one.line.length && !one.boundary.length;
const usualPin = (one = hole()) => one.pins.find((pin) => pin.name === "middle") || one.pins[0];

// ─── Changing and undoing ────────────────────────────────────────────────────────────────────────────────────────────

/** Put a new state of the work in the place of the old one; changes with the same tag, one after the other, are undone as one. */
function change(part, tag = "") {
  if (!tag || tag !== state.tag) state.past.push(state.doc);
  if (state.past.length > 300) state.past.shift();
  state.tag = tag;
  state.future = [];
  state.doc = {...state.doc, ...part};
  refresh();
}
const changeHole = (part, tag = "") => change({hole: {...hole(), ...part}}, tag);
const replaced = (list, i, item) => list.map((old, k) => (k === i ? item : old));
const without = (list, i) => list.filter((_, k) => k !== i);

function undo() {
  if (state.points.length) { state.points.pop(); drawOver(); return say("Point taken back"); }
  if (!state.past.length) return;
  state.future.push(state.doc);
  state.doc = state.past.pop();
  turned("Undone");
}

function redo() {
  if (!state.future.length) return;
  state.past.push(state.doc);
  state.doc = state.future.pop();
  turned("Redone");
}

function turned(text) {
  state.tag = "";
  if (state.chosen && !thing()) choose(null);
  state.corner = null;
  refresh();
  say(text);
}

/** Return what is chosen, or undefined. */
function thing(at = state.chosen) {
  if (!at) return undefined;
  if (at.what === "line" || at.what === "boundary") return hole()[at.what].length ? hole()[at.what] : undefined;
  return hole()[at.what][at.i];
}

/** Return the hole with the chosen thing as `item`. */
function withThing(item, {what, i} = state.chosen) {
  return {...hole(), [what]: what === "line" || what === "boundary" ? item : replaced(hole()[what], i, item)};
}
const changeThing = (part, tag = "") => change({hole: withThing({...thing(), ...part})}, tag);

/** Return the rings or the line of the chosen thing that have points to drag. */
function ringsOf(at = state.chosen) {
  const one = thing(at);
  if (!one) return [];
  if (at.what === "areas") return [one.outline, ...one.inner];
  return at.what === "line" || at.what === "boundary" ? [one] : [];
}

/** Return the chosen thing with one of its rings replaced. */
function withRing(ring, points) {
  const one = thing();
  if (state.chosen.what !== "areas") return points;
  return ring ? {...one, inner: replaced(one.inner, ring - 1, points)} : {...one, outline: points};
}
const isRing = (at = state.chosen) => at.what !== "line";

function choose(at, corner = null) {
  state.chosen = at;
  state.corner = corner;
}

function remove() {
  const {chosen, corner} = state;
  if (!thing()) return;
  if (corner) {
    const points = ringsOf()[corner.ring], least = isRing() ? 3 : 2;
    if (points.length > least) {
      state.corner = {ring: corner.ring, k: Math.min(corner.k, points.length - 2)};
      change({hole: withThing(withRing(corner.ring, without(points, corner.k)))});
      return say("Point deleted");
    }
    state.corner = null;
    if (corner.ring) return change({hole: withThing({...thing(), inner: without(thing().inner, corner.ring - 1)})});
  }
  const list = chosen.what === "line" || chosen.what === "boundary" ? [] : without(hole()[chosen.what], chosen.i);
  choose(null);
  changeHole({[chosen.what]: list});
  say("Deleted");
}

// ─── The view ────────────────────────────────────────────────────────────────────────────────────────────────────────

const toScreen = ([x, y]) => [(x - state.view.x) / state.view.u + state.size[0] / 2, (state.view.y - y) / state.view.u + state.size[1] / 2];
const toHole = ([px, py]) => [state.view.x + (px - state.size[0] / 2) * state.view.u, state.view.y - (py - state.size[1] / 2) * state.view.u];
const apart = (a, b) => between(a, b) / state.view.u;

function look(view) {
  state.view = {...state.view, ...view, u: clamp(view.u ?? state.view.u, 0.02, 12)};
  drawView();
}

/** Zoom about a pixel that keeps its place. */
function zoom(factor, px = [state.size[0] / 2, state.size[1] / 2]) {
  const u = clamp(state.view.u * factor, 0.02, 12), [x, y] = toHole(px);
  look({u, x: x - (px[0] - state.size[0] / 2) * u, y: y + (px[1] - state.size[1] / 2) * u});
}

/** Show all that is drawn; while the picture is being laid, or asked `again` where all is shown already, the picture too. */
function showAll(again = false) {
  const one = hole(), {place} = state.doc, [wide, tall] = state.size, before = state.view;
  const points = [...MARKS.flatMap((what) => one[what].map((mark) => mark.at)), ...one.areas.flatMap((area) => area.outline), ...one.line];
  const corners = place ? [[0, 0], [place.width, 0], [0, place.height], [place.width, place.height]].map((px) => placed(place, px)) : [];
  const fit = (all) => {
    const [left, low, right, high] = bounds(all);
    look({x: (left + right) / 2, y: (low + high) / 2, u: Math.max((right - left) / Math.max(wide - 90, 60), (high - low) / Math.max(tall - 90, 60), 0.05)});
  };
  if (points.length < 2 && !place) return fit([[-120, -40], [120, 420]]);
  fit(points.length < 2 || state.tab === "picture" ? [...points, ...corners] : points);
  if (again && ["x", "y", "u"].every((key) => Math.abs(state.view[key] - before[key]) < 1e-6)) fit([...points, ...corners]);
  return undefined;
}

/** Draw everything where the view has it. */
function drawView() {
  const {x, y, u} = state.view, [wide, tall] = state.size;
  for (const id of ["ground", "over"]) $(id).setAttribute("viewBox", `${x - (wide * u) / 2} ${-y - (tall * u) / 2} ${wide * u} ${tall * u}`);
  for (const tile of weave.values()) if (tile) tile.setAttribute("patternTransform", `scale(${u})`);
  drawPicture();
  drawOver();
}

// ─── The picture ─────────────────────────────────────────────────────────────────────────────────────────────────────

/** Return where a pixel of the picture lies: turned and scaled by (a, b), then shifted. */
const placed = ({a, b, x, y}, [px, py]) => [a * px + b * py + x, b * px - a * py + y];

function drawPicture() {
  const canvas = $("picture"), {place} = state.doc, sharp = window.devicePixelRatio || 1;
  const [wide, tall] = state.size.map((side) => Math.round(side * sharp));
  if (canvas.width !== wide || canvas.height !== tall) Object.assign(canvas, {width: wide, height: tall});
  const pen = canvas.getContext("2d");
  pen.setTransform(1, 0, 0, 1, 0, 0);
  pen.clearRect(0, 0, wide, tall);
  if (!state.bitmap || !place) return;
  const k = sharp / state.view.u, [dx, dy] = toScreen([place.x, place.y]);
  pen.setTransform(place.a * k, -place.b * k, place.b * k, place.a * k, dx * sharp, dy * sharp);
  pen.drawImage(state.bitmap, 0, 0);
}

/** Scale and turn by the complex number (a, b) about a point, and shift: the picture, and what is drawn where that is tied to it. */
function move({a = 1, b = 0, about = [0, 0], by = [0, 0]}, more = {}) {
  const carry = ([x, y]) => [
    about[0] + a * (x - about[0]) - b * (y - about[1]) + by[0], about[1] + b * (x - about[0]) + a * (y - about[1]) + by[1],
  ];
  const {place} = state.doc, [x, y] = carry([place.x, place.y]);
  const next = {...place, a: a * place.a - b * place.b, b: b * place.a + a * place.b, x, y, ...more};
  if (!state.doc.tied || isEmpty(hole())) {
    change({place: next});
    return showAll();
  }
  const shift = (at) => rounded(carry(at)), turnedBy = (-Math.atan2(b, a) * 180) / Math.PI, one = hole();
  const marks = Object.fromEntries(MARKS.map((what) => [what, one[what].map((mark) => ({...mark, at: shift(mark.at)}))]));
  const areas = one.areas.map((area) => ({
    ...area, outline: area.outline.map(shift), inner: area.inner.map((ring) => ring.map(shift)),
    tilt: area.tilt && {...area.tilt, toward: tenth((area.tilt.toward + turnedBy + 720) % 360)},
  }));
  const bearing = turnedBy && one.bearing !== null ? tenth((one.bearing - turnedBy + 720) % 360) : one.bearing;
  change({place: next, hole: {...one, ...marks, areas, bearing, line: one.line.map(shift), boundary: one.boundary.map(shift)}});
  showAll();
}

/** Say which way is north in the picture: (x, y) in the hole's frame. */
function setNorth([x, y]) {
  const bearing = tenth((360 - (Math.atan2(x, y) * 180) / Math.PI) % 360) % 360;
  change({place: {...state.doc.place, north: true}, hole: {...hole(), bearing}});
  say(`Straight up the hole is ${bearing} degrees`);
}

async function loadPicture(blob, file, keep = true) {
  let bitmap;
  try { bitmap = await createImageBitmap(blob); } catch {
    return ask("That is no picture", [node("p", {}, `${file} can't be shown: choose a JPEG, PNG or WebP picture.`)], ["Go on"]);
  }
  state.bitmap = bitmap;
  const {width, height} = bitmap, old = state.doc.place;
  if (!old || old.file !== file || old.width !== width || old.height !== height) {
    const a = 500 / Math.max(width, height);
    change({place: {a, b: 0, x: (-a * width) / 2, y: 200 + (a * height) / 2, width, height, file, scaled: false}, tied: isEmpty(hole())});
    setTab("picture");
    showAll();
  } else {
    change({place: {...old, file}});
  }
  if (keep) store("readwrite", (box) => box.put({file, blob}, STORE));
  say(`${file} is shown`);
}

/** Do something with the pictures that this device keeps; null where it keeps none. */
function store(mode, work) {
  return new Promise((resolve) => {
    try {
      const opening = indexedDB.open("simcaddie trace", 1);
      opening.onupgradeneeded = () => opening.result.createObjectStore("pictures");
      opening.onerror = () => resolve(null);
      opening.onsuccess = () => {
        const asked = work(opening.result.transaction("pictures", mode).objectStore("pictures"));
        asked.onsuccess = () => resolve(asked.result);
        asked.onerror = () => resolve(null);
      };
    } catch { resolve(null); }
  });
}

// ─── Drawing the ground ──────────────────────────────────────────────────────────────────────────────────────────────

const weave = new Map();
const defs = shape("defs", {}, $("ground")), land = shape("g", {transform: "scale(1,-1)"}, $("ground"));
const surroundNode = shape("g", {}, land), edgeNode = shape("g", {});
const pathOf = (rings, closed = true) => rings.map((ring) => `M${ring.map(([x, y]) => `${x.toFixed(2)} ${y.toFixed(2)}`).join("L")}${closed ? "Z" : ""}`).join("");

/** Add a filled, woven and edged outline of a kind of ground to a group. */
function paint(group, d, kind, {edged = true, marking = ""} = {}) {
  if (!weave.has(kind.name)) {
    weave.set(kind.name, texture(defs, `weave-${CODE.get(kind.name)}`, kind.hatch[0], kind.edge));
    if (weave.get(kind.name)) weave.get(kind.name).setAttribute("patternTransform", `scale(${state.view.u})`);
  }
  const rule = {d, "fill-rule": "evenodd", "vector-effect": "non-scaling-stroke"};
  shape("path", {...rule, class: "fill", fill: kind.fill}, group);
  if (weave.get(kind.name)) shape("path", {...rule, class: "weave", fill: `url(#weave-${CODE.get(kind.name)})`}, group);
  if (!edged) return;
  if (state.bitmap) shape("path", {...rule, fill: "none", stroke: PAPER, "stroke-width": 3, "stroke-opacity": 0.7}, group);
  const colour = COLOURS.markings[marking] || kind.edge, dashes = marking === "yellow" ? "6 3" : kind.dashed ? "5 3" : "none";
  shape("path", {...rule, fill: "none", stroke: colour, "stroke-width": marking ? 1.8 : kind.putting ? 1.4 : 0.9, "stroke-dasharray": dashes}, group);
}

const painted = new Map();
/** Draw all areas, lowest kind first, but the chosen one, which lies over them. */
function drawGround() {
  const one = hole(), chosen = state.chosen?.what === "areas" ? one.areas[state.chosen.i] : null, seen = new Set(one.areas);
  for (const area of painted.keys()) if (!seen.has(area)) painted.delete(area);
  const order = one.areas.filter((area) => area !== chosen).sort((a, b) => CODE.get(a.kind) - CODE.get(b.kind));
  const groups = order.map((area) => {
    if (!painted.has(area)) {
      const group = shape("g");
      paint(group, pathOf(drawn(area).rings), kindOf(area.kind), {marking: area.marking});
      painted.set(area, group);
    }
    return painted.get(area);
  });
  surroundNode.replaceChildren();
  if (!state.bitmap) paint(surroundNode, "M-9000 -9000H9000V9000H-9000Z", kindOf(one.surround), {edged: false});
  edgeNode.replaceChildren();
  const line = {fill: "none", stroke: INK, "vector-effect": "non-scaling-stroke"};
  if (one.boundary.length) {
    paint(edgeNode, `M-9000 -9000H9000V9000H-9000Z${pathOf([one.boundary])}`, outside, {edged: false});
    shape("path", {...line, d: pathOf([one.boundary]), "stroke-width": 1.4, "stroke-dasharray": "9 3 1.5 3"}, edgeNode);
  }
  if (one.line.length) shape("path", {...line, d: pathOf([one.line], false), "stroke-width": 1, "stroke-dasharray": "2 4"}, edgeNode);
  land.replaceChildren(surroundNode, ...groups, edgeNode);
  $("ground").style.setProperty("--cover", state.bitmap ? state.cover / 100 : 1);
}

// ─── Drawing what lies over it ───────────────────────────────────────────────────────────────────────────────────────

const activeNode = shape("g", {}, $("over")), markNode = shape("g", {}, $("over")), handNode = shape("g", {}, $("over"));
const stand = ([x, y]) => `translate(${x} ${-y}) scale(${state.view.u})`;
const flat = (points, closed) => pathOf([points.map(([x, y]) => [x, -y])], closed);
const inView = (at, by = 30) => {
  const [px, py] = toScreen(at);
  return px > -by && py > -by && px < state.size[0] + by && py < state.size[1] + by;
};

/** Draw a mark as the charts have it. */
function symbol(what, at, parent, usual = false) {
  const g = shape("g", {transform: stand(at), class: `mark ${what}`}, parent), line = {stroke: INK, "stroke-width": 1.4, fill: PAPER};
  if (what === "tees") shape("path", {d: "M0-6L6 0L0 6L-6 0Z", ...line, fill: INK, stroke: PAPER}, g);
  else if (what === "pins") {
    if (usual) shape("path", {d: "M0 0V-20L11-16L0-12", ...line, fill: INK, stroke: INK}, g);
    shape("circle", {r: 3.4, ...line, fill: usual ? INK : PAPER}, g);
  } else if (what === "spots") {
    shape("circle", {r: 6, ...line}, g);
    shape("path", {d: "M-4 0H4M0-4V4", ...line}, g);
  } else if (what === "landmarks") shape("path", {d: "M0-6L6 5H-6Z", ...line}, g);
  else shape("circle", {r: 2.6, ...line, fill: INK, stroke: PAPER}, g);
  return g;
}

/** Write labels beside their places, those told first first; none over another. */
function writeLabels(labels, parent) {
  const taken = labels.filter((label) => label.px).map(({px: [x, y]}) => [x - 7, y - 7, x + 7, y + 7]);
  const hits = (a, b) => a[0] < b[2] && b[0] < a[2] && a[1] < b[3] && b[1] < a[3];
  for (const {text, px, at, own, style = "normal"} of labels) {
    const wide = textWidth(text, 12, 400, style) + 4, [x, y] = px || toScreen(at);
    const places = own ? [[x - wide / 2, y]] : [[x + 10, y], [x - 10 - wide, y], [x - wide / 2, y - 17], [x - wide / 2, y + 17]];
    const free = places.find(([left, middle]) => {
      const box = [left, middle - 8, left + wide, middle + 8];
      return !taken.some((other) => hits(box, other) && !(px && other[0] === px[0] - 7 && other[1] === px[1] - 7));
    });
    if (!free) continue;
    taken.push([free[0], free[1] - 8, free[0] + wide, free[1] + 8]);
    const g = shape("g", {transform: stand(toHole(free))}, parent);
    shape("text", {"font-size": 12, y: 4, "font-style": style}, g, text);
  }
}

function drawMarks() {
  markNode.replaceChildren();
  const one = hole(), usual = usualPin(), labels = [];
  const busy = [...one.tees, ...one.pins].map((mark) => mark.at);
  for (const what of [...MARKS].reverse()) {
    one[what].forEach((mark, i) => {
      if (!inView(mark.at)) return;
      const g = symbol(what, mark.at, markNode, mark === usual);
      if (state.chosen?.what === what && state.chosen.i === i) shape("circle", {r: 11, fill: "none", stroke: BLUE, "stroke-width": 2.5}, g);
      if (what === "heights" && busy.some((at) => apart(at, mark.at) < 12)) return;
      labels.unshift({text: what === "heights" ? number(mark.height, 1) : mark.name.replaceAll("_", " "), px: toScreen(mark.at)});
    });
  }
  for (const area of one.areas) {
    const [left, low, right, high] = drawn(area).box, at = [(left + right) / 2, (low + high) / 2];
    if (area.name && inView(at, 0)) labels.push({text: area.name, at, own: true, style: "italic"});
  }
  for (const fault of state.faults) {
    if (!fault.at || !inView(fault.at)) continue;
    const g = shape("g", {transform: stand(fault.at), class: "fault"}, markNode);
    shape("circle", {r: 9, cy: -14, fill: TROUBLE, stroke: PAPER, "stroke-width": 1.5}, g);
    shape("path", {d: "M0-19V-13M0-10.6V-9.4M0-5V0", stroke: PAPER, "stroke-width": 2.2}, g);
  }
  writeLabels(labels, markNode);
}

/** Return the points of a ring, and halfway between them on what is drawn. */
function handles(ring) {
  const points = ringsOf()[ring], one = thing(), closed = isRing();
  const middles = [];
  for (let k = 0; k < points.length - (closed ? 0 : 1); k += 1) {
    const next = points[(k + 1) % points.length];
    let at = [(points[k][0] + next[0]) / 2, (points[k][1] + next[1]) / 2];
    if (state.chosen.what === "areas" && one.smooth) {
      const curve = drawn(one), starts = curve.starts[ring];
      if (starts.length === points.length) {
        const end = k + 1 < starts.length ? starts[k + 1] : curve.rings[ring].length, middle = (starts[k] + end) / 2;
        const a = curve.rings[ring][Math.floor(middle)], b = curve.rings[ring][Math.ceil(middle) % curve.rings[ring].length];
        at = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
      }
    }
    if (apart(points[k], next) > 34) middles.push({k, at});
  }
  return {points, middles};
}

/** Return where the chosen area is taken hold of as a whole. */
function grip() {
  if (state.chosen?.what !== "areas" || !thing()) return null;
  const [left, low, right, high] = drawn(thing()).box;
  return apart([left, low], [right, high]) > 90 ? [(left + right) / 2, (low + high) / 2] : [right + 24 * state.view.u, high + 12 * state.view.u];
}

/** Make the children of a group what is told, [name, attributes] each: those that are there already only change what differs. */
function patch(group, told) {
  told.forEach(([name, attributes], i) => {
    const old = group.children[i];
    if (old?.tagName !== name || old.getAttribute("class") !== (attributes.class ?? null)) {
      const made = shape(name, attributes);
      if (old) old.replaceWith(made);
      else group.append(made);
      return;
    }
    for (const [key, value] of Object.entries(attributes)) if (old.getAttribute(key) !== String(value)) old.setAttribute(key, value);
  });
  while (group.children.length > told.length) group.lastChild.remove();
}

/** Draw the chosen area, line or boundary with its handles. */
function drawActive() {
  const one = thing(), under = [], over = [];
  const line = {fill: "none", stroke: BLUE, "stroke-width": 2.2, "vector-effect": "non-scaling-stroke"};
  if (one && state.chosen.what === "areas") {
    const kind = kindOf(one.kind), turned = {transform: "scale(1,-1)", d: pathOf(drawn(one).rings)};
    under.push(["path", {...turned, class: "chosen-fill", "fill-rule": "evenodd", fill: kind.fill, "fill-opacity": state.bitmap ? 0.35 : 0.75}]);
    under.push(["path", {...line, ...turned, class: "chosen-halo", stroke: PAPER, "stroke-width": 4}], ["path", {...line, ...turned, class: "chosen-line"}]);
    if (one.smooth) for (const ring of ringsOf()) under.push(["path", {...line, class: "chosen-points", d: flat(ring, true), "stroke-width": 0.8, "stroke-dasharray": "2 4"}]);
  } else for (const ring of ringsOf()) under.push(["path", {...line, class: "chosen-edge", d: flat(ring, isRing())}]);
  ringsOf().forEach((_, ring) => {
    const {points, middles} = handles(ring);
    for (const {at} of middles) if (inView(at)) over.push(["path", {class: "middle", transform: stand(at), d: "M-4.5 0H4.5M0-4.5V4.5", stroke: BLUE, "stroke-width": 2}]);
    points.forEach((at, k) => {
      const on = state.corner?.ring === ring && state.corner.k === k;
      if (inView(at)) over.push(["circle", {class: "corner", transform: stand(at), r: on ? 7.5 : 5, fill: on ? BLUE : PAPER, stroke: on ? PAPER : BLUE, "stroke-width": 2}]);
    });
  });
  const hold = grip(), arrows = "M-7 0H7M0-7V7M-7 0l2.5-2.5M-7 0l2.5 2.5M7 0l-2.5-2.5M7 0l-2.5 2.5M0-7l-2.5 2.5M0-7l2.5 2.5M0 7l-2.5-2.5M0 7l2.5-2.5";
  if (hold) {
    over.push(["circle", {class: "grip", transform: stand(hold), r: 11, fill: PAPER, stroke: BLUE, "stroke-width": 2}]);
    over.push(["path", {class: "arrows", transform: stand(hold), d: arrows, fill: "none", stroke: BLUE, "stroke-width": 1.4}]);
  }
  patch(activeNode, under);
  patch(handNode, over);
}

const rubberNode = shape("g", {}, $("over"));
/** Draw what is in hand: points of an outline and the way to the pointer, a ruler, the cross of the keyboard. */
function drawRubber() {
  rubberNode.replaceChildren();
  const {points, tool, over, cross} = state, to = cross || over;
  const ends = to && (points.length || TWO.has(tool)) && !(TWO.has(tool) && points.length > 1) ? [...points, to] : points;
  if (points.length) {
    const ring = RINGS.has(tool) && ends.length > 2, smooth = ring && (tool === "inner" ? thing()?.smooth : tool === "areas" && $("smooth").checked);
    const path = smooth ? flat(smoothRing(ends).drawn, true) : flat(ends, ring);
    const line = {fill: "none", "vector-effect": "non-scaling-stroke", d: path};
    shape("path", {...line, stroke: PAPER, "stroke-width": 4, "stroke-opacity": 0.8}, rubberNode);
    shape("path", {...line, stroke: BLUE, "stroke-width": 2, "stroke-dasharray": TWO.has(tool) ? "none" : "7 4"}, rubberNode);
    points.forEach((at, k) => shape("circle", {transform: stand(at), r: k === 0 && RINGS.has(tool) ? 8 : 5, fill: PAPER, stroke: BLUE, "stroke-width": 2, class: "point"}, rubberNode));
    if (TWO.has(tool) && ends.length > 1 && tool !== "north") {
      const middle = [(ends[0][0] + ends[1][0]) / 2, (ends[0][1] + ends[1][1]) / 2];
      writeLabels([{text: `${number(between(ends[0], ends[1]), 1)} ${unit()}`, at: middle}], rubberNode);
    }
  }
  if (state.snapped && to) shape("rect", {transform: stand(to), x: -8, y: -8, width: 16, height: 16, fill: "none", stroke: TROUBLE, "stroke-width": 2, class: "snap"}, rubberNode);
  if (cross) {
    const g = shape("g", {transform: stand(cross), class: "cross"}, rubberNode);
    for (const [stroke, width] of [[PAPER, 5], [TROUBLE, 2]]) shape("path", {d: "M-16 0H-4M4 0H16M0-16V-4M0 4V16", stroke, "stroke-width": width}, g);
  }
  show("drawing", points.length > 0 && DRAWS.has(tool));
  $("close").disabled = points.length < (tool === "line" ? 2 : 3);
  put("close", tool === "line" ? "End" : "Close");
  put("readout", readout(to));
}

function drawOver() {
  drawActive();
  drawMarks();
  drawRubber();
}

/** Tell what `yardages` would: how far a place is from the tee, and from the usual pin. */
function readout(at) {
  const one = hole(), parts = [];
  if (!at) return "";
  const tee = (state.chosen?.what === "tees" && thing()) || one.tees[0], pin = usualPin();
  if (tee) parts.push(`${whole(between(tee.at, at))} ${unit()} from ${tee.name} tee`);
  if (pin) parts.push(`${whole(between(at, pin.at))} to ${pin.name} pin`);
  const last = state.points.at(-1);
  if (last && between(last, at) > 0.05) parts.push(`${number(between(last, at), 1)} from the last point`);
  if (!parts.length) parts.push(`[${at.map((value) => number(value, 1)).join(", ")}] ${unit()}`);
  if (state.bitmap && !state.doc.place?.scaled && state.doc.tied) parts.push("the picture has no scale yet");
  return parts.join(" · ");
}

// ─── What lies where ─────────────────────────────────────────────────────────────────────────────────────────────────

const reach = (type) => NEAR[type] || NEAR.mouse;

/** Return what the pointer takes hold of: a point of what is in hand, a handle of what is chosen, or a mark. */
function grabAt(px, type) {
  const at = toHole(px), near = reach(type);
  let best = null;
  const offer = (grab, place, bonus = 0) => {
    const far = apart(at, place) - bonus;
    if (apart(at, place) <= near && (!best || far < best.far)) best = {...grab, far, from: place};
  };
  state.points.forEach((place, k) => offer({what: "points", k}, place));
  if (state.points.length) return best;
  if (thing()) {
    ringsOf().forEach((_, ring) => {
      const {points, middles} = handles(ring);
      points.forEach((place, k) => offer({what: "corner", ring, k}, place, 3));
      for (const {k, at: place} of middles) offer({what: "middle", ring, k}, place);
    });
    if (grip()) offer({what: "whole"}, grip());
  }
  if (state.tool === "choose") for (const list of MARKS) hole()[list].forEach((mark, i) => offer({what: "mark", list, i}, mark.at, 4));
  return best;
}

/** Return all that may be meant by a tap, nearest first: marks, then areas from the top, then line and boundary. */
function meantAt(at, near) {
  const one = hole(), marks = MARKS.flatMap((what) => one[what].map((mark, i) => ({what, i, far: apart(at, mark.at)}))).filter((mark) => mark.far <= near);
  const under = one.areas.map((area, i) => ({what: "areas", i, area})).filter(({area}) => {
    const [left, low, right, high] = drawn(area).box;
    return at[0] >= left && at[0] <= right && at[1] >= low && at[1] <= high && covers(drawn(area).rings, at);
  });
  const size = ({area}) => { const [left, low, right, high] = drawn(area).box; return (right - left) * (high - low); };
  under.sort((a, b) => CODE.get(b.area.kind) - CODE.get(a.area.kind) || size(a) - size(b));
  const edges = ["line", "boundary"].filter((what) => one[what].length && apart(at, nearestOnRing(at, one[what], what === "boundary")) <= near);
  const lines = edges.map((what) => ({what, i: 0}));
  return [...marks.sort((a, b) => a.far - b.far), ...under.filter(({area}) => kindOf(area.kind).putting), ...lines, ...under.filter(({area}) => !kindOf(area.kind).putting)]
    .map(({what, i}) => ({what, i}));
}

function nearestOnRing(at, ring, closed) {
  let best = ring[0];
  for (let i = 0; i < ring.length - (closed ? 0 : 1); i += 1) {
    const place = nearestOn(at, ring[i], ring[(i + 1) % ring.length]);
    if (between(at, place) < between(at, best)) best = place;
  }
  return best;
}

/** Return a place, on a point or an edge of another outline where one is near and snapping is on. */
function snapped(at, type = "mouse", free = false) {
  state.snapped = false;
  if (!$("snap").checked || free) return rounded(at);
  const near = (reach(type) * 0.9) * state.view.u, own = state.chosen?.what === "areas" ? thing() : null;
  let corner = null, edge = null;
  const others = [...hole().areas.filter((area) => area !== own).map((area) => ({points: [area.outline, ...area.inner], rings: drawn(area).rings, box: drawn(area).box}))];
  if (hole().boundary.length && state.chosen?.what !== "boundary") others.push({points: [hole().boundary], rings: [hole().boundary], box: bounds(hole().boundary)});
  for (const {points, rings, box} of others) {
    if (at[0] < box[0] - near || at[1] < box[1] - near || at[0] > box[2] + near || at[1] > box[3] + near) continue;
    for (const place of points.flat()) if (between(at, place) < (corner ? between(at, corner) : near)) corner = place;
    for (const ring of rings) {
      const place = nearestOnRing(at, ring, true);
      if (between(at, place) < (edge ? between(at, edge) : near)) edge = place;
    }
  }
  state.snapped = Boolean(corner || edge);
  return corner || rounded(edge || at);
}

// ─── Taps ────────────────────────────────────────────────────────────────────────────────────────────────────────────

function setTool(tool) {
  if (state.tool === tool && !state.points.length) return;
  state.tool = tool;
  state.points = [];
  state.snapped = false;
  if (DRAWS.has(tool) && tool !== "inner") choose(null);
  refresh();
}

function freeName(list, name) {
  let found = name;
  for (let n = 2; list.some((mark) => mark.name === found); n += 1) found = `${name} ${n}`;
  return found;
}

/** Put a mark of a list at a place, and choose it. */
function setMark(what, at) {
  const list = hole()[what];
  const name = what === "heights" ? null : FIRST[what].find((one) => !list.some((mark) => mark.name === one)) || freeName(list, ONE[what]);
  const mark = what === "heights" ? {at, height: list.at(-1)?.height ?? 0} : what === "spots" ? {name, at, lie: ""} : {name, at};
  choose({what, i: list.length});
  changeHole({[what]: [...list, mark]});
  if (what === "heights") state.next = "mark-height";
  say(`${capital(ONE[what])} ${name || ""} placed`);
}

/** End what is in hand: an outline is closed, a line ended. */
function closeUp() {
  const {tool, kind} = state, points = state.points, least = tool === "line" ? 2 : 3;
  if (!DRAWS.has(tool) || points.length < least) return;
  state.points = [];
  if (tool === "inner") {
    const area = thing();
    setTool("choose");
    return changeThing({inner: [...area.inner, points]});
  }
  if (tool === "areas") {
    const ground = kindOf(kind), areas = [...hole().areas, {
      kind, name: "", marking: ground.penalty ? "red" : "", height: null, density: null, tilt: null,
      smooth: $("smooth").checked, outline: points, inner: [],
    }];
    choose({what: "areas", i: areas.length - 1});
    changeHole({areas});
    return say(`${capital(ground.title)} of ${points.length} points drawn`);
  }
  choose({what: tool, i: 0});
  changeHole({[tool]: points});
  return say(`${capital(ONE[tool])} drawn`);
}

/** What a tap on the map does; one on the last point of an outline again, as a double tap, closes it. */
function tap(at, {type = "mouse", free = false, grab = null} = {}) {
  const {tool, points} = state, px = toScreen(at);
  if (tool === "choose") {
    if (grab?.what === "corner") state.corner = {ring: grab.ring, k: grab.k};
    else if (grab?.what === "middle") return insertAt(grab.ring, grab.k, rounded(grab.from));
    else if (grab?.what !== "whole") {
      const meant = meantAt(at, reach(type)), now = meant.findIndex((one) => one.what === state.chosen?.what && one.i === state.chosen.i);
      choose(meant[(now + 1) % Math.max(meant.length, 1)] || null);
      if (state.chosen) say(`${titleOf(state.chosen)} chosen`);
    }
    return refresh();
  }
  if (DRAWS.has(tool)) {
    const to = snapped(at, type, free), again = points.length && between(toScreen(points.at(-1)), toScreen(to)) <= (type === "touch" ? 14 : 5);
    if (again || (points.length > 2 && RINGS.has(tool) && between(toScreen(points[0]), px) <= reach(type))) return closeUp();
    if (!points.length && tool !== "inner" && state.chosen) { choose(null); refresh(); }
    points.push(to);
    say(`Point ${points.length}`);
    return drawRubber();
  }
  if (TWO.has(tool)) {
    if (points.length > 1) points.length = 0;
    points.push(at);
    drawPanelSoon();
    if (points.length === 2 && tool === "north") {
      const [from, to] = points;
      setTool("choose");
      return setNorth([to[0] - from[0], to[1] - from[1]]);
    }
    drawRubber();
    if (points.length === 2 && tool === "scale") return askScale();
    return say(points.length === 2 ? `${number(between(...points), 1)} ${unit()}` : "First point");
  }
  if (tool === "origin" || tool === "matchTee") {
    const to = tool === "origin" ? [0, 0] : hole().tees[0].at;
    setTool("choose");
    move({by: [to[0] - at[0], to[1] - at[1]]}, {tee: true});
    if (tool === "origin") {
      const tees = hole().tees.length ? replaced(hole().tees, 0, {...hole().tees[0], at: [0, 0]}) : [{name: FIRST.tees[0], at: [0, 0]}];
      state.tag = "tee";
      state.doc = {...state.doc, hole: {...hole(), tees}};
    }
    return setTool(tool === "origin" ? "ahead" : "matchPin");
  }
  if (tool === "ahead" || tool === "matchPin") {
    const from = tool === "ahead" ? hole().tees[0]?.at || [0, 0] : hole().tees[0].at, to = tool === "ahead" ? [from[0], from[1] + between(from, at)] : usualPin().at;
    const [px_, py_] = [at[0] - from[0], at[1] - from[1]], [qx, qy] = [to[0] - from[0], to[1] - from[1]], long = px_ * px_ + py_ * py_;
    if (!long) return say("That is the tee");
    setTool("choose");
    return move({a: (px_ * qx + py_ * qy) / long, b: (px_ * qy - py_ * qx) / long, about: from}, tool === "ahead" ? {ahead: true} : {ahead: true, scaled: true});
  }
  return setMark(tool, snapped(at, type, true));
}

function insertAt(ring, k, at) {
  const points = ringsOf()[ring];
  state.corner = {ring, k: k + 1};
  change({hole: withThing(withRing(ring, [...points.slice(0, k + 1), at, ...points.slice(k + 1)]))});
  say("Point put in");
}

// ─── Pointers ────────────────────────────────────────────────────────────────────────────────────────────────────────

const fingers = new Map();
let press = null, pinch = null;
const pixel = (event) => {
  const box = $("map").getBoundingClientRect();
  return [event.clientX - box.left, event.clientY - box.top];
};

/** Show the hole as it would be while something is dragged; what undo goes back to stays. */
function live(part) {
  state.doc = {...state.doc, hole: part};
  drawActive();
  if (press?.grab?.what === "mark") drawMarks();
}

function startDrag() {
  const {grab} = press;
  press.before = state.doc;
  if (grab.what === "mark") choose({what: grab.list, i: grab.i});
  if (grab.what === "corner" || grab.what === "middle") state.corner = {ring: grab.ring, k: grab.k + (grab.what === "middle" ? 1 : 0)};
  if (grab.what === "middle") {
    const points = ringsOf()[grab.ring];
    press.points = [...points.slice(0, grab.k + 1), grab.from, ...points.slice(grab.k + 1)];
  } else if (grab.what === "corner") press.points = ringsOf()[grab.ring];
  press.thing = thing();
}

function drag(px, event) {
  const {grab} = press, to = toHole(px);
  const at = [grab.from[0] + to[0] - press.at[0], grab.from[1] + to[1] - press.at[1]];
  if (grab.what === "points") {
    state.points[grab.k] = snapped(at, event.pointerType, event.altKey);
    return drawRubber();
  }
  if (grab.what === "mark") live(withThing({...press.thing, at: rounded(at)}));
  else if (grab.what === "whole") {
    const by = rounded([at[0] - grab.from[0], at[1] - grab.from[1]]), shift = (points) => points.map(([x, y]) => rounded([x + by[0], y + by[1]]));
    live(withThing({...press.thing, outline: shift(press.thing.outline), inner: press.thing.inner.map(shift)}));
  } else live(withThing(withRing(grab.ring, replaced(press.points, state.corner.k, snapped(at, event.pointerType, event.altKey)))));
  state.over = at;
  drawRubber();
  return null;
}

function startPinch() {
  const [a, b] = [...fingers.values()];
  if (press?.before) { state.doc = press.before; refresh(); }
  press = null;
  pinch = {far: Math.max(between(a, b), 1), u: state.view.u, at: toHole([(a[0] + b[0]) / 2, (a[1] + b[1]) / 2])};
}

function onPinch() {
  const [a, b] = [...fingers.values()], u = clamp((pinch.u * pinch.far) / Math.max(between(a, b), 1), 0.02, 12);
  const middle = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
  look({u, x: pinch.at[0] - (middle[0] - state.size[0] / 2) * u, y: pinch.at[1] + (middle[1] - state.size[1] / 2) * u});
}

function onDown(event) {
  if (event.target.closest("button") || event.button > 1) return;
  const px = pixel(event);
  fingers.set(event.pointerId, px);
  try { $("map").setPointerCapture(event.pointerId); } catch { /* a pointer that is gone already */ }
  if (state.cross) { state.cross = null; drawRubber(); }
  if (fingers.size === 2) return startPinch();
  if (fingers.size > 2) return;
  press = {px, at: toHole(px), view: state.view, grab: event.button === 1 ? null : grabAt(px, event.pointerType), moved: false};
}

function onMove(event) {
  const px = pixel(event);
  if (fingers.has(event.pointerId)) fingers.set(event.pointerId, px);
  if (pinch) return fingers.size === 2 ? onPinch() : undefined;
  if (!press) {
    if (event.pointerType === "touch") return;
    state.over = DRAWS.has(state.tool) ? snapped(toHole(px), event.pointerType, event.altKey) : toHole(px);
    return drawRubber();
  }
  if (!press.moved && between(px, press.px) < 6) return;
  if (!press.moved) {
    press.moved = true;
    if (press.grab) startDrag();
  }
  if (press.grab) return void drag(px, event);
  const {view} = press;
  look({x: view.x - (px[0] - press.px[0]) * view.u, y: view.y + (px[1] - press.px[1]) * view.u});
}

function onUp(event) {
  fingers.delete(event.pointerId);
  if (pinch) { if (!fingers.size) pinch = null; return; }
  const done = press;
  press = null;
  if (!done) return;
  if (event.type === "pointercancel") {
    if (done.before) { state.doc = done.before; refresh(); }
    return;
  }
  if (done.moved) {
    if (done.before && done.grab.what !== "points" && state.doc !== done.before) {
      const after = state.doc;
      state.doc = done.before;
      state.snapped = false;
      change({hole: after.hole});
    }
    return;
  }
  if (event.timeStamp - state.closed.time < 400 && between(state.closed.px, done.px) < 20) return; // the rest of a double tap
  const drawing = state.points.length > 0;
  tap(done.at, {type: event.pointerType, free: event.altKey, grab: done.grab});
  if (drawing && !state.points.length) state.closed = {time: event.timeStamp, px: done.px};
}

function listenToMap() {
  const map = $("map");
  map.addEventListener("pointerdown", onDown);
  map.addEventListener("pointermove", onMove);
  map.addEventListener("pointerup", onUp);
  map.addEventListener("pointercancel", onUp);
  map.addEventListener("pointerleave", () => { if (!press && state.over) { state.over = null; state.snapped = false; drawRubber(); } });
  map.addEventListener("wheel", (event) => {
    event.preventDefault();
    zoom(1.0016 ** (event.deltaY * (event.deltaMode ? 30 : 1)), pixel(event));
  }, {passive: false});
  map.addEventListener("dblclick", (event) => event.preventDefault());
  new ResizeObserver(() => {
    const box = map.getBoundingClientRect();
    if (box.width < 1 || (box.width === state.size[0] && box.height === state.size[1])) return;
    const first = state.size[0] === 1;
    state.size = [box.width, box.height];
    if (first) showAll();
    else drawView();
  }).observe(map);
}

// ─── The keyboard ────────────────────────────────────────────────────────────────────────────────────────────────────

const STEPS = {ArrowUp: [0, 1], ArrowDown: [0, -1], ArrowLeft: [-1, 0], ArrowRight: [1, 0]};

function step([dx, dy], event) {
  const size = event.shiftKey ? 10 : event.altKey ? 0.1 : 1, shift = ([x, y]) => rounded([x + dx * size, y + dy * size]);
  const {corner, chosen} = state;
  if (corner) {
    const points = ringsOf()[corner.ring], at = shift(points[corner.k]);
    change({hole: withThing(withRing(corner.ring, replaced(points, corner.k, at)))}, `corner ${chosen.what} ${chosen.i} ${corner.ring} ${corner.k}`);
    return tellPlace(at);
  }
  state.cross = shift(state.cross || [state.view.x, state.view.y]);
  if (!inView(state.cross, -20)) look({x: state.cross[0], y: state.cross[1]});
  drawRubber();
  return tellPlace(state.cross);
}

const tellPlace = (at) => say(`${at.map((value) => number(value, 1)).join(", ")}. ${readout(at)}`);

function nextCorner(by) {
  const all = ringsOf().flatMap((points, ring) => points.map((_, k) => ({ring, k})));
  if (!all.length) return;
  const now = all.findIndex(({ring, k}) => ring === state.corner?.ring && k === state.corner.k);
  state.corner = all[now < 0 ? (by > 0 ? 0 : all.length - 1) : (now + by + all.length) % all.length];
  const at = ringsOf()[state.corner.ring][state.corner.k];
  if (!inView(at, -20)) look({x: at[0], y: at[1]});
  refresh();
  say(`Point ${state.corner.k + 1} at ${at.map((value) => number(value, 1)).join(", ")}`);
}

function leave() {
  if (state.points.length) { state.points = []; drawRubber(); return say("Left"); }
  if (state.corner) state.corner = null;
  else if (state.cross) state.cross = null;
  else if (state.tool !== "choose") return setTool("choose");
  else choose(null);
  return refresh();
}

function onMapKey(event) {
  if (![$("map"), document.body].includes(event.target) || event.ctrlKey || event.metaKey) return;
  const actions = {
    " ": () => tap(state.cross || [state.view.x, state.view.y], {free: event.altKey}),
    Enter: () => (state.points.length ? closeUp() : tap(state.cross || [state.view.x, state.view.y])),
    Escape: leave, Delete: remove, Backspace: () => (state.points.length ? undo() : remove()),
    ",": () => nextCorner(-1), ".": () => nextCorner(1), "+": () => zoom(0.8), "=": () => zoom(0.8), "-": () => zoom(1.25), 0: () => showAll(true),
    i: () => {
      if (!state.corner) return;
      const {ring, k} = state.corner, points = ringsOf()[ring], next = points[(k + 1) % points.length];
      if (isRing() || k + 1 < points.length) insertAt(ring, k, rounded([(points[k][0] + next[0]) / 2, (points[k][1] + next[1]) / 2]));
    },
  };
  const act = STEPS[event.key] ? () => step(STEPS[event.key], event) : actions[event.key.length === 1 ? event.key.toLowerCase() : event.key];
  if (!act) return;
  event.preventDefault();
  act();
}

function onKey(event) {
  const key = event.key.toLowerCase(), writes = event.target.closest?.("input:not([type=checkbox], [type=radio], [type=range]), textarea");
  if (!(event.ctrlKey || event.metaKey)) return;
  if (key === "s") { event.preventDefault(); save(); }
  if (writes) return;
  if (key === "z" && !event.shiftKey) { event.preventDefault(); undo(); }
  if (key === "y" || (key === "z" && event.shiftKey)) { event.preventDefault(); redo(); }
}

// ─── The panel ───────────────────────────────────────────────────────────────────────────────────────────────────────

function titleOf({what, i}) {
  const one = thing({what, i});
  if (what === "areas") {
    const title = capital(kindOf(one.kind).title);
    return one.name ? `${title}: ${one.name}` : title;
  }
  if (what === "line" || what === "boundary") return capital(ONE[what]);
  return what === "heights" ? `Height ${number(one.height, 1)}` : `${capital(ONE[what])} ${one.name}`;
}

/** Return a field with its label; `commit` gets what was put in, once it is sound. */
function field(id, label, input, commit) {
  const writes = input.type === "number" || input.type === "text", valueOf = () => {
    if (input.type === "checkbox") return input.checked;
    return input.type === "number" ? (input.value === "" ? null : Number(input.value)) : input.value.trim();
  };
  const take = () => {
    if (writes && input.value === input.defaultValue) return;
    if (!input.checkValidity()) { say(input.validationMessage); input.reportValidity(); return; }
    if (writes) input.defaultValue = input.value;
    commit(valueOf());
  };
  input.id = id;
  for (const event of ["change", ...(writes ? ["blur"] : [])]) input.addEventListener(event, take);
  return input.type === "checkbox" ? node("label", {class: "check"}, input, ` ${label}`) : node("label", {}, label, input);
}

const numberInput = (value, more = {}) => node("input", {type: "number", step: "any", inputmode: "decimal", value: value === null ? "" : number(value), ...more});
const textInput = (value, more = {}) => node("input", {type: "text", maxlength: 80, autocomplete: "off", value, ...more});

function selectInput(value, options) {
  const input = node("select", {}, ...options.map(([key, title]) => node("option", {value: key}, title)));
  input.value = value;
  return input;
}

function button(id, title, act) {
  const made = node("button", {type: "button", id}, title);
  made.addEventListener("click", act);
  return made;
}

const titled = (kinds) => kinds.map((kind) => [kind.name, kind.title]);

function areaFields(area) {
  const kind = kindOf(area.kind), fields = [
    field("area-kind", "Kind", selectInput(area.kind, titled(KINDS)), (name) => {
      const next = kindOf(name), owned = Object.fromEntries(Object.entries(DATA.owners).map(([key, column]) => [key, next[column] ? area[key] : key === "marking" ? "" : null]));
      changeThing({kind: name, ...owned, marking: next.penalty ? area.marking || "red" : ""});
    }),
    field("area-name", "Name", textInput(area.name), (name) => changeThing({name})),
    field("area-smooth", "Smooth curve", node("input", {type: "checkbox", checked: area.smooth}), (smooth) => changeThing({smooth})),
  ];
  const has = (key) => kind[DATA.owners[key]] || (area[key] !== null && area[key] !== "");
  const part = DATA.format.$defs.AreaFile.properties;
  if (has("marking")) fields.push(field("area-marking", "Marking", selectInput(area.marking, [["", "none"], ...part.marking.enum.map((each) => [each, each])]), (marking) => changeThing({marking})));
  if (has("height")) {
    const usual = number(DATA.trees.height / DATA.perUnit[hole().units], 1);
    fields.push(field("area-height", `Height, ${unit()}`, numberInput(area.height, {min: 0.1, max: part.height.maximum, placeholder: usual}), (height) => changeThing({height})));
  }
  if (has("density")) fields.push(field("area-density", "Density, 0 to 1", numberInput(area.density, {min: part.density.minimum, max: part.density.maximum, placeholder: DATA.trees.density}), (density) => changeThing({density})));
  if (has("tilt")) {
    const set = (key) => (value) => {
      const tilt = {percent: 0, toward: 180, ...area.tilt, [key]: value ?? 0};
      changeThing({tilt: key === "percent" && !value ? null : tilt});
    };
    const tilt = DATA.format.$defs.TiltFile.properties;
    fields.push(
      field("area-percent", "Falls by, %", numberInput(area.tilt?.percent ?? null, {min: tilt.percent.minimum, max: tilt.percent.maximum}), set("percent")),
      field("area-toward", "Falls toward, °", numberInput(area.tilt?.toward ?? null, {min: tilt.toward.minimum, max: tilt.toward.maximum, placeholder: "180", disabled: !area.tilt}), set("toward")),
    );
  }
  return fields;
}

function markFields({what, i}, one) {
  const rename = (name) => {
    const others = without(hole()[what], i);
    if (!name) return refresh();
    return changeThing({name: what === "landmarks" ? name : freeName(others, name)});
  };
  const at = (k) => (value) => changeThing({at: replaced(one.at, k, value ?? 0)});
  const limits = {min: -2000, max: 2000};
  return [
    what === "heights" ? field("mark-height", `Height, ${unit()}`, numberInput(one.height, {min: -1000, max: 1000}), (height) => changeThing({height: height ?? 0}))
      : field("mark-name", "Name", textInput(one.name), rename),
    ...(what === "spots" ? [field("mark-lie", "Lie", selectInput(one.lie, [["", "what is drawn there"], ...titled(KINDS.filter((kind) => kind.inPlay))]), (lie) => changeThing({lie}))] : []),
    field("mark-x", `To the right, ${unit()}`, numberInput(one.at[0], limits), at(0)),
    field("mark-y", `Up the hole, ${unit()}`, numberInput(one.at[1], limits), at(1)),
  ];
}

/** Tell how far what is chosen lies from the first tee. */
function farWords() {
  const tee = hole().tees[0], one = thing();
  if (!tee || (state.chosen.what === "tees" && state.chosen.i === 0)) return "";
  if (one.at) return `${whole(between(tee.at, one.at))} ${unit()} from ${tee.name} tee.`;
  const ring = state.chosen.what === "areas" ? drawn(one).rings[0] : one, closed = isRing();
  if (state.chosen.what === "line") return `${whole(ring.slice(1).reduce((sum, at, k) => sum + between(ring[k], at), 0))} ${unit()} long.`;
  const near = covers([ring], tee.at) ? 0 : between(tee.at, nearestOnRing(tee.at, ring, closed));
  return `From ${tee.name} tee: nearest ${whole(near)}, farthest ${whole(Math.max(...ring.map((at) => between(tee.at, at))))} ${unit()}.`;
}

function chosenPanel() {
  const box = $("chosen"), one = thing();
  show("chosen", Boolean(one));
  if (!one) return box.replaceChildren();
  const {what, i} = state.chosen, fields = what === "areas" ? areaFields(one) : one.at ? markFields(state.chosen, one) : [];
  const buttons = [];
  if (what === "areas") {
    buttons.push(button("copy", "Copy", () => {
      const by = ([x, y]) => rounded([x + 24 * state.view.u, y]);
      choose({what, i: hole().areas.length});
      changeHole({areas: [...hole().areas, {...one, outline: one.outline.map(by), inner: one.inner.map((ring) => ring.map(by))}]});
    }), button("ring", "Cut a hole in it", () => { state.corner = null; setTool("inner"); }));
  }
  if ((what === "tees" || what === "pins") && i > 0) {
    buttons.push(button("first", "Make it the first", () => {
      choose({what, i: 0});
      changeHole({[what]: [one, ...without(hole()[what], i)]});
    }));
  }
  if (state.corner) buttons.push(button("delete-point", "Delete the point", remove));
  buttons.push(button("delete", "Delete", () => { state.corner = null; remove(); }));
  const far = farWords();
  return box.replaceChildren(
    node("h2", {}, titleOf(state.chosen)), ...(far ? [node("p", {class: "small"}, far)] : []),
    node("div", {class: "fields"}, ...fields), node("div", {class: "row"}, ...buttons),
  );
}

/** Return a swatch of a kind of ground. */
function swatch(kind, size = 18) {
  const svg = document.createElementNS(SVG, "svg");
  for (const [key, value] of Object.entries({width: size, height: size, "aria-hidden": "true"})) svg.setAttribute(key, value);
  shape("rect", {width: size, height: size, fill: kind.fill, stroke: kind.edge, "stroke-width": 2}, svg);
  if (kind.hatch) shape("rect", {width: size, height: size, fill: `url(#swatch-${CODE.get(kind.name)})`}, svg);
  return svg;
}

function thingsPanel() {
  const list = [
    ...hole().areas.map((_, i) => ({what: "areas", i})), ...MARKS.flatMap((what) => hole()[what].map((_, i) => ({what, i}))),
    ...["line", "boundary"].filter((what) => hole()[what].length).map((what) => ({what, i: 0})),
  ];
  show("things-title", list.length > 0);
  $("things").replaceChildren(...list.map((at) => {
    const on = state.chosen?.what === at.what && state.chosen.i === at.i;
    const made = button(`thing-${at.what}-${at.i}`, "", () => {
      setTool("choose");
      choose(at);
      bringIn(thing().at || bounds(ringsOf().flat()));
      refresh();
      setTimeout(() => $("chosen").scrollIntoView({block: "nearest"}), 0);
    });
    made.setAttribute("aria-pressed", on);
    if (at.what === "areas") made.append(swatch(kindOf(thing(at).kind)));
    made.append(node("span", {}, titleOf(at)));
    return node("li", {}, made);
  }));
}

/** Move the map so that a place or a box is seen, and nearer to a small one. */
function bringIn(box) {
  const [left, low, right, high] = box.length === 2 ? [...box, ...box] : box, {u} = state.view, [wide, tall] = state.size;
  const fit = Math.max((right - left) / (wide - 60), (high - low) / (tall - 60), 0.02);
  if (box.length === 4 && fit < u / 6) return look({x: (left + right) / 2, y: (low + high) / 2, u: 2.5 * fit});
  if (inView([left, low], 0) && inView([right, high], 0)) return null;
  return look({x: (left + right) / 2, y: (low + high) / 2, u: Math.max(u, fit)});
}

function picturePanel() {
  const {place, tied} = state.doc, one = hole(), has = Boolean(state.bitmap && place), use = (tool) => () => { setTool(tool); $("map").focus({preventScroll: true}); };
  const stepOf = (done, title, words, ...buttons) => node("li", {class: done ? "done" : ""}, node("div", {}, node("b", {}, title), node("span", {class: "small quiet"}, words), node("div", {class: "row"}, ...buttons)));
  const off = (made, on) => { made.disabled = !on; return made; };
  const steps = [stepOf(has, "Picture", has ? `${place.file}, ${place.width} × ${place.height} pixels` : place ? `Choose ${place.file} again: it isn't kept here.` : "Choose one, or drop it on this page.", button("picture-choose", has ? "Another picture" : "Choose a picture", () => $("picture-file").click()))];
  if (tied) {
    const far = place && Math.hypot(place.a, place.b);
    steps.push(
      stepOf(has && place.scaled, "Scale", has && place.scaled ? `A pixel is ${number(far, 3)} ${unit()}.` : "Two points, and how far apart they are: a scale bar, a known carry, a pitch.", off(button("set-scale", "Tap two points", use("scale")), has)),
      stepOf(has && place.tee, "Tee", "The middle of the usual tee becomes [0, 0].", off(button("set-tee", "Tap the tee", use("origin")), has)),
      stepOf(has && place.ahead, "Direction", "Up the page is the way that the hole goes.", off(button("set-ahead", "Tap the green", use("ahead")), has && place.tee)),
    );
  } else {
    steps.push(
      stepOf(has && place.tee, "Tee", "The picture comes to lie under what is drawn.", off(button("match-tee", "Tap the first tee", use("matchTee")), has && one.tees.length)),
      stepOf(has && place.ahead, "Pin", "This scales and turns the picture.", off(button("match-pin", "Tap the usual pin", use("matchPin")), has && one.pins.length && place.tee)),
    );
  }
  const words = one.bearing !== null ? `Straight up the hole is ${number(one.bearing, 1)}° by the compass.` : "If you know it: a wind by the compass needs it.";
  steps.push(stepOf(Boolean(has && one.bearing !== null), "North", words, off(button("north-up", "Up in the picture", () => setNorth([-place.b, place.a])), has), off(button("set-north", "Tap two points", use("north")), has)));
  if (has && place.ahead) steps.push(node("li", {}, node("div", {}, button("go-on", "Draw the hole", () => { setTab("draw"); setTool("areas"); }))));
  $("steps").replaceChildren(...steps);
  put("picture-hint", ["scale", "origin", "ahead", "north", "matchTee", "matchPin"].includes(state.tool) ? TOOLS[state.tool][1] : "");
  show("picture-more", has);
  show("scale-form", state.tool === "scale" && state.points.length === 2);
  $("tied").checked = tied;
  $("cover").value = state.cover;
}

function askScale() {
  show("scale-form", true);
  $("scale-unit").value = hole().units;
  $("scale-far").focus();
  $("scale-far").select();
}

function setScale() {
  const far = $("scale-far"), [from, to] = state.points;
  if (!far.value || !far.checkValidity() || !to || between(from, to) === 0) { far.reportValidity(); return; }
  const length = (Number(far.value) * DATA.perUnit[$("scale-unit").value]) / DATA.perUnit[hole().units];
  setTool("choose");
  move({a: length / between(from, to), about: hole().tees[0]?.at || from}, {scaled: true});
  say("The scale is set");
}

/** Change the units of all lengths; what is drawn stays as long as it is. */
function setUnits(units) {
  const one = hole(), k = DATA.perUnit[one.units] / DATA.perUnit[units], at = (place) => rounded([place[0] * k, place[1] * k]), {place} = state.doc;
  const marks = Object.fromEntries(MARKS.map((what) => [what, one[what].map((mark) => ({...mark, at: at(mark.at), ...(what === "heights" ? {height: tenth(mark.height * k)} : {})}))]));
  const areas = one.areas.map((area) => ({...area, outline: area.outline.map(at), inner: area.inner.map((ring) => ring.map(at)), height: area.height && tenth(area.height * k)}));
  change({
    hole: {...one, ...marks, areas, units, line: one.line.map(at), boundary: one.boundary.map(at)},
    place: place && {...place, a: place.a * k, b: place.b * k, x: place.x * k, y: place.y * k},
  });
  showAll();
}

function holePanel() {
  const one = hole(), part = DATA.format.properties, range = ({minimum, maximum}) => ({min: minimum, max: maximum});
  const wide = (made) => { made.classList.add("wide"); return made; };
  $("hole-fields").replaceChildren(
    wide(field("hole-name", "Name", textInput(one.name), (name) => changeHole({name}))),
    field("hole-par", "Par", numberInput(one.par, {...range(part.par), step: 1, required: true}), (par) => changeHole({par})),
    field("hole-index", "Stroke index", numberInput(one.stroke_index, {...range(part.stroke_index), step: 1}), (index) => changeHole({stroke_index: index})),
    field("hole-units", "Lengths in", selectInput(one.units, part.units.enum.map((each) => [each, each])), setUnits),
    field("hole-bearing", "Bearing, °", numberInput(one.bearing, range(part.bearing)), (bearing) => changeHole({bearing: bearing ?? null})),
    field("hole-surround", "Outside all areas", selectInput(one.surround, titled(KINDS.filter((kind) => kind.around))), (surround) => changeHole({surround})),
    wide(field("hole-rule", `Model Local Rule ${part.local_rules.items.const} in force`, node("input", {type: "checkbox", checked: one.local_rules.length > 0}), (on) => changeHole({local_rules: on ? [part.local_rules.items.const] : []}))),
    wide(field("hole-source", "Where the drawing comes from", textInput(one.source, {maxlength: part.source.maxLength, placeholder: "whose picture it is, and its licence"}), (source) => changeHole({source}))),
    ...(one.origin ? [wide(node("p", {class: "small quiet"}, `[0, 0] lies at ${number(one.origin.lat, 6)}° north, ${number(one.origin.lon, 6)}° east.`))] : []),
  );
}

function checkPanel() {
  const {faults} = state, count = faults.length, name = document.querySelector('[data-tab="check"]');
  name.replaceChildren("Check", ...(count ? [node("b", {}, ` ${count}`)] : []));
  put("check-words", count ? "What check would tell of this hole:" : "check finds no mistakes in this hole.");
  $("faults").replaceChildren(...faults.map((fault, i) => {
    const made = button(`fault-${i}`, "", () => {
      if (fault.thing) { setTool("choose"); choose(fault.thing); refresh(); }
      if (fault.at) look({x: fault.at[0], y: fault.at[1]});
      if (fault.where === "name") { setTab("hole"); $("hole-name").focus(); }
    });
    made.append(node("b", {}, fault.where), `expected ${fault.expected}, found ${fault.found}`);
    return node("li", {}, made);
  }));
}

function filePanel() {
  if (state.tab !== "file") return;
  show("lost", state.lost.length > 0);
  $("lost-list").replaceChildren(...state.lost.map((text) => node("li", {}, text)));
  put("kept-words", !state.keeps ? "This device keeps nothing between visits: save the file before you leave." : dirty() ? "Your work is kept on this device, and not yet saved as a file." : "Saved. Your work is kept on this device as well.");
  $("text").value = holeText(hole());
  if (document.activeElement !== $("file-name")) $("file-name").value = fileName();
  show("again", Boolean(DATA.opened || DATA.picture));
  put("next", `Then: simcaddie check ${fileName()}, and simcaddie draw ${fileName()}`);
}

const fileName = () => state.file || `${slug(hole().name)}.yaml`;

function drawPanel() {
  const held = document.activeElement, typed = held?.defaultValue !== undefined && held.value !== held.defaultValue ? held.value : null;
  put("title", hole().name || "Unnamed hole");
  document.title = `Trace ${hole().name || "a hole"}`;
  $("undo").disabled = !state.past.length && !state.points.length;
  $("redo").disabled = !state.future.length;
  for (const input of document.querySelectorAll("[name=tool], [name=kind]")) input.checked = input.value === state[input.name];
  show("kind-field", state.tool === "areas");
  show("smooth-field", state.tool === "areas");
  put("hint", TOOLS[state.tool][1]);
  $("map").dataset.tool = state.tool;
  chosenPanel();
  thingsPanel();
  picturePanel();
  holePanel();
  checkPanel();
  filePanel();
  const again = held?.id ? $(held.id) : null, next = state.next && $(state.next);
  state.next = "";
  if (next) { next.focus(); next.select(); return; }
  if (!again || again === held) return;
  if (typed !== null) again.value = typed; // what is being written stays
  again.focus({preventScroll: true});
}

let panelTimer = 0, checkTimer = 0, keepTimer = 0;
function drawPanelSoon() {
  clearTimeout(panelTimer);
  panelTimer = setTimeout(drawPanel, 0);
}

/** Draw everything anew; the panel once the focus has settled, faults once the hand rests. */
function refresh() {
  drawGround();
  drawOver();
  drawPanelSoon();
  clearTimeout(checkTimer);
  checkTimer = setTimeout(() => { state.faults = faultsOf(hole()); drawMarks(); checkPanel(); }, 120);
  clearTimeout(keepTimer);
  keepTimer = setTimeout(keep, 400);
}

function setTab(tab) {
  state.tab = tab;
  for (const one of document.querySelectorAll("#tabs button")) {
    if (one.dataset.tab === tab) one.setAttribute("aria-current", "page");
    else one.removeAttribute("aria-current");
    show(`at-${one.dataset.tab}`, one.dataset.tab === tab);
  }
  if (tab !== "draw" && DRAWS.has(state.tool) && !state.points.length) setTool("choose");
  filePanel();
}

// ─── Files, and what is kept ─────────────────────────────────────────────────────────────────────────────────────────

const dirty = () => hole() !== state.saved && !(isEmpty(hole()) && !hole().name);

function keep() {
  const {doc, file, lost, cover} = state;
  try {
    localStorage.setItem(STORE, JSON.stringify({schema: DATA.schema, doc, file, lost, cover, saved: !dirty()}));
    state.keeps = true;
  } catch { state.keeps = false; }
  filePanel();
}

function kept() {
  try {
    const found = JSON.parse(localStorage.getItem(STORE) || "null");
    if (found?.schema !== DATA.schema) return null;
    holeText(found.doc.hole);
    faultsOf(found.doc.hole);
    return found;
  } catch { return null; }
}

/** Ask, and return the answer given: one of `answers`, the last of them where it was left. */
function ask(title, content, answers) {
  const box = $("ask");
  put("ask-title", title);
  $("ask-text").replaceChildren(...content);
  return new Promise((resolve) => {
    $("ask-buttons").replaceChildren(...answers.map((answer, i) => {
      const made = button(`ask-${i}`, answer, () => { box.close(); resolve(answer); });
      if (!i) made.classList.add("go");
      return made;
    }));
    box.addEventListener("cancel", () => resolve(answers.at(-1)), {once: true});
    box.showModal();
  });
}

async function sureToLeave(what) {
  if (!dirty()) return true;
  const text = `${hole().name || "What is drawn"} isn't saved as a file. ${what}`;
  return (await ask("Not saved yet", [node("p", {}, text)], ["Go on without saving", "Back"])) !== "Back";
}

/** Put a hole in the place of what is drawn. */
function setHole(next, {file = "", lost = []} = {}) {
  choose(null);
  Object.assign(state, {file, lost, points: [], tool: "choose"});
  change({hole: next, tied: isEmpty(next)});
  state.saved = hole();
  showAll();
}

/** Return what of a file's text is lost when it is saved anew, in words, and the hole. */
function opened(text, comments = null) {
  const read = readYaml(text), {hole: found, lost} = holeOf(read.data, read.lines), lines = comments || read.comments;
  if (!(read.data instanceof Map)) throw new Unreadable(1, "a hole: lines of `key: value`", words(read.data));
  for (const {line, name} of read.doubled) lost.push(`\`${short(name, 40)}\` again in line ${line}: the first one counts`);
  if (!read.data.has("par")) lost.push(`no sound \`par\`: ${found.par} is assumed`);
  const rows = [...new Set(lines)].sort((a, b) => a - b);
  if (rows.length) lost.push(`${rows.length === 1 ? "a comment, line" : `${rows.length} comments, lines`} ${rows.slice(0, 12).join(", ")}${rows.length > 12 ? " …" : ""}`);
  const order = Object.keys(DATA.format.properties), keys = [...read.data.keys()].filter((key) => order.includes(key));
  if (keys.some((key, i) => i && order.indexOf(key) < order.indexOf(keys[i - 1]))) lost.push("the order of its keys, which are written in the usual one");
  return {hole: found, lost};
}

async function openText(text, file) {
  let read;
  try { read = opened(text); } catch (error) {
    if (!(error instanceof Unreadable)) throw error;
    return ask("That file can't be read", [node("p", {}, `${file}, ${error.message}.`)], ["Go on"]);
  }
  if (!(await sureToLeave(`Opening ${file} takes its place.`))) return null;
  setHole(read.hole, {file, lost: read.lost});
  if (!read.lost.length) return say(`${file} is opened`);
  return ask(`Opened ${file}`, [node("p", {}, "The page can't keep all of it. Lost when you save:"), node("ul", {class: "lost"}, ...read.lost.map((each) => node("li", {}, each)))], ["Go on"]);
}

async function save() {
  if (state.lost.length) {
    const list = node("ul", {class: "lost"}, ...state.lost.map((each) => node("li", {}, each)));
    if ((await ask("Lost in the new file", [node("p", {}, `As ${fileName()} was:`), list], ["Save", "Back"])) === "Back") return;
    state.lost = [];
  }
  const link = node("a", {href: URL.createObjectURL(new Blob([holeText(hole())], {type: "text/yaml"})), download: fileName()});
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
  state.saved = hole();
  keep();
  say(`${fileName()} is saved`);
}

function load(file) {
  if (/\.ya?ml$/i.test(file.name)) return file.text().then((text) => openText(text, file.name));
  return loadPicture(file, file.name);
}

function listenToPanel() {
  const radios = (id, name, rows, act) => $(id).replaceChildren(...rows.map(([value, title, picture]) => {
    const input = node("input", {type: "radio", name, value});
    input.addEventListener("change", () => act(value));
    return node("label", {class: "pill"}, input, node("span", {}, ...(picture ? [picture] : []), node("b", {}, title)));
  }));
  radios("tools", "tool", Object.entries(TOOLS).filter(([, [title]]) => title).map(([tool, [title]]) => [tool, title]), setTool);
  radios("kinds", "kind", KINDS.map((kind) => [kind.name, kind.title, swatch(kind, 24)]), (kind) => {
    state.kind = kind;
    $("smooth").checked = !kindOf(kind).level && !kindOf(kind).out;
    drawRubber();
  });
  const on = (id, act, event = "click") => $(id).addEventListener(event, act);
  on("undo", undo); on("redo", redo); on("save", save);
  on("nearer", () => zoom(0.7)); on("farther", () => zoom(1 / 0.7)); on("whole", () => showAll(true));
  on("close", closeUp); on("back", undo); on("stop", leave);
  on("smooth", drawRubber, "change");
  on("scale-done", setScale);
  on("scale-far", (event) => { if (event.key === "Enter") setScale(); }, "keydown");
  on("cover", () => { state.cover = Number($("cover").value); $("ground").style.setProperty("--cover", state.cover / 100); }, "input");
  on("tied", () => change({tied: $("tied").checked}), "change");
  on("picture-away", () => { state.bitmap = null; painted.clear(); store("readwrite", (box) => box.delete(STORE)); change({place: null}); });
  for (const id of ["picture-file", "hole-file"]) on(id, () => { if ($(id).files[0]) load($(id).files[0]); $(id).value = ""; }, "change");
  on("open", () => $("hole-file").click());
  on("fresh", async () => { if (await sureToLeave("A new hole takes its place.")) setHole(emptyHole()); });
  on("again", async () => { if (await sureToLeave("The file that this page was made from takes its place.")) begin(); });
  on("file-name", () => { const name = $("file-name").value.trim(); state.file = name && !/\.ya?ml$/i.test(name) ? `${name}.yaml` : name; keep(); filePanel(); }, "change");
  on("copy-text", () => { $("text").select(); (navigator.clipboard?.writeText($("text").value) ?? Promise.reject()).then(() => say("Copied"), () => document.execCommand("copy")); });
  $("scale-unit").replaceChildren(...Object.keys(DATA.perUnit).map((each) => node("option", {value: each}, each)));
  for (const one of document.querySelectorAll("#tabs button")) one.addEventListener("click", () => setTab(one.dataset.tab));
  document.addEventListener("keydown", onKey);
  document.addEventListener("keydown", onMapKey);
  addEventListener("beforeunload", (event) => { keep(); if (dirty()) event.preventDefault(); });
  addEventListener("pagehide", keep);
  addEventListener("dragover", (event) => { event.preventDefault(); $("map").classList.add("dropping"); });
  addEventListener("dragleave", (event) => { if (!event.relatedTarget) $("map").classList.remove("dropping"); });
  addEventListener("drop", (event) => { event.preventDefault(); $("map").classList.remove("dropping"); for (const file of event.dataTransfer.files) load(file); });
}

/** Begin with what the page was made from. */
async function begin() {
  if (DATA.opened) {
    const {hole: found, lost} = opened(DATA.opened.text, DATA.opened.comments);
    setHole(found, {file: DATA.opened.file, lost});
  } else setHole(emptyHole());
  if (DATA.picture) {
    const raw = Uint8Array.from(atob(DATA.picture.content), (sign) => sign.charCodeAt(0));
    await loadPicture(new Blob([raw], {type: DATA.picture.kind}), DATA.picture.file);
  }
  state.past = [];
  refresh();
}

async function start() {
  show("app", true);
  const swatches = shape("defs", {}, $("over"));
  for (const kind of KINDS) if (kind.hatch) texture(swatches, `swatch-${CODE.get(kind.name)}`, kind.hatch[0], kind.edge);
  put("caution", DATA.caution);
  listenToPanel();
  listenToMap();
  const found = kept();
  setTab(found || DATA.opened ? "draw" : "picture");
  if (!found) return begin();
  Object.assign(state, {doc: found.doc, file: found.file, lost: found.lost, cover: found.cover});
  if (found.saved) state.saved = hole();
  refresh();
  say("Your work of the last visit goes on");
  const picture = found.doc.place ? await store("readonly", (box) => box.get(STORE)) : null;
  if (picture) await loadPicture(picture.blob, picture.file, false);
  state.past = [];
  return refresh();
}

start();
})();
