import { plus, roundPoint } from '../model/geometry.js';
import { patchedAround } from './around.js';
import { idsOf, mapped, patched } from './edit.js';
import { withModulesAlong } from './hand-layouts.js';

/** @import {Building, Doc, Item, KeepOut, Point, Tree} from '../model/types.js' */

/** @param {{items: Item[], by: Point}} args plan metres @returns {(doc: Doc) => Doc} */
export function moveItems({ items, by }) {
  const planes = idsOf(items, 'plane');
  const keepOuts = idsOf(items, 'keepout');
  const [treeIds, buildingIds] = [idsOf(items, 'tree'), idsOf(items, 'building')];
  return (doc) => {
    if (by.x_m === 0 && by.y_m === 0) return doc;
    const moved = patched(doc, {
      planes: mapped(doc.planes, (p) =>
        planes.has(p.id) ? { ...p, ring: p.ring.map((c) => roundPoint({ ...c, ...plus(c, by) })) } : p,
      ),
      keep_outs: mapped(doc.keep_outs, (k) => (keepOuts.has(k.id) ? movedKeepOut(k, by) : k)),
    });
    return patchedAround(withModulesAlong(doc, moved), ({ trees, buildings }) => ({
      trees: mapped(trees, (t) => (treeIds.has(t.id) ? movedTree(t, by) : t)),
      buildings: mapped(buildings, (b) => (buildingIds.has(b.id) ? movedBuilding(b, by) : b)),
    }));
  };
}

/** @param {Tree} tree @param {Point} by @returns {Tree} */
export function movedTree(tree, by) {
  return { ...tree, ...roundPoint(plus(tree, by)) };
}

/** @param {Building} building @param {Point} by @returns {Building} */
export function movedBuilding(building, by) {
  return { ...building, ring: building.ring.map((p) => roundPoint(plus(p, by))) };
}

/** @param {KeepOut} k @param {Point} by @returns {KeepOut} */
export function movedKeepOut(k, by) {
  if (k.points) return { ...k, points: k.points.map((p) => roundPoint(plus(p, by))) };
  return k.center ? { ...k, center: roundPoint(plus(k.center, by)) } : k;
}
