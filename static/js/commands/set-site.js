import { patched } from './edit.js';

/** @import {Doc, Site} from '../model/types.js' */

/** @param {{patch: Partial<Site>}} args @returns {(doc: Doc) => Doc} */
export function setSite({ patch }) {
  return (doc) => patched(doc, { site: patched(doc.site, patch) });
}
