// Packing as a set packing problem for a general solver: a yes-or-no variable
// for every position of a pattern, and for every point of the plane at most one
// module over it.

/** Clearance that a position may lack, metres; far below what a valid layout may. */
const TOL_M = 1e-7;

/**
 * Positions of normal patterns (Herz 1972; Christofides and Whitlock 1977), each
 * module pushed down and to the left until it rests: its lower side lies a sum of
 * module sides and gaps above a corner of the plane, its left side such a sum
 * beside a corner, or beside the start of a free stretch at that height, which is
 * where a slanted side or a hole stops it.
 * @param {{module: {w: number, h: number}, gap: number, region: {outer: number[][], holes: number[][][]}}} plane
 * @returns {{x: number, y: number, w: number, h: number}[]}
 */
export function normalPositions({ module: { w, h }, gap, region }) {
  const rings = [region.outer, ...region.holes].map(closedOnce);
  const corners = rings.flat();
  const top = Math.max(...corners.map((p) => p[1]));
  const right = Math.max(...corners.map((p) => p[0]));
  const turns = w === h ? [[w, h]] : [[w, h], [h, w]];
  const sums = (/** @type {number} */ room) => combinations(w + gap, h + gap, room);
  const ys = distinct(corners.flatMap((p) => sums(top - p[1]).map((s) => p[1] + s)));
  const xs = distinct(corners.flatMap((p) => sums(right - p[0]).map((s) => p[0] + s)));
  const out = [];
  for (const [mw, mh] of turns) {
    for (const y of ys) {
      for (const [from, to] of freeStretches(rings, y, mw, mh)) {
        const rested = sums(Math.min(to, right) - from).map((s) => from + s);
        const free = xs.filter((x) => x >= from && x <= to);
        for (const x of distinct([...rested, ...free])) out.push({ x, y, w: mw, h: mh });
      }
    }
  }
  return out;
}

/**
 * Sets of positions that share a point: those over a point where, going up and
 * then right, a module begins and the next event is the end of one. Any two
 * modules in each other's way are in one of them, since they share the point at
 * the greater of their left sides and the greater of their lower sides.
 * @param {{x: number, y: number, w: number, h: number}[]} positions
 * @param {number} gap
 * @returns {number[][]} indices of positions
 */
export function cliques(positions, gap) {
  const spanY = positions.map((p) => [p.y, p.y + p.h + gap - TOL_M]);
  const spanX = positions.map((p) => [p.x, p.x + p.w + gap - TOL_M]);
  const seen = new Set();
  const out = [];
  for (const row of maximalOverlaps(spanY, positions.map((_, i) => i))) {
    for (const set of maximalOverlaps(spanX, row)) {
      const key = set.join(',');
      if (set.length > 1 && !seen.has(key)) {
        seen.add(key);
        out.push(set);
      }
    }
  }
  return out;
}

/**
 * The sets of positions over each point of the pattern, as Beasley (1985) writes
 * the problem, equal ones once: the same modules exclude each other as in
 * {@link cliques}, in more rows.
 * @param {{x: number, y: number, w: number, h: number}[]} positions
 * @param {number} gap
 * @returns {number[][]} indices of positions
 */
export function points(positions, gap) {
  const xs = distinct(positions.map((p) => p.x));
  const ys = distinct(positions.map((p) => p.y));
  const seen = new Set();
  const out = [];
  for (const y of ys) {
    const row = positions.flatMap((p, i) => (p.y <= y + TOL_M && p.y + p.h + gap > y + 2 * TOL_M ? [i] : []));
    for (const x of xs) {
      const set = row.filter((i) => positions[i].x <= x + TOL_M && positions[i].x + positions[i].w + gap > x + 2 * TOL_M);
      const key = set.join(',');
      if (set.length < 2 || seen.has(key)) continue;
      seen.add(key);
      out.push(set);
    }
  }
  return out;
}

/**
 * @param {number[][]} spans
 * @param {number[]} among
 * @returns {number[][]} the largest sets of spans with a point in common, ascending
 */
function maximalOverlaps(spans, among) {
  const events = among.flatMap((i) => [{ at: spans[i][0], ends: false, i }, { at: spans[i][1], ends: true, i }]);
  events.sort((a, b) => a.at - b.at || Number(a.ends) - Number(b.ends));
  const open = new Set();
  const out = [];
  let grew = false;
  for (const { ends, i } of events) {
    if (ends && grew) out.push([...open].sort((a, b) => a - b));
    grew = !ends;
    if (ends) open.delete(i);
    else open.add(i);
  }
  return out;
}

/**
 * Where the left side of a w x h module may be when its lower side is at y.
 * @param {number[][][]} rings outline first, then holes
 * @returns {number[][]} closed stretches
 */
function freeStretches(rings, y, w, h) {
  const [low, high] = [y + TOL_M, y + h - TOL_M];
  const blocked = [];
  for (const ring of rings) {
    ring.forEach((a, i) => {
      const b = ring[(i + 1) % ring.length];
      if (Math.max(a[1], b[1]) <= low || Math.min(a[1], b[1]) >= high) return;
      const at = (/** @type {number} */ v) => (a[1] === b[1] ? [a[0], b[0]] : [a[0] + ((b[0] - a[0]) * (Math.min(Math.max(v, Math.min(a[1], b[1])), Math.max(a[1], b[1])) - a[1])) / (b[1] - a[1])]);
      const xs = [...at(low), ...at(high)];
      blocked.push([Math.min(...xs) - w + TOL_M, Math.max(...xs) - TOL_M]);
    });
  }
  blocked.sort((p, q) => p[0] - q[0]);
  const out = [];
  let from = -Infinity;
  for (const [a, b] of blocked) {
    if (a >= from && from > -Infinity && isFree(rings, (from + w / 2 + a + w / 2) / 2, y + h / 2)) out.push([from, a]);
    from = Math.max(from, b);
  }
  return out;
}

/** @returns {boolean} inside the outline and outside all holes */
function isFree([outline, ...holes], x, y) {
  return winds(outline, x, y) && !holes.some((hole) => winds(hole, x, y));
}

/** @returns {boolean} whether the ring goes round the point */
function winds(ring, x, y) {
  let n = 0;
  ring.forEach((a, i) => {
    const b = ring[(i + 1) % ring.length];
    if (a[1] > y === b[1] > y || a[0] + ((b[0] - a[0]) * (y - a[1])) / (b[1] - a[1]) <= x) return;
    n += b[1] > a[1] ? 1 : -1;
  });
  return n !== 0;
}

/** @returns {number[]} all i a + j b up to room, from 0 */
function combinations(a, b, room) {
  const out = [];
  for (let i = 0; i * a <= room + TOL_M; i++) for (let j = 0; i * a + j * b <= room + TOL_M; j++) out.push(i * a + j * b);
  return out;
}

/** @returns {number[]} ascending, those nearer than the tolerance taken as one */
function distinct(values) {
  return values.sort((a, b) => a - b).filter((v, i, all) => i === 0 || v - all[i - 1] > TOL_M);
}

/** @returns {number[][]} without a repeated closing point */
function closedOnce(ring) {
  const [first, last] = [ring[0], ring[ring.length - 1]];
  return first[0] === last[0] && first[1] === last[1] ? ring.slice(0, -1) : ring;
}
