import { patched } from './edit.js';

/** @import {Doc, KeepOut} from '../model/types.js' */

/** @param {{keepOut: KeepOut}} args a new keep-out with an ID of its own @returns {(doc: Doc) => Doc} */
export function addKeepOut({ keepOut }) {
  return (doc) => patched(doc, { keep_outs: [...doc.keep_outs, keepOut] });
}
