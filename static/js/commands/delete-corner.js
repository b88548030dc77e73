import { patchedAround } from './around.js';
import { patched, spliced, withId } from './edit.js';

/** @import {Doc} from '../model/types.js' */

/**
 * Takes a corner out; the edge before it now reaches the corner after it.
 * @param {{type: import('../model/types.js').Item['type'], id: string, index: number}} args
 * @returns {(doc: Doc) => Doc} the same document when the outline has only three corners
 */
export function deleteCorner({ type, id, index }) {
  /** @template T @param {T[]} ring @returns {T[]} */
  const without = (ring) => (ring.length > 3 && ring[index] ? spliced(ring, index, 1) : ring);
  return (doc) => {
    const cut = patched(doc, {
      planes: withId(doc.planes, type === 'plane' ? id : '', (p) => patched(p, { ring: without(p.ring) })),
      keep_outs: withId(doc.keep_outs, type === 'keepout' ? id : '', (k) =>
        k.points ? patched(k, { points: without(k.points) }) : k,
      ),
    });
    return patchedAround(cut, ({ buildings }) => ({ buildings: withId(buildings, type === 'building' ? id : '', (b) => patched(b, { ring: without(b.ring) })) }));
  };
}
