import { patched } from './edit.js';

/** @import {Distances, Doc, Rules} from '../model/types.js' */

/** @param {{patch?: Partial<Rules>, distances?: Partial<Distances>}} args distances are changed one by one @returns {(doc: Doc) => Doc} */
export function setRules({ patch = {}, distances = {} }) {
  return (doc) => {
    const rules = patched(doc.rules, patch);
    return patched(doc, { rules: patched(rules, { distances: patched(rules.distances, distances) }) });
  };
}
