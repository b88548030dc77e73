import { corner, roundPoint } from '../model/geometry.js';
import { patchedAround } from './around.js';
import { patched, spliced, withId } from './edit.js';

/** @import {Doc, Point} from '../model/types.js' */

/**
 * Splits the edge that leaves corner `after`; both halves keep what was said
 * about the edge.
 * @param {{type: import('../model/types.js').Item['type'], id: string, after: number, at: Point}} args
 * @returns {(doc: Doc) => Doc} the same document when there is no such edge
 */
export function insertCorner({ type, id, after, at }) {
  const spot = roundPoint({ x_m: at.x_m, y_m: at.y_m });
  return (doc) => {
    const split = patched(doc, {
      planes: withId(doc.planes, type === 'plane' ? id : '', (p) => {
        const from = p.ring[after];
        if (!from) return p;
        return { ...p, ring: spliced(p.ring, after + 1, 0, { ...corner(spot), edge: from.edge, street: from.street }) };
      }),
      keep_outs: withId(doc.keep_outs, type === 'keepout' ? id : '', (k) =>
        k.points?.[after] ? { ...k, points: spliced(k.points, after + 1, 0, spot) } : k,
      ),
    });
    return patchedAround(split, ({ buildings }) => ({
      buildings: withId(buildings, type === 'building' ? id : '', (b) => (b.ring[after] ? { ...b, ring: spliced(b.ring, after + 1, 0, spot) } : b)),
    }));
  };
}
