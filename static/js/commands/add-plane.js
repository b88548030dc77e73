import { patched } from './edit.js';

/** @import {Doc, Plane} from '../model/types.js' */

/** @param {{plane: Plane}} args a new plane with an ID of its own @returns {(doc: Doc) => Doc} */
export function addPlane({ plane }) {
  return (doc) => patched(doc, { planes: [...doc.planes, plane] });
}
