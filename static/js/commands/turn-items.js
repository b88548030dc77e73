import { inRoofPlane, normDeg, planeUnder, roundPoint, turnPoint } from '../model/geometry.js';
import { patchedAround } from './around.js';
import { idsOf, mapped, patched } from './edit.js';
import { withModulesAlong } from './hand-layouts.js';

/** @import {Doc, Item, KeepOut, Point} from '../model/types.js' */

/**
 * Turns planes with the bearings they face, keep-outs and what stands around clockwise seen from
 * above about one point. Turn every item to turn the whole roof.
 * @param {{items: Item[], deltaDeg: number, about: Point}} args
 * @returns {(doc: Doc) => Doc}
 */
export function turnItems({ items, deltaDeg, about }) {
  const planes = idsOf(items, 'plane');
  const keepOuts = idsOf(items, 'keepout');
  const [treeIds, buildingIds] = [idsOf(items, 'tree'), idsOf(items, 'building')];
  /** @param {Point} p */
  const round = ({ x_m, y_m }) => roundPoint(turnPoint({ x_m, y_m }, deltaDeg, about));
  return (doc) => {
    if (normDeg(deltaDeg) === 0) return doc;
    const turnedDoc = patched(doc, {
      planes: mapped(doc.planes, (p) => {
        if (!planes.has(p.id)) return p;
        const ring = p.ring.map((c) => roundPoint(turnPoint(c, deltaDeg, about)));
        return { ...p, ring, azimuth_deg: tidyDeg(p.azimuth_deg + deltaDeg) };
      }),
      keep_outs: mapped(doc.keep_outs, (k) =>
        keepOuts.has(k.id) ? turned(k, deltaDeg, about, ridesAlong(doc, k, planes)) : k,
      ),
    });
    return patchedAround(withModulesAlong(doc, turnedDoc), ({ trees, buildings }) => ({
      trees: mapped(trees, (t) => (treeIds.has(t.id) ? { ...t, ...round(t) } : t)),
      buildings: mapped(buildings, (b) => (buildingIds.has(b.id) ? { ...b, ring: b.ring.map(round) } : b)),
    }));
  };
}

/** @param {Doc} doc @param {KeepOut} k @param {Set<string>} planes @returns {boolean} its direction is told from a plane that turns too */
function ridesAlong(doc, k, planes) {
  const under = inRoofPlane(k) && k.center ? planeUnder(doc, k.center) : null;
  return under !== null && planes.has(under.id);
}

/** @param {KeepOut} k @param {number} deltaDeg @param {Point} about @param {boolean} rides @returns {KeepOut} */
function turned(k, deltaDeg, about, rides) {
  if (k.points) return { ...k, points: k.points.map((p) => roundPoint(turnPoint(p, deltaDeg, about))) };
  if (!k.center) return k;
  const center = roundPoint(turnPoint(k.center, deltaDeg, about));
  if (k.shape !== 'rect' || rides) return { ...k, center };
  return { ...k, center, turn_deg: tidyDeg((k.turn_deg ?? 0) + deltaDeg) };
}

/** @param {number} deg @returns {number} 0 <= a < 360 without the last digits that adding leaves */
function tidyDeg(deg) {
  return normDeg(Math.round(deg * 1e9) / 1e9);
}
