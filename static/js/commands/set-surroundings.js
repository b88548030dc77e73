import { crownRadiusM, treeOf } from '../model/around.js';
import { patchedAround } from './around.js';
import { patched, withId } from './edit.js';

/** @import {Building, Doc, HorizonPoint, Point, Tree} from '../model/types.js' */

/** @param {{tree: Tree}} args a new tree with an ID of its own @returns {(doc: Doc) => Doc} */
export function addTree({ tree }) {
  return (doc) => patchedAround(doc, ({ trees }) => ({ trees: [...trees, tree] }));
}

/** @param {{building: Building}} args a new building with an ID of its own @returns {(doc: Doc) => Doc} */
export function addBuilding({ building }) {
  return (doc) => patchedAround(doc, ({ buildings }) => ({ buildings: [...buildings, building] }));
}

/** @param {{id: string, patch: Partial<Omit<Tree, 'id'>>}} args @returns {(doc: Doc) => Doc} */
export function setTree({ id, patch }) {
  return (doc) => patchedAround(doc, ({ trees }) => ({ trees: withId(trees, id, (t) => patched(t, patch)) }));
}

/** @param {{id: string, to: Point}} args the crown's rim comes to this place @returns {(doc: Doc) => Doc} */
export function resizeTree({ id, to }) {
  return (doc) => {
    const tree = treeOf(doc, id);
    return tree ? setTree({ id, patch: { radius_m: crownRadiusM(tree, to) } })(doc) : doc;
  };
}

/** @param {{id: string, patch: Partial<Omit<Building, 'id'>>}} args @returns {(doc: Doc) => Doc} */
export function setBuilding({ id, patch }) {
  return (doc) => patchedAround(doc, ({ buildings }) => ({ buildings: withId(buildings, id, (b) => patched(b, patch)) }));
}

/** @param {{horizon: HorizonPoint[]}} args rising bearings; none is a level horizon @returns {(doc: Doc) => Doc} */
export function setHorizon({ horizon }) {
  return (doc) => patchedAround(doc, (around) => (sameHorizon(around.horizon, horizon) ? {} : { horizon }));
}

/** @param {HorizonPoint[]} a @param {HorizonPoint[]} b @returns {boolean} */
function sameHorizon(a, b) {
  return a.length === b.length && a.every((p, i) => p.azimuth_deg === b[i].azimuth_deg && p.elevation_deg === b[i].elevation_deg);
}
