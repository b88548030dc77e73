// What the drawing tells of the building under the roof.

import { roundM } from './geometry.js';

/** @import {Doc, Plane, PlaneResult} from './types.js' */

/** Up to this pitch the mean roof height is that of the eave (ASCE 7 26.2, from memory). */
const EAVE_HEIGHT_TO_DEG = 10;

/**
 * Mean roof height: midway between the lowest eave and the highest ridge, or
 * the highest eave where no plane is steeper than 10 degrees.
 * @param {Doc} doc
 * @param {readonly PlaneResult[]} results of its planes
 * @returns {number|null} metres, null without planes or while they are not evaluated
 */
export function meanRoofHeightM(doc, results) {
  const ridges = results.filter((r) => doc.planes.some((p) => p.id === r.id)).map((r) => r.ridge_height_m);
  if (ridges.length === 0 || doc.planes.length === 0) return null;
  const eaves = doc.planes.map((p) => p.eave_height_m);
  if (doc.planes.every((p) => p.pitch_deg <= EAVE_HEIGHT_TO_DEG)) return roundM(Math.max(...eaves));
  return roundM((Math.min(...eaves) + Math.max(...ridges)) / 2);
}

/**
 * The smaller side of the smallest rectangle around all planes that lies
 * square to one of them.
 * @param {Doc} doc
 * @returns {number|null} metres in plan, null without planes
 */
export function roofWidthM(doc) {
  const boxes = doc.planes.map((p) => boxAlong(doc.planes, p.azimuth_deg));
  if (boxes.length === 0) return null;
  const least = boxes.reduce((a, b) => (b[0] * b[1] < a[0] * a[1] ? b : a));
  return roundM(Math.min(...least));
}

/** @param {readonly Plane[]} planes @param {number} bearingDeg @returns {[number, number]} sides of the box around them */
function boxAlong(planes, bearingDeg) {
  const a = (bearingDeg * Math.PI) / 180;
  const ring = planes.flatMap((p) => p.ring);
  const across = ring.map((p) => p.x_m * Math.cos(a) - p.y_m * Math.sin(a));
  const along = ring.map((p) => p.x_m * Math.sin(a) + p.y_m * Math.cos(a));
  return [Math.max(...across) - Math.min(...across), Math.max(...along) - Math.min(...along)];
}
