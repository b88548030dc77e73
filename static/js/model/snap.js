// Snapping: candidates in, the best snap and its guide lines out. Distances
// are given in plan metres; a caller that thinks in pixels divides by the zoom.

import { aroundOf } from './around.js';
import { alongBearing, angleBetweenDeg, bearingDeg, cornerAt, cross, distanceM, dot, footprint, minus, nearestOnSegment, plus } from './geometry.js';

/** @import {Doc, Guide, Point} from './types.js' */

/**
 * @typedef {object} Targets
 * @property {Point[]} points corners to catch
 * @property {{a: Point, b: Point}[]} edges edges to catch, and to run parallel or square to; the ones that matter most last
 */
/**
 * @typedef {object} SnapQuery
 * @property {Point} at the pointer
 * @property {number} toleranceM
 * @property {Targets} targets
 * @property {Point|null} from where the line being drawn starts; null when nothing leads to the point
 * @property {{at: Point, why: string}|null} into a corner that the next line leads into, to reach it squarely; why is what to call that
 * @property {number[]} levelDeg bearings that count as level, such as the view's own axes
 * @property {number} stepM length of a drawn line is rounded to this where that stays within the tolerance; 0 for no rounding
 */
/**
 * @typedef {object} Snap
 * @property {Point} at
 * @property {'point'|'crossing'|'line'|'free'} kind
 * @property {string} word what was caught, for people; '' for nothing
 * @property {Guide[]} guides
 */
/** @typedef {{through: Point, dir: Point, why: string, rank: number, from: Point, to: Point|null}} Line dir has length 1; to ends a segment, null for an endless line */

/** A hand cannot choose between directions closer than this, so the first one stands for them. */
const TELL_APART_DEG = 2;
/** Beyond this many times the tolerance a crossing is no longer where the pointer points. */
const CROSSING_REACH = 1.5;

/** @param {SnapQuery} q @returns {Snap} */
export function snap(q) {
  const point = nearestPoint(q);
  if (point) return { at: point, kind: 'point', word: 'corner', guides: [] };
  const lines = linesNear(q);
  const crossing = nearestCrossing(q, lines);
  if (crossing) return crossing;
  const best = bestLine(q, lines);
  if (!best) return { at: q.at, kind: 'free', word: '', guides: [] };
  const at = stepped(q, best, project(q.at, best));
  return { at, kind: 'line', word: best.why, guides: [guideOf(best, at)] };
}

/** @param {SnapQuery} q @returns {Point|null} */
function nearestPoint(q) {
  let best = null;
  let least = q.toleranceM;
  for (const p of q.targets.points) {
    const d = distanceM(p, q.at);
    if (d <= least) [best, least] = [{ x_m: p.x_m, y_m: p.y_m }, d];
  }
  return best;
}

/** @param {SnapQuery} q @returns {Line[]} every line within the tolerance, each direction once */
function linesNear(q) {
  const lines = [...edgeLines(q), ...directionLines(q)];
  const near = lines.filter((l) => distanceM(q.at, project(q.at, l)) <= q.toleranceM);
  near.sort((a, b) => a.rank - b.rank);
  return near.filter((l, i) => !near.slice(0, i).some((k) => sameLine(k, l)));
}

/** @param {SnapQuery} q @returns {Line[]} the edges themselves and their extensions */
function edgeLines(q) {
  return q.targets.edges.flatMap(({ a, b }) => edgeLine(q, a, b));
}

/** @param {SnapQuery} q @param {Point} a @param {Point} b @returns {Line[]} none for a flat edge */
function edgeLine(q, a, b) {
    const dir = unit(minus(b, a));
    if (!dir) return [];
    const onEdge = nearestOnSegment(q.at, a, b).distanceM <= q.toleranceM;
    const nearer = distanceM(a, q.at) < distanceM(b, q.at) ? a : b;
    return onEdge
      ? [{ through: a, dir, why: 'on the edge', rank: 0, from: a, to: b }]
      : [{ through: a, dir, why: 'in line with an edge', rank: 2, from: nearer, to: null }];
}

/** @param {SnapQuery} q @returns {Line[]} square, parallel and level lines from the last corner and into the next */
function directionLines(q) {
  const lines = [];
  for (const { deg, word, rank } of directions(q)) {
    const dir = alongBearing(deg);
    if (q.from) lines.push({ through: q.from, dir, why: word, rank, from: q.from, to: null });
    if (q.into) lines.push({ through: q.into.at, dir, why: q.into.why, rank, from: q.into.at, to: null });
  }
  return lines;
}

/** @param {SnapQuery} q @returns {{deg: number, word: string, rank: number}[]} the edges listed last, which are those being drawn, come first */
function directions(q) {
  /** @type {{deg: number, word: string, rank: number}[]} */
  const out = [];
  /** @param {number} deg @param {string} word @param {number} rank */
  const add = (deg, word, rank) => {
    if (!out.some((o) => parallelDeg(o.deg, deg) < TELL_APART_DEG)) out.push({ deg, word, rank });
  };
  for (const { a, b } of [...q.targets.edges].reverse()) {
    if (distanceM(a, b) === 0) continue;
    const deg = bearingDeg(a, b);
    add(deg, 'parallel', 1);
    add(deg + 90, 'right angle', 1);
  }
  for (const deg of q.levelDeg) add(deg, 'level', 3);
  return out;
}

/** @param {number} a @param {number} b @returns {number} angle between two lines, 0 to 90 */
function parallelDeg(a, b) {
  const d = angleBetweenDeg(a, b);
  return Math.min(d, 180 - d);
}

/** @param {SnapQuery} q @param {Line[]} lines @returns {Snap|null} */
function nearestCrossing(q, lines) {
  let best = null;
  let least = q.toleranceM * CROSSING_REACH;
  for (let i = 0; i < lines.length; i++) {
    for (let j = i + 1; j < lines.length; j++) {
      const at = crossingOf(lines[i], lines[j]);
      if (!at || distanceM(at, q.at) > least) continue;
      least = distanceM(at, q.at);
      best = { at, pair: [lines[i], lines[j]] };
    }
  }
  if (!best) return null;
  const words = [...new Set(best.pair.map((l) => l.why))];
  return { at: best.at, kind: 'crossing', word: words.join(', '), guides: best.pair.map((l) => guideOf(l, best.at)) };
}

/** @param {Line} a @param {Line} b @returns {Point|null} null for lines too nearly parallel to cross at a telling place */
function crossingOf(a, b) {
  const s = cross(a.dir, b.dir);
  if (Math.abs(s) < 0.05) return null;
  return plus(a.through, a.dir, cross(minus(b.through, a.through), b.dir) / s);
}

/** @param {SnapQuery} q @param {Line[]} lines @returns {Line|null} nearest; at nearly the same distance the better kind */
function bestLine(q, lines) {
  let best = null;
  let least = Infinity;
  for (const l of lines) {
    const cost = distanceM(q.at, project(q.at, l)) + (l.rank * q.toleranceM) / 8;
    if (cost < least) [best, least] = [l, cost];
  }
  return best;
}

/** @param {SnapQuery} q @param {Line} line @param {Point} at @returns {Point} with a round length from the last corner where the line leads there */
function stepped(q, line, at) {
  if (!q.from || !q.stepM || line.from !== q.from || line.to) return at;
  const lengthM = dot(minus(at, q.from), line.dir);
  const round = Math.round(lengthM / q.stepM) * q.stepM;
  return Math.abs(round - lengthM) <= q.toleranceM && round !== 0 ? plus(q.from, line.dir, round) : at;
}

/** @param {Point} p @param {Line} l @returns {Point} */
function project(p, l) {
  return plus(l.through, l.dir, dot(minus(p, l.through), l.dir));
}

/** @param {Line} a @param {Line} b @returns {boolean} */
function sameLine(a, b) {
  return Math.abs(cross(a.dir, b.dir)) < 1e-6 && Math.abs(cross(minus(b.through, a.through), a.dir)) < 1e-6;
}

/** @param {Line} l @param {Point} at @returns {Guide} */
function guideOf(l, at) {
  return { from: l.from, to: l.to ?? at, why: l.why };
}

/** @param {Point} d @returns {Point|null} null for no length */
function unit(d) {
  const n = Math.hypot(d.x_m, d.y_m);
  return n === 0 ? null : { x_m: d.x_m / n, y_m: d.y_m / n };
}

/**
 * What the drawing offers to catch.
 * @param {Doc} doc
 * @param {{items?: Set<string>, corners?: Set<string>}} [moving] what moves and so cannot be caught: IDs of items, and 'ID index' of corners whose edges move
 * @returns {Targets}
 */
export function snapTargets(doc, moving = {}) {
  /** @type {Targets} */
  const targets = { points: [], edges: [] };
  /** @param {string} id @param {Point[]} ring */
  const addRing = (id, ring) => {
    if (moving.items?.has(id)) return;
    ring.forEach((p, i) => {
      const j = (i + 1) % ring.length;
      const still = !moving.corners?.has(`${id} ${i}`);
      if (still) targets.points.push(p);
      if (still && !moving.corners?.has(`${id} ${j}`)) targets.edges.push({ a: p, b: cornerAt(ring, j) });
    });
  };
  for (const p of doc.planes) addRing(p.id, p.ring);
  for (const k of doc.keep_outs) if (k.shape !== 'circle') addRing(k.id, footprint(doc, k));
  for (const b of aroundOf(doc).buildings) addRing(b.id, b.ring);
  return targets;
}
