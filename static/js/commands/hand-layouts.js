// Keeping the hand layouts in step with the planes and candidates they are for.

import { frameOf, slopeToPlan, toSlope } from '../model/geometry.js';
import { handLayoutOf, handLayouts } from '../model/hand.js';
import { mapped, patched } from './edit.js';

/** @import {Doc, HandLayout, Plane} from '../model/types.js' */

/**
 * @param {Doc} doc
 * @param {{candidateId: string, planeId: string}} key
 * @param {HandLayout|null} layout null takes it away
 * @returns {Doc}
 */
export function withHand(doc, { candidateId, planeId }, layout) {
  const old = handLayoutOf(doc, candidateId, planeId);
  const hand = handLayouts(doc);
  if (old === layout) return doc;
  if (!layout) return { ...doc, hand: hand.filter((l) => l !== old) };
  return { ...doc, hand: old ? mapped(hand, (l) => (l === old ? layout : l)) : [...hand, layout] };
}

/** @param {Doc} doc @returns {Doc} without hand layouts whose plane or candidate is gone */
export function withoutOrphans(doc) {
  const hand = handLayouts(doc);
  const kept = hand.filter((l) => doc.planes.some((p) => p.id === l.plane_id) && doc.candidates.some((c) => c.id === l.candidate_id));
  return kept.length === hand.length ? doc : { ...doc, hand: kept };
}

/**
 * Takes the modules along with planes that were moved or turned as a whole:
 * each keeps its place in the plane's own frame.
 * @param {Doc} before
 * @param {Doc} after
 * @returns {Doc}
 */
export function withModulesAlong(before, after) {
  if (before.planes === after.planes || handLayouts(after).length === 0) return after;
  return patched(after, {
    hand: mapped(handLayouts(after), (layout) => {
      const from = before.planes.find((p) => p.id === layout.plane_id);
      const to = after.planes.find((p) => p.id === layout.plane_id);
      return from && to && from !== to ? ridden(layout, from, to) : layout;
    }),
  });
}

/** @param {HandLayout} layout @param {Plane} from @param {Plane} to a copy that was moved or turned @returns {HandLayout} for the copy */
export function ridden(layout, from, to) {
  const [old, next] = [frameOf(from), frameOf(to)];
  return { ...layout, plane_id: to.id, modules: layout.modules.map((m) => ({ ...m, ...slopeToPlan(next, toSlope(old, m)) })) };
}
