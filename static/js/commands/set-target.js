import { patched } from './edit.js';

/** @import {Doc, Target} from '../model/types.js' */

/** @param {{patch: Partial<Target>}} args @returns {(doc: Doc) => Doc} */
export function setTarget({ patch }) {
  return (doc) => patched(doc, { target: patched(doc.target, patch) });
}
