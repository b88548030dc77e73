// Edits of single modules of one candidate on one plane. The first edit copies
// what is shown, so that the plane holds just these modules from then on.

import { frameOf, slopeToPlan, toSlope } from '../model/geometry.js';
import { handLayoutOf } from '../model/hand.js';
import { withHand } from './hand-layouts.js';

/** @import {Doc, HandModule} from '../model/types.js' */

/**
 * @typedef {object} HandKey
 * @property {string} candidateId
 * @property {string} planeId
 */
/**
 * @typedef {object} Shown
 * @property {HandModule[]} shown every module on the plane, the document's own first and in its order
 * @property {number[]} picked indices of shown
 */
/** @typedef {HandKey & Shown} Picked */

/** The most modules that a hand layout may list. */
export const HAND_MODULES_MAX = 2000;

/**
 * @param {Doc} doc
 * @param {Picked} args
 * @returns {{fill: boolean, modules: HandModule[], picked: HandModule[]}} the list to edit: that of the document where it
 *   is by hand or only its own modules are picked, else a copy of what is shown
 */
function opened(doc, { candidateId, planeId, shown, picked }) {
  const layout = handLayoutOf(doc, candidateId, planeId);
  const chosen = picked.map((i) => shown[i]);
  if (layout && (!layout.fill || chosen.every((m) => layout.modules.includes(m)))) return { fill: layout.fill, modules: layout.modules, picked: chosen };
  return { fill: false, modules: shown, picked: chosen };
}

/** @param {Doc} doc @param {HandKey} key @param {boolean} fill @param {HandModule[]} modules @returns {Doc} */
function holding(doc, key, fill, modules) {
  // A plane filled around nothing is as the engine sets it.
  if (fill && modules.length === 0) return withHand(doc, key, null);
  return withHand(doc, key, { candidate_id: key.candidateId, plane_id: key.planeId, fill, modules: modules.slice(0, HAND_MODULES_MAX) });
}

/**
 * Puts modules to new places. They come last in the list, so that where two
 * overlap it is the moved one that the evaluation refuses.
 * @param {Picked & {places: HandModule[]}} args one for each picked module
 * @returns {(doc: Doc) => Doc}
 */
export function placeModules({ places, ...args }) {
  return (doc) => {
    const { fill, modules, picked } = opened(doc, args);
    if (picked.length === 0 || picked.every((m, i) => m.x_m === places[i].x_m && m.y_m === places[i].y_m && m.turn === places[i].turn)) return doc;
    const moved = new Set(picked);
    return holding(doc, args, fill, [...modules.filter((m) => !moved.has(m)), ...places]);
  };
}

/**
 * @param {Picked & {by: {u_m: number, v_m: number}}} args metres along the eave to the right and up the slope
 * @returns {(doc: Doc) => Doc}
 */
export function moveModules({ by, ...args }) {
  return (doc) => {
    const plane = doc.planes.find((p) => p.id === args.planeId);
    if (!plane || (by.u_m === 0 && by.v_m === 0)) return doc;
    const frame = frameOf(plane);
    const places = args.picked.map((i) => {
      const { u_m, v_m } = toSlope(frame, args.shown[i]);
      return { ...args.shown[i], ...slopeToPlan(frame, { u_m: u_m + by.u_m, v_m: v_m + by.v_m }) };
    });
    return placeModules({ ...args, places })(doc);
  };
}

/** @param {HandKey & {shown: HandModule[], modules: HandModule[]}} args @returns {(doc: Doc) => Doc} the new ones come last */
export function addModules({ modules, ...args }) {
  return (doc) => {
    if (modules.length === 0) return doc;
    const list = [...opened(doc, { ...args, picked: [...args.shown.keys()] }).modules, ...modules];
    return holding(doc, args, false, list);
  };
}

/**
 * Takes modules away. Where the engine fills the rest, it would fill the place
 * again, so that the others stay as they are shown; modules that do not count
 * leave no place behind.
 * @param {Picked & {counted: boolean}} args counted: the roof allows at least one of them
 * @returns {(doc: Doc) => Doc}
 */
export function removeModules({ counted, ...args }) {
  return (doc) => {
    if (args.picked.length === 0) return doc;
    const layout = handLayoutOf(doc, args.candidateId, args.planeId);
    const gone = new Set(args.picked.map((i) => args.shown[i]));
    const fill = (layout?.fill ?? false) && !counted;
    const list = fill && layout ? layout.modules : opened(doc, { ...args, picked: [...args.shown.keys()] }).modules;
    return holding(doc, args, fill, list.filter((m) => !gone.has(m)));
  };
}

/** @param {Picked & {locked: boolean}} args @returns {(doc: Doc) => Doc} nothing moves */
export function lockModules({ locked, ...args }) {
  return (doc) => {
    const marked = new Set(args.picked.map((i) => args.shown[i]).filter((m) => m.locked !== locked));
    if (marked.size === 0) return doc;
    return holding(doc, args, false, args.shown.map((m) => (marked.has(m) ? { ...m, locked } : m)));
  };
}

/** @param {Picked} args modules that the roof does not allow @returns {(doc: Doc) => Doc} where the engine fills the rest they are no longer listed */
export function releaseModules(args) {
  return (doc) => {
    const layout = handLayoutOf(doc, args.candidateId, args.planeId);
    if (!layout?.fill) return lockModules({ ...args, locked: false })(doc);
    return removeModules({ ...args, counted: false })(doc);
  };
}

/** @param {HandKey} args @returns {(doc: Doc) => Doc} the engine sets modules around the locked ones; without any there is nothing to do */
export function fillRest(args) {
  return (doc) => {
    const layout = handLayoutOf(doc, args.candidateId, args.planeId);
    const locked = layout?.modules.filter((m) => m.locked) ?? [];
    if (!layout || layout.fill || locked.length === 0) return doc;
    return holding(doc, args, true, locked);
  };
}

/** @param {HandKey} args @returns {(doc: Doc) => Doc} the engine lays the plane out again */
export function backToAutomatic(args) {
  return (doc) => withHand(doc, args, null);
}

/** @param {Doc} doc @param {HandKey} key @param {number} count @returns {HandModule[]} the last ones listed: those that an edit just placed */
export function lastModules(doc, { candidateId, planeId }, count) {
  return handLayoutOf(doc, candidateId, planeId)?.modules.slice(-count) ?? [];
}

