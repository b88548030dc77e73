import { cornerAt, cross, footprint, inRoofPlane, keepOutAxes, midpoint, minus, roundM, roundPoint } from '../model/geometry.js';
import { patched, withId } from './edit.js';

/** @import {Doc, KeepOut, Point} from '../model/types.js' */

/** The smallest sides and radius that a document may hold. */
const MIN_SIDE_M = 0.01;
const MIN_RADIUS_M = 0.005;

/**
 * Draws a rectangle by one corner while the opposite corner stays, or a circle
 * by a point on its rim while the centre stays.
 * @param {{id: string, index: number, to: Point}} args index of the corner as `footprint` lists them; any for a circle
 * @returns {(doc: Doc) => Doc} polygons are left as they are
 */
export function resizeKeepOut({ id, index, to }) {
  return (doc) =>
    patched(doc, {
      keep_outs: withId(doc.keep_outs, id, (k) => {
        if (k.shape === 'rect') return patched(k, rectBetween(doc, k, cornerAt(footprint(doc, k), index + 2), to));
        if (k.shape === 'circle' && k.center) return patched(k, { radius_m: radiusTo(doc, k, to) });
        return k;
      }),
    });
}

/**
 * @param {Doc} doc
 * @param {KeepOut} k gives direction and kind
 * @param {Point} a a corner that stays
 * @param {Point} b the corner opposite
 * @returns {{center: Point, width_m: number, depth_m: number}}
 */
export function rectBetween(doc, k, a, b) {
  const { width, depth } = keepOutAxes(doc, k);
  const d = minus(b, a);
  const scale = cross(width, depth);
  return {
    center: roundPoint(midpoint(a, b)),
    width_m: Math.max(MIN_SIDE_M, roundM(Math.abs(cross(d, depth) / scale))),
    depth_m: Math.max(MIN_SIDE_M, roundM(Math.abs(cross(width, d) / scale))),
  };
}

/** @param {Doc} doc @param {KeepOut} k a circle with a centre @param {Point} to @returns {number} metres, in the roof plane for roof-plane kinds */
export function radiusTo(doc, k, to) {
  const { width, depth } = keepOutAxes(doc, k);
  const d = minus(to, k.center ?? to);
  const scale = cross(width, depth);
  const r = inRoofPlane(k) ? Math.hypot(cross(d, depth) / scale, cross(width, d) / scale) : Math.hypot(d.x_m, d.y_m);
  return Math.max(MIN_RADIUS_M, roundM(r));
}
