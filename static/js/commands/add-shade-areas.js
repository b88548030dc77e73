import { newKeepOut } from '../model/defaults.js';
import { roundPoint } from '../model/geometry.js';
import { addKeepOut } from './add-keepout.js';

/** @import {Doc, ShadeArea} from '../model/types.js' */

/**
 * Proposed shade becomes keep-outs that no module may lie on.
 * @param {{areas: ShadeArea[]}} args
 * @returns {(doc: Doc) => Doc} the same document for none
 */
export function addShadeAreas({ areas }) {
  return (doc) =>
    areas.reduce((before, { ring }) => {
      const points = ring.map(({ x_m, y_m }) => roundPoint({ x_m, y_m }));
      return addKeepOut({ keepOut: { ...newKeepOut(before, 'shade', 'polygon'), points, shade: 'off_limits' } })(before);
    }, doc);
}
