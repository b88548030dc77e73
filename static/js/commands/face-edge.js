import { outwardBearingDeg, roundM } from '../model/geometry.js';
import { patched, withId } from './edit.js';

/** @import {Doc} from '../model/types.js' */

/** @param {{id: string, index: number}} args the edge that is the eave: the plane faces square out of it @returns {(doc: Doc) => Doc} */
export function faceEdge({ id, index }) {
  return (doc) =>
    patched(doc, {
      planes: withId(doc.planes, id, (p) =>
        p.ring[index] ? patched(p, { azimuth_deg: roundM(outwardBearingDeg(p.ring, index)) % 360 }) : p,
      ),
    });
}
