import { patched } from './edit.js';

/** @import {Cost, Doc} from '../model/types.js' */

/** @param {{patch: Partial<Cost>}} args @returns {(doc: Doc) => Doc} */
export function setCost({ patch }) {
  return (doc) => patched(doc, { cost: patched(doc.cost, patch) });
}
