import { plus, roundPoint } from '../model/geometry.js';
import { handLayouts } from '../model/hand.js';
import { buildingOf, treeOf } from '../model/around.js';
import { patchedAround } from './around.js';
import { patched } from './edit.js';
import { ridden } from './hand-layouts.js';
import { movedBuilding, movedKeepOut, movedTree } from './move-items.js';

/** @import {Doc, Item, Point} from '../model/types.js' */

/** The longest label a document may hold. */
const LABEL_MAX = 60;

/**
 * @param {{items: Item[], ids: string[], by: Point}} args one new ID for each item, and how far the copies lie from the originals
 * @returns {(doc: Doc) => Doc} copies at the end of their lists
 */
export function duplicateItems({ items, ids, by }) {
  return (doc) => {
    const planes = items.flatMap((item, i) => {
      const p = item.type === 'plane' && doc.planes.find((q) => q.id === item.id);
      if (!p) return [];
      return [{ ...p, id: ids[i], label: copyLabel(p.label), ring: p.ring.map((c) => roundPoint({ ...c, ...plus(c, by) })) }];
    });
    const keepOuts = items.flatMap((item, i) => {
      const k = item.type === 'keepout' && doc.keep_outs.find((q) => q.id === item.id);
      return k ? [{ ...movedKeepOut(k, by), id: ids[i], label: copyLabel(k.label) }] : [];
    });
    const trees = items.flatMap((item, i) => {
      const t = item.type === 'tree' && treeOf(doc, item.id);
      return t ? [{ ...movedTree(t, by), id: ids[i], label: copyLabel(t.label) }] : [];
    });
    const buildings = items.flatMap((item, i) => {
      const b = item.type === 'building' && buildingOf(doc, item.id);
      return b ? [{ ...movedBuilding(b, by), id: ids[i], label: copyLabel(b.label) }] : [];
    });
    if (planes.length + keepOuts.length + trees.length + buildings.length === 0) return doc;
    const sources = new Map(items.map((item, i) => [ids[i], item.id]));
    const hand = planes.flatMap((copy) => {
      const source = doc.planes.find((p) => p.id === sources.get(copy.id));
      return source ? handLayouts(doc).filter((l) => l.plane_id === source.id).map((l) => ridden(l, source, copy)) : [];
    });
    const copied = patched(doc, {
      planes: planes.length > 0 ? [...doc.planes, ...planes] : doc.planes,
      keep_outs: keepOuts.length > 0 ? [...doc.keep_outs, ...keepOuts] : doc.keep_outs,
      hand: hand.length > 0 ? [...handLayouts(doc), ...hand] : doc.hand,
    });
    return patchedAround(copied, (around) => ({
      trees: trees.length > 0 ? [...around.trees, ...trees] : around.trees,
      buildings: buildings.length > 0 ? [...around.buildings, ...buildings] : around.buildings,
    }));
  };
}

/** @param {string} label @returns {string} */
function copyLabel(label) {
  if (!label || label.endsWith(' copy')) return label;
  return `${label.slice(0, LABEL_MAX - 5)} copy`;
}
