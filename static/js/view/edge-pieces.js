// The pieces of a plane's outline with the kind of each: from the evaluation
// where there is one, laid onto the outline as it is drawn now.

import { angleBetweenDeg, cornerAt, midpoint, minus, nearestOnSegment, outwardBearingDeg, plus } from '../model/geometry.js';

/** @import {Doc, Plane, Point, Result} from '../model/types.js' */

/** @typedef {{index: number, from: Point, to: Point, kind: string}} EdgePiece kind '' when nothing is known */

/** An edge that faces nearly the way the plane falls is its eave, until the evaluation says. */
const EAVE_WITHIN_DEG = 15;

/**
 * @param {Plane} plane
 * @param {Result|null} result
 * @param {Doc|null} resultOf the document of the result, which may be older
 * @returns {EdgePiece[]} in ring order
 */
export function edgePieces(plane, result, resultOf) {
  const known = result?.planes.find((p) => p.id === plane.id);
  const was = resultOf?.planes.find((p) => p.id === plane.id);
  const usable = known && was && was.ring.length === plane.ring.length;
  return plane.ring.flatMap((a, index) => {
    const b = cornerAt(plane.ring, index + 1);
    const pieces = usable ? known.edges.filter((e) => e.index === index) : [];
    if (!usable || pieces.length === 0) return [{ index, from: a, to: b, kind: a.edge || guess(plane, index) }];
    const [a0, b0] = [was.ring[index], cornerAt(was.ring, index + 1)];
    return pieces.map((e) => {
      const t = [e.from, e.to].map(([x_m, y_m]) => nearestOnSegment({ x_m, y_m }, a0, b0).t).sort((p, q) => p - q);
      const d = minus(b, a);
      return { index, from: plus(a, d, t[0]), to: plus(a, d, t[1]), kind: a.edge || e.kind };
    });
  });
}

/** @param {Plane} plane @param {number} i @returns {string} */
function guess(plane, i) {
  return angleBetweenDeg(outwardBearingDeg(plane.ring, i), plane.azimuth_deg) <= EAVE_WITHIN_DEG ? 'eave' : '';
}

/** @type {Record<string, string>} */
const WORDS = { party_wall: 'party wall' };

/** @param {string} kind @returns {string} for people */
export function kindWord(kind) {
  return WORDS[kind] ?? kind;
}

/** @param {EdgePiece} piece @returns {Point} */
export function pieceMiddle(piece) {
  return midpoint(piece.from, piece.to);
}
