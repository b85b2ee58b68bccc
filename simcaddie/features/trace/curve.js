// Outlines as course/outlines.py draws them out, and plane geometry on rings of [x, y].

/** Return a ring without repeated neighbours and without a closing point. */
function distinctRing(points) {
  const kept = [];
  for (const point of points) if (!kept.length || between(point, kept.at(-1)) > DATA.curve.same) kept.push(point);
  while (kept.length > 1 && between(kept[0], kept.at(-1)) <= DATA.curve.same) kept.pop();
  return kept;
}

/** Return the second derivatives of the periodic cubic spline at its points, one coordinate; steps of its parameter. */
function bends(values, steps) {
  const n = values.length, slope = values.map((value, i) => (values[(i + 1) % n] - value) / steps[i]);
  const before = (i) => (i + n - 1) % n;
  // cyclic and tridiagonal: two ordinary systems that differ by a corner (Sherman and Morrison)
  const corner = steps[n - 1];
  const middle = values.map((_, i) => 2 * (steps[before(i)] + steps[i]));
  const gamma = -middle[0];
  middle[0] -= gamma;
  middle[n - 1] -= (corner * corner) / gamma;
  const solve = (right) => {
    const upper = [], found = [];
    for (let i = 0; i < n; i += 1) {
      const low = i ? steps[i - 1] : 0, pivot = middle[i] - (i ? low * upper[i - 1] : 0);
      upper.push(steps[i] / pivot);
      found.push((right[i] - (i ? low * found[i - 1] : 0)) / pivot);
    }
    for (let i = n - 2; i >= 0; i -= 1) found[i] -= upper[i] * found[i + 1];
    return found;
  };
  const plain = solve(values.map((_, i) => 6 * (slope[i] - slope[before(i)])));
  const turned = solve(values.map((_, i) => (i === 0 ? gamma : i === n - 1 ? corner : 0)));
  const share = (plain[0] + (corner * plain[n - 1]) / gamma) / (1 + turned[0] + (corner * turned[n - 1]) / gamma);
  return plain.map((value, i) => value - share * turned[i]);
}

/** Return the closed smooth curve through points, drawn out; starts[i] is where point i of the ring stands in it. */
function smoothRing(points) {
  const ring = distinctRing(points), n = ring.length, drawn = [], starts = [];
  if (n < 3) return {drawn: ring, starts: ring.map((_, i) => i)};
  const steps = ring.map((point, i) => Math.sqrt(between(point, ring[(i + 1) % n])));
  const mx = bends(ring.map((point) => point[0]), steps), my = bends(ring.map((point) => point[1]), steps);
  for (let i = 0; i < n; i += 1) {
    const j = (i + 1) % n, h = steps[i];
    const most = Math.max(Math.hypot(mx[i], my[i]), Math.hypot(mx[j], my[j]));
    const parts = clamp(Math.ceil(Math.sqrt((h * h * most) / (8 * DATA.curve.tolerance)) - 1e-6), 1, DATA.curve.mostParts);
    starts.push(drawn.length);
    for (let k = 0; k < parts; k += 1) {
      const u = k / parts, v = 1 - u, sixth = (h * h) / 6, p = v ** 3 - v, q = u ** 3 - u;
      drawn.push([
        v * ring[i][0] + u * ring[j][0] + sixth * (p * mx[i] + q * mx[j]),
        v * ring[i][1] + u * ring[j][1] + sixth * (p * my[i] + q * my[j]),
      ]);
    }
  }
  return {drawn, starts};
}

/** Return left, low, right, high of points. */
function bounds(points) {
  const box = [Infinity, Infinity, -Infinity, -Infinity];
  for (const [x, y] of points) {
    if (x < box[0]) box[0] = x;
    if (y < box[1]) box[1] = y;
    if (x > box[2]) box[2] = x;
    if (y > box[3]) box[3] = y;
  }
  return box;
}

/** Return the point of the stretch from a to b that is nearest to p. */
function nearestOn(p, a, b) {
  const dx = b[0] - a[0], dy = b[1] - a[1], long = dx * dx + dy * dy;
  const t = long ? clamp(((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / long, 0, 1) : 0;
  return [a[0] + t * dx, a[1] + t * dy];
}

/** Tell whether rings cover a point, by the even-odd rule; their edges count. */
function covers(rings, p) {
  let odd = false;
  for (const ring of rings) {
    for (let i = 0, j = ring.length - 1; i < ring.length; j = i, i += 1) {
      const a = ring[i], b = ring[j];
      if (a[1] > p[1] !== b[1] > p[1] && p[0] < ((b[0] - a[0]) * (p[1] - a[1])) / (b[1] - a[1]) + a[0]) odd = !odd;
      if (between(p, nearestOn(p, a, b)) < 1e-9) return true;
    }
  }
  return odd;
}

const turn = (a, b, c) => (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);

/** Return where the stretches a–b and c–d meet, or null. */
function meeting(a, b, c, d) {
  if (Math.max(a[0], b[0]) < Math.min(c[0], d[0]) || Math.max(c[0], d[0]) < Math.min(a[0], b[0])) return null;
  if (Math.max(a[1], b[1]) < Math.min(c[1], d[1]) || Math.max(c[1], d[1]) < Math.min(a[1], b[1])) return null;
  const p = turn(a, b, c), q = turn(a, b, d), r = turn(c, d, a), s = turn(c, d, b);
  if ((p > 0 && q > 0) || (p < 0 && q < 0) || (r > 0 && s > 0) || (r < 0 && s < 0)) return null;
  if (p === 0 && q === 0) return [a, b].find((end) => between(end, nearestOn(end, c, d)) === 0) || c;
  const t = p / (p - q);
  return [c[0] + t * (d[0] - c[0]), c[1] + t * (d[1] - c[1])];
}

/** Call each(i, j) for every two edges of rings whose boxes overlap, swept from left to right; stops where it says so. */
function sweep(ring, other, each) {
  const edges = [];
  const add = (points, which) => points.forEach((a, i) => {
    const b = points[(i + 1) % points.length];
    edges.push({which, i, left: Math.min(a[0], b[0]), right: Math.max(a[0], b[0])});
  });
  add(ring, 0);
  if (other) add(other, 1);
  edges.sort((a, b) => a.left - b.left);
  let open = [];
  for (const edge of edges) {
    open = open.filter((one) => one.right >= edge.left);
    for (const one of open) {
      if (!other && each(one.i, edge.i)) return;
      if (other && one.which !== edge.which && (one.which ? each(edge.i, one.i) : each(one.i, edge.i))) return;
    }
    open.push(edge);
  }
}

/** Return where a ring crosses or touches itself, or null. */
function crossing(ring) {
  const n = ring.length, end = (i) => ring[(i + 1) % n];
  let found = null;
  sweep(ring, null, (i, j) => {
    const next = (i + 1) % n === j ? [i, j] : (j + 1) % n === i ? [j, i] : null;
    if (next) { // neighbours share a point; they must not fold back onto each other
      const [a, b, c] = [ring[next[0]], ring[next[1]], end(next[1])];
      const back = turn(a, b, c) === 0 && (b[0] - a[0]) * (c[0] - b[0]) + (b[1] - a[1]) * (c[1] - b[1]) < 0;
      if (back) found = b;
    } else {
      found = meeting(ring[i], end(i), ring[j], end(j));
    }
    return found !== null;
  });
  return found;
}

/** Tell whether two rings cross or touch. */
function touch(ring, other) {
  let met = false;
  sweep(ring, other, (i, j) => {
    met = meeting(ring[i], ring[(i + 1) % ring.length], other[j], other[(j + 1) % other.length]) !== null;
    return met;
  });
  return met;
}

/** Return the area that the convex hull of points encloses. */
function hullArea(points) {
  const sorted = [...points].sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  const half = (list) => {
    const kept = [];
    for (const p of list) {
      while (kept.length > 1 && turn(kept.at(-2), kept.at(-1), p) <= 0) kept.pop();
      kept.push(p);
    }
    return kept.slice(0, -1);
  };
  const hull = [...half(sorted), ...half(sorted.reverse())];
  return hull.reduce((sum, a, i) => sum + turn([0, 0], a, hull[(i + 1) % hull.length]), 0) / 2;
}
