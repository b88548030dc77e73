// Snapping of modules in the slope frame: to the gap beside and above another
// module, to the lines of rows and columns, and flush to where room ends. A
// snap is an offer; whether the place is allowed the evaluation says.

import { alongBearing, cornerAt, midpoint, outlineDistanceM, outwardBearingDeg, plus, pointInRing, toSlope } from './geometry.js';

/** @import {Plane, Rules, ZoneResult} from './types.js' */
/** @import {PlaneFrame, SlopePoint} from './geometry.js' */
/** @import {Box} from './hand.js' */

/** @typedef {{a: SlopePoint, b: SlopePoint}} Wall a piece of line where room for modules ends */
/** @typedef {{eaveM: number, slopeM: number, endM: number}} Gaps */
/**
 * @typedef {object} BoxQuery
 * @property {Box[]} moving before the move, at least one
 * @property {{u_m: number, v_m: number}} by where the pointer wants them
 * @property {Box[]} others
 * @property {Wall[]} walls
 * @property {Gaps} gaps
 * @property {number} toleranceM
 */
/** @typedef {{from: SlopePoint, to: SlopePoint, why: string}} SlopeGuide */
/** @typedef {{by: {u_m: number, v_m: number}, words: string[], guides: SlopeGuide[]}} BoxSnap */
/** @typedef {{shift: number, why: string, rank: number, guide: (by: {u_m: number, v_m: number}) => {from: SlopePoint, to: SlopePoint}}} Offer */

/** More modules than this are not all tried, so that a big block stays fluid. */
const MOVING_MAX = 40;
/** Two modules face each other when they share more than this along an edge. */
const FACING_M = 0.001;
/** Places without a snap are round to this. */
const STEP_M = 0.001;
/** Zones that modules may not enter. */
const CLOSED = new Set(['setback', 'path', 'keep_out', 'shade_off_limits']);

/** @param {Rules} rules @returns {Gaps} */
export function gapsOf(rules) {
  return { eaveM: rules.gap_eave_m, slopeM: rules.gap_slope_m, endM: rules.end_allowance_m };
}

/** @param {BoxQuery} q @returns {BoxSnap} */
export function snapBoxes(q) {
  const moving = q.moving.slice(0, MOVING_MAX);
  const up = nearest(moving.flatMap((m) => offersUp(q, m)), q.toleranceM);
  const half = { u_m: q.by.u_m, v_m: up ? q.by.v_m + up.shift : round(q.by.v_m, moving[0].v_m) };
  const along = nearest(moving.flatMap((m) => offersAlong(q, m, half.v_m)), q.toleranceM);
  const by = { u_m: along ? half.u_m + along.shift : round(half.u_m, moving[0].u_m), v_m: half.v_m };
  const found = [up, along].filter((o) => o !== null);
  return { by, words: [...new Set(found.map((o) => o.why))], guides: found.map((o) => ({ ...o.guide(by), why: o.why })) };
}

/** @param {number} by @param {number} from @returns {number} a move that ends at a round place */
function round(by, from) {
  return Math.round((from + by) / STEP_M) * STEP_M - from;
}

/** @param {Offer[]} offers @param {number} toleranceM @returns {Offer|null} nearest; at nearly the same distance the better kind */
function nearest(offers, toleranceM) {
  let best = null;
  let least = Infinity;
  for (const o of offers) {
    if (Math.abs(o.shift) > toleranceM) continue;
    const cost = Math.abs(o.shift) + (o.rank * toleranceM) / 4;
    if (cost < least) [best, least] = [o, cost];
  }
  return best;
}

/** @param {BoxQuery} q @param {Box} m @returns {Offer[]} up the slope */
function offersUp({ by, others, walls, gaps, toleranceM }, m) {
  const [u, v] = [m.u_m + by.u_m, m.v_m + by.v_m];
  /** @type {Offer[]} */
  const offers = [];
  for (const o of others) {
    const line = lineAlong(o, m);
    offers.push({ shift: o.v_m - v, why: 'in line with the row', rank: 0, guide: line(0) });
    if (o.h_m !== m.h_m) offers.push({ shift: o.v_m + o.h_m - m.h_m - v, why: 'in line with the row’s upper edge', rank: 1, guide: line(o.h_m) });
    if (!share(u, m.w_m, o.u_m, o.w_m, toleranceM)) continue;
    offers.push({ shift: o.v_m + o.h_m + gaps.slopeM - v, why: 'at the gap', rank: 0, guide: line(o.h_m) });
    offers.push({ shift: o.v_m - gaps.slopeM - m.h_m - v, why: 'at the gap', rank: 0, guide: line(0) });
  }
  for (const w of walls) {
    const span = clipped(w, 'u_m', u - gaps.endM, u + m.w_m + gaps.endM);
    if (!span) continue;
    /** @param {number} at @returns {Offer['guide']} */
    const wall = (at) => () => ({ from: { u_m: u, v_m: at }, to: { u_m: u + m.w_m, v_m: at } });
    offers.push({ shift: span.most - v, why: 'flush', rank: 0.5, guide: wall(span.most) });
    offers.push({ shift: span.least - m.h_m - v, why: 'flush', rank: 0.5, guide: wall(span.least) });
  }
  return offers;
}

/** @param {BoxQuery} q @param {Box} m @param {number} byV the move up that is settled @returns {Offer[]} along the eave */
function offersAlong({ by, others, walls, gaps }, m, byV) {
  const [u, v] = [m.u_m + by.u_m, m.v_m + byV];
  /** @type {Offer[]} */
  const offers = [];
  for (const o of others) {
    const line = lineUp(o, m);
    if (share(v, m.h_m, o.v_m, o.h_m, FACING_M)) {
      offers.push({ shift: o.u_m + o.w_m + gaps.eaveM - u, why: 'at the gap', rank: 0, guide: line(o.w_m) });
      offers.push({ shift: o.u_m - gaps.eaveM - m.w_m - u, why: 'at the gap', rank: 0, guide: line(0) });
      continue;
    }
    offers.push({ shift: o.u_m - u, why: 'in line with the column', rank: 1, guide: line(0) });
    if (o.w_m !== m.w_m) offers.push({ shift: o.u_m + o.w_m - m.w_m - u, why: 'in line with the column', rank: 1.5, guide: line(o.w_m) });
  }
  for (const w of walls) {
    const span = clipped(w, 'v_m', v, v + m.h_m);
    if (!span) continue;
    /** @param {number} at @returns {Offer['guide']} */
    const wall = (at) => () => ({ from: { u_m: at, v_m: v }, to: { u_m: at, v_m: v + m.h_m } });
    offers.push({ shift: span.most + gaps.endM - u, why: 'flush', rank: 0.5, guide: wall(span.most) });
    offers.push({ shift: span.least - gaps.endM - m.w_m - u, why: 'flush', rank: 0.5, guide: wall(span.least) });
  }
  return offers;
}

/** @param {Box} o @param {Box} m @returns {(up: number) => Offer['guide']} a line along the eave past both, at a height of o */
function lineAlong(o, m) {
  return (up) => (by) => {
    const u = m.u_m + by.u_m;
    const v_m = o.v_m + up;
    return { from: { u_m: Math.min(o.u_m, u), v_m }, to: { u_m: Math.max(o.u_m + o.w_m, u + m.w_m), v_m } };
  };
}

/** @param {Box} o @param {Box} m @returns {(along: number) => Offer['guide']} a line up the slope past both */
function lineUp(o, m) {
  return (along) => (by) => {
    const v = m.v_m + by.v_m;
    const u_m = o.u_m + along;
    return { from: { u_m, v_m: Math.min(o.v_m, v) }, to: { u_m, v_m: Math.max(o.v_m + o.h_m, v + m.h_m) } };
  };
}

/** @param {number} a @param {number} aLong @param {number} b @param {number} bLong @param {number} more @returns {boolean} the stretches share more than that */
function share(a, aLong, b, bLong, more) {
  return Math.min(a + aLong, b + bLong) - Math.max(a, b) > more;
}

/** @param {Wall} wall @param {'u_m'|'v_m'} axis @param {number} from @param {number} to @returns {{least: number, most: number}|null} what the wall covers of the other axis within a band; null where it only touches it */
function clipped({ a, b }, axis, from, to) {
  const other = axis === 'u_m' ? 'v_m' : 'u_m';
  const [low, high] = a[axis] <= b[axis] ? [a, b] : [b, a];
  const [s, t] = [Math.max(low[axis], from), Math.min(high[axis], to)];
  if (t - s <= FACING_M) return null;
  /** @param {number} x */
  const at = (x) => low[other] + ((high[other] - low[other]) * (x - low[axis])) / (high[axis] - low[axis]);
  return { least: Math.min(at(s), at(t)), most: Math.max(at(s), at(t)) };
}

/**
 * Where room ends on a plane: the borders of its closed zones, and its outline
 * where no zone lies along it.
 * @param {PlaneFrame} frame
 * @param {Plane} plane
 * @param {ZoneResult[]} zones as evaluated
 * @returns {Wall[]}
 */
export function wallsOf(frame, plane, zones) {
  const closed = zones.filter((z) => CLOSED.has(z.why)).map((z) => z.ring.map(([x_m, y_m]) => ({ x_m, y_m })));
  return [plane.ring, ...closed].flatMap((ring) =>
    ring.flatMap((p, i) => {
      const q = cornerAt(ring, i + 1);
      const mid = midpoint(p, q);
      const outline = ring === plane.ring;
      if (!outline && (!pointInRing(mid, plane.ring) || outlineDistanceM(mid, plane.ring) < FACING_M)) return [];
      // A zone along an edge of the outline begins on it: look a little inside.
      const at = outline ? plus(mid, alongBearing(outwardBearingDeg(ring, i)), -FACING_M) : mid;
      if (closed.some((z) => z !== ring && pointInRing(at, z))) return [];
      return [{ a: toSlope(frame, p), b: toSlope(frame, q) }];
    }),
  );
}
