import { SAME_CORNER_M, distanceM, plus, roundPoint } from '../model/geometry.js';
import { patchedAround } from './around.js';
import { mapped, patched } from './edit.js';

/** @import {Doc, Point, Plane} from '../model/types.js' */
/** @typedef {{type: import('../model/types.js').Item['type'], id: string, index: number}} CornerRef */

/**
 * Moves corners of planes, polygon keep-outs and buildings by one step. Corners of
 * other planes on the same spot go along, so that ridges stay closed; `alone`
 * leaves them.
 * @param {{corners: CornerRef[], by: Point, alone?: boolean}} args
 * @returns {(doc: Doc) => Doc}
 */
export function moveCorners({ corners, by, alone = false }) {
  return (doc) => {
    if (by.x_m === 0 && by.y_m === 0) return doc;
    const named = new Set(corners.map((c) => `${c.type} ${c.id} ${c.index}`));
    const spots = alone ? [] : corners.flatMap((c) => spotOf(doc.planes, c));
    /** @param {Point} p */
    const shared = (p) => spots.some((s) => distanceM(s, p) <= SAME_CORNER_M);
    const moved = patched(doc, {
      planes: mapped(doc.planes, (plane) => {
        const ring = mapped(plane.ring, (c, i) =>
          named.has(`plane ${plane.id} ${i}`) || shared(c) ? roundPoint({ ...c, ...plus(c, by) }) : c,
        );
        return patched(plane, { ring });
      }),
      keep_outs: mapped(doc.keep_outs, (k) => {
        if (!k.points) return k;
        const points = mapped(k.points, (p, i) => (named.has(`keepout ${k.id} ${i}`) ? roundPoint(plus(p, by)) : p));
        return patched(k, { points });
      }),
    });
    return patchedAround(moved, ({ buildings }) => ({
      buildings: mapped(buildings, (b) => patched(b, { ring: mapped(b.ring, (p, i) => (named.has(`building ${b.id} ${i}`) ? roundPoint(plus(p, by)) : p)) })),
    }));
  };
}

/** @param {Plane[]} planes @param {CornerRef} ref @returns {Point[]} where a plane's corner is; none for keep-outs */
function spotOf(planes, ref) {
  const c = ref.type === 'plane' ? planes.find((p) => p.id === ref.id)?.ring[ref.index] : undefined;
  return c ? [c] : [];
}
