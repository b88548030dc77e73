// The figures shown beside the pointer.

import { angleBetweenDeg, bearingDeg, distanceM, inRoofPlane, planeFrame, trueLengthM } from '../model/geometry.js';
import { formatBearing, formatLength } from '../model/units.js';

/** @import {Doc, KeepOut, Point, Tree} from '../model/types.js' */

/**
 * Plan length, true length and angle of the line being drawn.
 * @param {Doc} doc
 * @param {Point[]} points placed so far, at least one
 * @param {Point} next
 * @param {number|null} pitchDeg of the plane being drawn; null when lengths are only told in plan
 * @returns {string[]}
 */
export function lineLines(doc, points, next, pitchDeg) {
  const from = points[points.length - 1];
  const u = doc.site.units;
  const planM = distanceM(from, next);
  const lines = [`${formatLength(planM, u)} in plan`];
  if (pitchDeg !== null) lines.push(`${formatLength(lineTrueLengthM(points, next, pitchDeg), u)} in the roof`);
  if (points.length < 2) lines.push(planM > 0 ? `bearing ${formatBearing(bearingDeg(from, next))}` : '');
  else if (planM > 0) lines.push(`${cornerAngleDeg(points, next).toFixed(1)}° at the corner`);
  return lines.filter(Boolean);
}

/** @param {Point[]} points at least two @param {Point} next @returns {number} between the last edge and the line, 0 to 180 */
function cornerAngleDeg(points, next) {
  const [a, b] = points.slice(-2);
  return angleBetweenDeg(bearingDeg(b, a), bearingDeg(b, next));
}

/** @param {Point[]} points first edge is the eave @param {Point} next @param {number} pitchDeg @returns {number} the eave itself is level, so its true length is its plan length */
export function lineTrueLengthM(points, next, pitchDeg) {
  const from = points[points.length - 1];
  if (points.length < 2) return distanceM(from, next);
  return trueLengthM(planeFrame([points[0]], pitchDeg, bearingDeg(points[0], points[1]) + 90), from, next);
}

/** @param {Doc} doc @param {KeepOut} k @returns {string[]} its own measures */
export function sizeLines(doc, k) {
  const u = doc.site.units;
  const where = inRoofPlane(k) ? 'in the roof' : 'in plan';
  if (k.shape === 'circle') return [`${formatLength(2 * (k.radius_m ?? 0), u)} across, ${where}`];
  return [`${formatLength(k.width_m ?? 0, u)} × ${formatLength(k.depth_m ?? 0, u)} ${where}`];
}

/** @param {Doc} doc @param {Tree} tree @returns {string[]} */
export function crownLines(doc, { radius_m }) {
  return [`crown ${formatLength(2 * radius_m, doc.site.units)} across`];
}
