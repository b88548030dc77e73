import { centroid, footprint, inRoofPlane, normDeg, planeUnder, ringAreaM2 } from '../model/geometry.js';
import { patched, withId } from './edit.js';

/** @import {Doc, KeepOut} from '../model/types.js' */

/**
 * Changes a keep-out and keeps it whole: `shade` follows the kind, a new shape
 * takes the place and size of the old one, and a rectangle keeps its direction
 * when its kind changes between plan and roof-plane measure.
 * @param {{id: string, patch: Partial<Omit<KeepOut, 'id'>>}} args
 * @returns {(doc: Doc) => Doc}
 */
export function setKeepOut({ id, patch }) {
  return (doc) => patched(doc, { keep_outs: withId(doc.keep_outs, id, (k) => whole(doc, k, patched(k, patch))) });
}

/** @param {Doc} doc @param {KeepOut} before @param {KeepOut} after @returns {KeepOut} */
function whole(doc, before, after) {
  if (after === before) return before;
  let k = after;
  if (k.shape !== before.shape) k = reshaped(doc, before, k);
  else if (k.shape === 'rect') k = redirected(doc, before, k);
  return patched(k, { shade: k.kind === 'shade' ? k.shade || 'last_resort' : '' });
}

/** @param {Doc} doc @param {KeepOut} before @param {KeepOut} k @returns {KeepOut} with the fields of its own shape only */
function reshaped(doc, before, k) {
  const outline = footprint(doc, before);
  const { id, label, kind, shape, clearance_m, height_m, shade } = k;
  const rest = { id, label, kind, shape, clearance_m, height_m, shade };
  if (shape === 'polygon') return { ...rest, points: k.points ?? outline };
  const center = k.center ?? centroid(outline);
  const sideM = Math.max(0.01, Math.round(Math.sqrt(ringAreaM2(outline)) * 1000) / 1000);
  if (shape === 'circle') return { ...rest, center, radius_m: k.radius_m ?? sideM / 2 };
  return { ...rest, center, width_m: k.width_m ?? sideM, depth_m: k.depth_m ?? sideM, turn_deg: k.turn_deg ?? 0 };
}

/** @param {Doc} doc @param {KeepOut} before @param {KeepOut} k @returns {KeepOut} */
function redirected(doc, before, k) {
  if (inRoofPlane(before) === inRoofPlane(k) || !k.center) return k;
  const plane = planeUnder(doc, k.center);
  if (!plane) return k;
  const upslope = plane.azimuth_deg + 180;
  return { ...k, turn_deg: normDeg((k.turn_deg ?? 0) + (inRoofPlane(k) ? -upslope : upslope)) };
}
