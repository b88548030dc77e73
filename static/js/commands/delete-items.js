import { patchedAround } from './around.js';
import { idsOf, patched } from './edit.js';
import { withoutOrphans } from './hand-layouts.js';

/** @import {Doc, Item} from '../model/types.js' */

/** @param {{items: Item[]}} args @returns {(doc: Doc) => Doc} */
export function deleteItems({ items }) {
  /** @template {{id: string}} T @param {T[]} list @param {Set<string>} gone @returns {T[]} */
  const without = (list, gone) => (list.some((i) => gone.has(i.id)) ? list.filter((i) => !gone.has(i.id)) : list);
  return (doc) =>
    withoutOrphans(
      patchedAround(
        patched(doc, {
          planes: without(doc.planes, idsOf(items, 'plane')),
          keep_outs: without(doc.keep_outs, idsOf(items, 'keepout')),
        }),
        ({ trees, buildings }) => ({ trees: without(trees, idsOf(items, 'tree')), buildings: without(buildings, idsOf(items, 'building')) }),
      ),
    );
}
