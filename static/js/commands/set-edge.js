import { mapped, patched, withId } from './edit.js';

/** @import {Corner, Doc} from '../model/types.js' */

/** @param {{id: string, index: number, patch: Partial<Pick<Corner, 'edge'|'street'>>}} args kind of an edge ('' for the guess) and street side @returns {(doc: Doc) => Doc} */
export function setEdge({ id, index, patch }) {
  return (doc) =>
    patched(doc, {
      planes: withId(doc.planes, id, (p) =>
        patched(p, { ring: mapped(p.ring, (c, i) => (i === index ? patched(c, patch) : c)) }),
      ),
    });
}
