import { patched, withId } from './edit.js';

/** @import {Doc, Plane} from '../model/types.js' */

/** @param {{id: string, patch: Partial<Omit<Plane, 'id'>>}} args @returns {(doc: Doc) => Doc} */
export function setPlane({ id, patch }) {
  return (doc) => patched(doc, { planes: withId(doc.planes, id, (p) => patched(p, patch)) });
}
