// Questions about what is selected, answered from the state.

import { aroundItems, buildingOf, crownRing, treeOf } from './around.js';
import { cornerAt, footprint, keepOutAxes, plus } from './geometry.js';
import { modulesOn, samePlace } from './hand.js';
import { allItems } from './ids.js';
import { NOTHING } from './store.js';

/** @import {Doc, Item, KeepOut, ModulePlace, Plane, Point, Selection} from './types.js' */
/** @import {Standing} from './hand.js' */
/** @import {State} from './store.js' */

/** @param {Doc} doc @param {Item} item @returns {{label: string}|undefined} what the item stands for */
function thingOf(doc, { type, id }) {
  switch (type) {
    case 'plane': return doc.planes.find((p) => p.id === id);
    case 'keepout': return doc.keep_outs.find((k) => k.id === id);
    case 'tree': return treeOf(doc, id);
    case 'building': return buildingOf(doc, id);
  }
}

/** @param {Doc} doc @param {Item} item @returns {boolean} */
export function exists(doc, item) {
  return thingOf(doc, item) !== undefined;
}

/** What a shape without a name is called. */
const WORDS = Object.freeze({ plane: 'Plane', keepout: 'Keep-out', tree: 'Tree', building: 'Building' });

/** @param {Item} item @returns {string} within a sentence */
export function itemWord({ type }) {
  return WORDS[type].toLowerCase();
}

/** @param {Doc} doc @param {Item} item @returns {string} what to call it */
export function nameOf(doc, item) {
  return thingOf(doc, item)?.label || WORDS[item.type];
}

/**
 * What is selected in a document that may have lost some of it, as after undo.
 * @param {State} state
 * @returns {Selection}
 */
export function liveSelection({ doc, ui }) {
  const { items, corner, edge } = ui.selection;
  const live = items.filter((i) => exists(doc, i));
  if (live.length === 0) return NOTHING;
  const ring = live.length === 1 ? handlesOf(doc, live[0]) : [];
  /** @param {number|null} i */
  const kept = (i) => (i !== null && i < ring.length ? i : null);
  if (live.length === items.length && kept(corner) === corner && kept(edge) === edge) return ui.selection;
  return { items: live, corner: kept(corner), edge: kept(edge) };
}

/** @param {State} state @returns {Plane|null} the one selected plane */
export function selectedPlane(state) {
  const { items } = liveSelection(state);
  return items.length === 1 && items[0].type === 'plane' ? state.doc.planes.find((p) => p.id === items[0].id) ?? null : null;
}

/** @param {State} state @returns {KeepOut|null} the one selected keep-out */
export function selectedKeepOut(state) {
  const { items } = liveSelection(state);
  return items.length === 1 && items[0].type === 'keepout' ? state.doc.keep_outs.find((k) => k.id === items[0].id) ?? null : null;
}

/** @param {Doc} doc @param {Item} item @returns {Point[]} where its handles are */
export function handlesOf(doc, item) {
  if (item.type === 'tree') {
    const tree = treeOf(doc, item.id);
    return tree ? [{ x_m: tree.x_m + tree.radius_m, y_m: tree.y_m }] : [];
  }
  const k = item.type === 'keepout' ? doc.keep_outs.find((q) => q.id === item.id) : undefined;
  if (!k) return outlineOf(doc, item);
  if (k.shape === 'circle' && k.center) return [plus(k.center, keepOutAxes(doc, k).width, k.radius_m ?? 0)];
  return footprint(doc, k);
}

/**
 * The outline whose handles are shown: that of the one selected shape.
 * @param {State} state
 * @returns {{item: Item, ring: Point[], free: boolean}|null} free: corners can be put in and taken out
 */
export function selectedRing(state) {
  const { items } = liveSelection(state);
  if (items.length !== 1) return null;
  const [item] = items;
  return { item, ring: handlesOf(state.doc, item), free: item.type === 'plane' || item.type === 'building' || selectedKeepOut(state)?.shape === 'polygon' };
}

/** @param {Doc} doc @param {Item} item @returns {Point[]} its outline in plan */
export function outlineOf(doc, item) {
  switch (item.type) {
    case 'plane': return doc.planes.find((p) => p.id === item.id)?.ring ?? [];
    case 'building': return buildingOf(doc, item.id)?.ring ?? [];
    case 'tree': {
      const tree = treeOf(doc, item.id);
      return tree ? crownRing(tree) : [];
    }
    case 'keepout': {
      const k = doc.keep_outs.find((q) => q.id === item.id);
      return k ? footprint(doc, k) : [];
    }
  }
}

/** @param {State} state @returns {Item[]} what can be stepped through: the roof's shapes, or those around it */
export function workedOn({ doc, ui }) {
  return ui.around ? aroundItems(doc) : allItems(doc);
}

/** @param {State} state @param {1|-1} step @returns {Selection} the next or previous shape, round and round */
export function nextItem(state, step) {
  const all = workedOn(state);
  if (all.length === 0) return NOTHING;
  const { items } = liveSelection(state);
  const at = all.findIndex((i) => i.id === items[0]?.id && i.type === items[0]?.type);
  const next = at < 0 ? (step > 0 ? 0 : all.length - 1) : at + step;
  return { items: [cornerAt(all, next)], corner: null, edge: null };
}

/**
 * The next or previous part of the selected shape: corner 1, the edge that
 * leaves it, corner 2, and so on, round and round. Shapes of fixed form have
 * corners only.
 * @param {State} state
 * @param {1|-1} step
 * @returns {Selection|null} null when no one shape is selected
 */
export function nextPart(state, step) {
  const sel = selectedRing(state);
  if (!sel || sel.ring.length === 0) return null;
  const { corner, edge } = liveSelection(state);
  const parts = sel.free ? sel.ring.length * 2 : sel.ring.length;
  const at = corner !== null ? (sel.free ? corner * 2 : corner) : edge !== null ? edge * 2 + 1 : step > 0 ? -1 : 0;
  const next = (at + step + parts) % parts;
  const isEdge = sel.free && next % 2 === 1;
  const index = sel.free ? Math.floor(next / 2) : next;
  return { items: [sel.item], corner: isEdge ? null : index, edge: isEdge ? index : null };
}

/**
 * The plane whose modules are worked on, and which of them are selected.
 * @typedef {object} LivePicks
 * @property {Plane} plane
 * @property {Standing[]} modules all that stand on it
 * @property {number[]} picked indices of modules
 */

/** @param {State} state @returns {LivePicks|null} null while no plane's modules are worked on */
export function livePicks(state) {
  const { modules: picks } = state.ui.selection;
  const plane = picks && state.doc.planes.find((p) => p.id === picks.plane);
  if (!picks || !plane) return null;
  const modules = modulesOn(state, plane.id);
  const picked = picks.places.flatMap((place) => modules.findIndex((m) => samePlace(m.module, place))).filter((i) => i >= 0);
  return { plane, modules, picked: [...new Set(picked)] };
}

/** @param {string} plane @param {ModulePlace[]} places @returns {Selection} modules, and no shapes */
export function pickSelection(plane, places) {
  return { ...NOTHING, modules: { plane, places: places.map(({ x_m, y_m, turn }) => ({ x_m, y_m, turn })) } };
}
