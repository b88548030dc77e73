import { buildingOf } from '../model/around.js';
import { minus } from '../model/geometry.js';
import { moveCorners } from './move-corners.js';

/** @import {Doc, Point} from '../model/types.js' */
/** @import {CornerRef} from './move-corners.js' */

/**
 * Moves one corner to a place, with the corners of other planes on its spot
 * unless `alone`.
 * @param {CornerRef & {to: Point, alone?: boolean}} args
 * @returns {(doc: Doc) => Doc} the same document when there is no such corner
 */
export function moveCorner({ to, alone, ...ref }) {
  return (doc) => {
    const at =
      ref.type === 'plane'
        ? doc.planes.find((p) => p.id === ref.id)?.ring[ref.index]
        : ref.type === 'building'
          ? buildingOf(doc, ref.id)?.ring[ref.index]
          : doc.keep_outs.find((k) => k.id === ref.id)?.points?.[ref.index];
    return at ? moveCorners({ corners: [ref], by: minus(to, at), alone })(doc) : doc;
  };
}
