// What an evaluation says of one candidate, read the same way by the drawing
// and by the panels.

/** @import {CandidateResult, Result} from './types.js' */

/** @param {CandidateResult} found @returns {boolean} whether the layout shown keeps the wider strip along the ridge */
export function isWidened({ size, ridge_widened }) {
  return size ? size.ridge_widened : ridge_widened;
}

/** @param {Result|null} result @returns {boolean} counted with the light on the roof, which then says what places are worth */
export function isLit(result) {
  return Boolean(result?.sunlight_key);
}
