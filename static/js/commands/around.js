// What the edits of whatever stands around the house share.

import { aroundOf } from '../model/around.js';
import { patched } from './edit.js';

/** @import {Doc, Surroundings} from '../model/types.js' */

/**
 * @param {Doc} doc
 * @param {(around: Surroundings) => Partial<Surroundings>} change
 * @returns {Doc} doc itself when nothing changes
 */
export function patchedAround(doc, change) {
  const around = aroundOf(doc);
  const next = patched(around, change(around));
  return next === around ? doc : { ...doc, surroundings: next };
}
