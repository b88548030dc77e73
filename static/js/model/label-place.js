// Where a label finds room within an outline.

import { boundsOf, centroid, cornerAt, outlineDistanceM, pointInRing } from './geometry.js';

/** @import {Point} from './types.js' */

/** Scan lines tried each way for a label's place. */
const SCANS = 9;

/**
 * A place for a label: inside the ring and outside the holes, with room around
 * it. The centroid wins where it has nearly as much room as the best other
 * place found.
 * @param {Point[]} ring simple
 * @param {Point[][]} [holes] outlines that the label shall keep off
 * @returns {Point} the centroid when nothing is found
 */
export function labelPoint(ring, holes = []) {
  const mid = centroid(ring);
  let best = mid;
  let room = pointInRing(mid, ring) ? roomAroundM(mid, ring, holes) * 1.25 : 0;
  for (const p of scanMiddles(ring)) {
    const r = roomAroundM(p, ring, holes);
    if (r > room) [best, room] = [p, r];
  }
  return best;
}

/** @param {Point} p inside the ring @param {Point[]} ring @param {Point[][]} [holes] @returns {number} metres to the nearest outline, 0 within a hole */
export function roomAroundM(p, ring, holes = []) {
  if (holes.some((h) => pointInRing(p, h))) return 0;
  return Math.min(outlineDistanceM(p, ring), ...holes.map((h) => outlineDistanceM(p, h)));
}

/** @param {Point[]} ring @returns {Point[]} middles of what lies inside on lines across the ring, both ways */
function scanMiddles(ring) {
  const { min, max } = boundsOf(ring);
  const out = [];
  for (let i = 1; i <= SCANS; i++) {
    const y = min.y_m + ((max.y_m - min.y_m) * i) / (SCANS + 1);
    for (const x of insideMiddles(ring.map((p) => [p.x_m, p.y_m]), y)) out.push({ x_m: x, y_m: y });
    const x = min.x_m + ((max.x_m - min.x_m) * i) / (SCANS + 1);
    for (const v of insideMiddles(ring.map((p) => [p.y_m, p.x_m]), x)) out.push({ x_m: x, y_m: v });
  }
  return out;
}

/** @param {number[][]} ring pairs along and across @param {number} across of the line @returns {number[]} along of the middles */
function insideMiddles(ring, across) {
  const cuts = ring.flatMap(([s, t], i) => {
    const [s2, t2] = cornerAt(ring, i + 1);
    return t > across === t2 > across ? [] : [s + ((across - t) / (t2 - t)) * (s2 - s)];
  });
  cuts.sort((p, q) => p - q);
  return cuts.flatMap((c, i) => (i % 2 ? [(cuts[i - 1] + c) / 2] : []));
}
