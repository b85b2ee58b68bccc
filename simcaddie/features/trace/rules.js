// What `check` finds wrong with a hole as a whole, in its words, and where. A hole here is what a file says, in its units:
// places are {name, at}, heights {at, height}; what a file leaves out is null, "" or [].

const KINDS = DATA.kinds;
const CODE = new Map(KINDS.map((kind, code) => [kind.name, code]));
const kindOf = (name) => KINDS[CODE.get(name)];
const canopy = KINDS.find((kind) => kind.canopy).name;
const putting = KINDS.find((kind) => kind.putting).name;
const outside = KINDS.find((kind) => kind.out);

/** Return a number in so many digits that count, as the program tells them. */
function general(value, digits = 6) {
  const rounded = Number(value.toPrecision(digits));
  if (rounded === 0) return Object.is(rounded, -0) ? "-0" : "0";
  const power = Math.floor(Math.log10(Math.abs(rounded)));
  if (power >= -4 && power < digits) return String(rounded);
  return rounded.toExponential().replace(/e([+-])(\d)$/, "e$10$2");
}

const short = (text, most) => ([...text].length <= most ? text : `${[...text].slice(0, most - 1).join("")}…`);
const filled = (text, what) => text.replace(/\{(\w+)\}/g, (_, key) => what[key]);
const point = (at, digits) => ({x: general(at[0], digits), y: general(at[1], digits)});

const drawnAreas = new WeakMap();
/**
 * Return an area drawn out: its rings, the outline first, their bounds, where its points stand in them, and the first
 * fault of its outlines, if any.
 */
function drawn(area) {
  let found = drawnAreas.get(area);
  if (found) return found;
  const curves = [area.outline, ...area.inner].map((ring) => {
    if (area.smooth) return smoothRing(ring);
    const plain = distinctRing(ring);
    return {drawn: plain, starts: plain.map((_, i) => i)};
  });
  const rings = curves.map((curve) => curve.drawn);
  found = {rings, starts: curves.map((curve) => curve.starts), box: bounds(rings[0])};
  drawnAreas.set(area, found);
  return found;
}

/** Return the rule that a ring of points breaks, with what it says there, or null. */
function ringFault(points, smooth) {
  const ring = distinctRing(points);
  if (ring.length < 3) return {rule: "points", what: {count: ring.length}, at: points[0]};
  if (hullArea(ring) < DATA.limits.area) return {rule: "flat", what: {}, at: ring[0]};
  let at = crossing(ring);
  if (at) return {rule: "crossing", what: point(at, 4), at};
  at = smooth ? crossing(smoothRing(ring).drawn) : null;
  return at ? {rule: "bent", what: point(at, 4), at} : null;
}

const areaFaults = new WeakMap();
/** Return the fault of an area's rings with the number of its ring, or null. */
function areaFault(area) {
  if (areaFaults.has(area)) return areaFaults.get(area);
  let found = null;
  [area.outline, ...area.inner].forEach((points, ring) => {
    const fault = found || ringFault(points, area.smooth);
    if (fault && !found) found = {...fault, ring};
  });
  const {rings} = drawn(area);
  for (let k = 1; k < rings.length && !found; k += 1) {
    const apart = rings.slice(0, k).every((other) => !touch(rings[k], other)) && covers([rings[0]], rings[k][0]) &&
      rings.slice(1, k).every((other) => !covers([other], rings[k][0]) && !covers([rings[k]], other[0]));
    if (!apart) found = {rule: "inner", what: {}, ring: k, at: area.inner[k - 1][0]};
  }
  areaFaults.set(area, found);
  return found;
}

/** Return the kind of ground at a place, and the name of its area; areas with a fault don't count. */
function groundAt(hole, at) {
  if (hole.boundary.length && !ringFault(hole.boundary, false) && !covers([hole.boundary], at)) return {kind: outside, name: ""};
  let best = null;
  for (const area of hole.areas) {
    const {rings, box} = drawn(area);
    if (at[0] < box[0] - 1e-9 || at[1] < box[1] - 1e-9 || at[0] > box[2] + 1e-9 || at[1] > box[3] + 1e-9) continue;
    if (best && CODE.get(area.kind) <= CODE.get(best.kind)) continue;
    if (!areaFault(area) && covers(rings, at)) best = area;
  }
  return best ? {kind: kindOf(best.kind), name: best.name} : {kind: kindOf(hole.surround), name: ""};
}

function placeWords(at, {kind, name}) {
  const ground = !name ? kind.title : name.includes(kind.title) ? name : `${kind.title} (${name})`;
  return filled(kind.out ? DATA.places.there : DATA.places.here, {...point(at), ground});
}

const areaWords = (area, i) => `no. ${i + 1} (${short(area.name || area.kind, 40)})`;

/** Return all faults of a hole: the words of `where`, what was expected and found, the place on the map, and the thing. */
function faultsOf(hole) {
  const found = [], unsure = new Set();
  const tell = (where, rule, what = {}, at = null, thing = null) => {
    const [expected, told] = DATA.rules[rule].map((text) => filled(text, what));
    found.push({where, expected, found: told, at, thing});
  };
  if (!hole.name.trim()) tell("name", "name", {text: hole.name});
  for (const what of ["tees", "pins"]) if (!hole[what].length) tell(what, "entries");
  hole.areas.forEach((area, i) => {
    const fault = areaFault(area), where = `areas > ${areaWords(area, i)}`, thing = {what: "areas", i};
    if (fault) {
      unsure.add(area.kind);
      const ring = fault.ring ? `inner > no. ${fault.ring}` : "outline";
      tell(`${where} > ${ring}`, fault.rule, fault.what, fault.at, thing);
    }
    const kind = kindOf(area.kind), at = area.outline[0];
    if (kind.penalty && !area.marking) tell(where, "marking", {title: kind.title}, at, thing);
    for (const [key, column] of Object.entries(DATA.owners)) {
      if (area[key] !== null && area[key] !== "" && !kind[column]) {
        tell(`${where} > ${key}`, `owner ${key}`, {kind: area.kind}, at, thing);
      }
    }
  });
  const edge = hole.boundary.length ? ringFault(hole.boundary, false) : null;
  if (edge) tell("boundary", edge.rule, edge.what, edge.at, {what: "boundary", i: 0});
  const sure = !unsure.has(putting);
  const grounds = (what) => hole[what].map((place, i) => ({...place, ...groundOf(hole, place.at), thing: {what, i}}));
  if (sure && !hole.areas.some((area) => kindOf(area.kind).putting)) tell("areas", "greens");
  else if (sure) {
    for (const {name, at, kind, place, thing} of grounds("pins")) if (!kind.putting) tell(`pins > ${short(name, 60)}`, "pin", {place}, at, thing);
  }
  for (const {name, at, kind, place, thing} of grounds("tees")) if (!kind.stands) tell(`tees > ${short(name, 60)}`, "tee", {place}, at, thing);
  for (const {name, at, lie, kind, place, thing} of grounds("spots")) {
    if (!kind.inPlay) tell(`spots > ${short(name, 60)} > at`, "spot", {place}, at, thing);
    else if (lie && kind.putting !== kindOf(lie).putting && sure) {
      tell(`spots > ${short(name, 60)} > lie`, "lie", {lie, title: kind.title}, at, thing);
    }
  }
  const seen = new Map();
  hole.heights.forEach(({at}, i) => {
    const key = at.join();
    if (seen.has(key)) tell(`heights > no. ${i + 1}`, "height", {first: seen.get(key) + 1}, at, {what: "heights", i});
    else seen.set(key, i);
  });
  tellSize(hole, edge, tell);
  const corners = new Set(hole.line.map((at) => at.join())).size;
  if (hole.line.length && corners < 2) tell("line", "line", {count: corners}, hole.line[0], {what: "line", i: 0});
  return found;
}

function groundOf(hole, at) {
  const ground = groundAt(hole, at);
  return {kind: ground.kind, place: placeWords(at, ground)};
}

/** Tell where so much ground is drawn that the program can't work it out. */
function tellSize(hole, edge, tell) {
  const scale = DATA.perUnit[hole.units], boxes = [], starts = [...hole.tees, ...hole.pins].map((place) => place.at);
  const add = (where, box, thing) => boxes.push({where, thing, box: box.map((value) => value * scale), at: box.slice(0, 2)});
  hole.areas.forEach((area, i) => { if (!areaFault(area)) add(`areas > ${areaWords(area, i)}`, drawn(area).box, {what: "areas", i}); });
  if (hole.boundary.length && !edge) add("boundary", bounds(hole.boundary), {what: "boundary", i: 0});
  for (const what of ["tees", "pins", "spots"]) {
    hole[what].forEach(({name, at}, i) => add(`${what} > ${short(name, 60)}`, [...at, ...at], {what, i}));
  }
  if (!starts.length) return;
  const [left, low, right, high] = bounds(boxes.flatMap(({box}) => [box.slice(0, 2), box.slice(2)]));
  if (Math.max(right - left, high - low) > DATA.limits.size) {
    const middle = [0, 1].map((k) => (starts.reduce((sum, at) => sum + at[k], 0) / starts.length) * scale);
    const off = ({box}) => Math.max(...box.map((value, k) => Math.abs(value - middle[k % 2])));
    const worst = boxes.reduce((a, b) => (off(b) > off(a) ? b : a));
    tell(worst.where, "size", {wide: (right - left).toFixed(0), tall: (high - low).toFixed(0)}, worst.at, worst.thing);
  }
  const span = boxes.reduce((sum, {box}) => sum + (box[2] - box[0]) * (box[3] - box[1]), 0);
  if (span > DATA.limits.span) tell("areas", "span", {span: general(span / 1e6, 3)});
}
