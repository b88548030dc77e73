import { patched } from './edit.js';

/** @import {Doc, Wiring} from '../model/types.js' */

/** @param {{patch: Partial<Wiring>}} args @returns {(doc: Doc) => Doc} */
export function setWiring({ patch }) {
  return (doc) => patched(doc, { wiring: patched(doc.wiring, patch) });
}
