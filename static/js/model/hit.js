// What lies under the pointer, told from the state alone so that it can be
// tested without a page. Distances are pixels on the board.

import { aroundOf, crownRing } from './around.js';
import { centroid, cornerAt, footprint, nearestOnSegment, outlineDistanceM, pointInRing, toPlan, toScreen, viewOf } from './geometry.js';
import { modulesOn } from './hand.js';
import { selectedRing } from './selection.js';

/** @import {Item, Point} from './types.js' */
/** @import {State} from './store.js' */
/** @import {Px} from './geometry.js' */

/**
 * @typedef {{kind: 'corner', item: Item, index: number}
 *   | {kind: 'middle', item: Item, index: number}
 *   | {kind: 'edge', item: Item, index: number}
 *   | {kind: 'item', item: Item}
 *   | {kind: 'none'}} Hit
 */

/** Reach of the pointer: half the touch target of 44 px, or a little past a drawn handle of 10 px. */
const REACH_PX = { mouse: 9, pen: 12, touch: 22 };
/** Reach around an edge, less than around a handle so that handles win. */
const EDGE_REACH_PX = { mouse: 6, pen: 8, touch: 16 };
/** Shorter edges on screen show no handle in the middle. */
export const MIDDLE_MIN_PX = 72;

/** @typedef {'mouse'|'pen'|'touch'} Device */

/** @param {State} state @param {Px} px @param {Device} device @returns {Hit} */
export function hit(state, px, device) {
  return hitHandle(state, px, device) ?? hitItem(state, px, device) ?? { kind: 'none' };
}

/** @param {State} state @param {Px} px @param {Device} device @returns {Hit|null} handles and edges of the one selected shape */
function hitHandle(state, px, device) {
  const sel = selectedRing(state);
  if (!sel) return null;
  const view = viewOf(state.ui);
  const ring = sel.ring.map((p) => toScreen(view, p));
  const corner = nearestIndex(ring, px, REACH_PX[device]);
  if (corner >= 0) return { kind: 'corner', item: sel.item, index: corner };
  if (!sel.free) return null;
  const middles = ring.map((a, i) => middleOf(a, cornerAt(ring, i + 1)));
  const middle = nearestIndex(middles, px, REACH_PX[device]);
  if (middle >= 0) return { kind: 'middle', item: sel.item, index: middle };
  const edge = nearestEdge(sel.ring, toPlan(view, px), EDGE_REACH_PX[device] / view.camera.pxPerM);
  return edge >= 0 ? { kind: 'edge', item: sel.item, index: edge } : null;
}

/** @param {Px} a @param {Px} b @returns {Px|null} */
function middleOf(a, b) {
  if (Math.hypot(b.x - a.x, b.y - a.y) < MIDDLE_MIN_PX) return null;
  return { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 };
}

/** @param {(Px|null)[]} list @param {Px} px @param {number} reachPx @returns {number} -1 for none */
function nearestIndex(list, px, reachPx) {
  let best = -1;
  let least = reachPx;
  list.forEach((p, i) => {
    const d = p ? Math.hypot(p.x - px.x, p.y - px.y) : Infinity;
    if (d <= least) [best, least] = [i, d];
  });
  return best;
}

/** @param {Point[]} ring @param {Point} at @param {number} reachM @returns {number} corner the nearest edge leaves, -1 for none within reach */
export function nearestEdge(ring, at, reachM) {
  let best = -1;
  let least = reachM;
  ring.forEach((a, i) => {
    const d = nearestOnSegment(at, a, cornerAt(ring, i + 1)).distanceM;
    if (d <= least) [best, least] = [i, d];
  });
  return best;
}

/** @param {State} state @param {Px} px @param {Device} device @returns {Hit|null} the topmost shape: obstructions over planes over shade over what stands around, the last drawn first; of those around alone while they are worked on */
function hitItem(state, px, device) {
  const { doc, ui } = state;
  const view = viewOf(ui);
  const at = toPlan(view, px);
  const reachM = EDGE_REACH_PX[device] / view.camera.pxPerM;
  if (ui.around) return hitAround(state, at, reachM);
  // Small things such as pipes are caught from a little outside them too.
  let near = null;
  let least = reachM;
  for (const k of [...doc.keep_outs].reverse()) {
    const ring = footprint(doc, k);
    /** @type {Hit} */
    const found = { kind: 'item', item: { type: 'keepout', id: k.id } };
    if (pointInRing(at, ring)) return found;
    const d = Math.min(...ring.map((a, i) => nearestOnSegment(at, a, cornerAt(ring, i + 1)).distanceM));
    if (d < least && k.kind !== 'shade') [near, least] = [found, d];
  }
  if (near) return near;
  const plane = [...doc.planes].reverse().find((p) => pointInRing(at, p.ring));
  return plane ? { kind: 'item', item: { type: 'plane', id: plane.id } } : hitAround(state, at, 0);
}

/** @param {State} state @param {Point} at @param {number} reachM around it @returns {Hit|null} a tree, or else a building, the last drawn first */
function hitAround({ doc }, at, reachM) {
  const { trees, buildings } = aroundOf(doc);
  /** @param {Point[]} ring */
  const holds = (ring) => pointInRing(at, ring) || (reachM > 0 && outlineDistanceM(at, ring) <= reachM);
  const tree = [...trees].reverse().find((t) => holds(crownRing(t)));
  if (tree) return { kind: 'item', item: { type: 'tree', id: tree.id } };
  const building = [...buildings].reverse().find((b) => holds(b.ring));
  return building ? { kind: 'item', item: { type: 'building', id: building.id } } : null;
}

/** @param {State} state @param {Px} px @param {Device} device @returns {{id: string, index: number}|null} the nearest edge of any plane */
export function hitPlaneEdge(state, px, device) {
  const view = viewOf(state.ui);
  const at = toPlan(view, px);
  let best = null;
  // Picking an edge is all there is to do then, so the reach is generous.
  let least = (2 * REACH_PX[device]) / view.camera.pxPerM;
  for (const p of state.doc.planes) {
    p.ring.forEach((a, i) => {
      const d = nearestOnSegment(at, a, cornerAt(p.ring, i + 1)).distanceM;
      if (d < least) [best, least] = [{ id: p.id, index: i }, d];
    });
  }
  return best;
}

/** @typedef {{planeId: string, index: number}} ModuleHit index as `modulesOn` lists them */

/**
 * @param {State} state @param {Px} px @param {Device} device
 * @returns {ModuleHit|null} the module under the pointer, or the nearest within a finger's reach
 */
export function hitModule(state, px, device) {
  const view = viewOf(state.ui);
  const at = toPlan(view, px);
  /** @type {ModuleHit|null} */
  let best = null;
  let least = device === 'touch' ? EDGE_REACH_PX.touch / view.camera.pxPerM : 0;
  for (const plane of [...state.doc.planes].reverse()) {
    const modules = modulesOn(state, plane.id);
    // The last one lies on top.
    for (let index = modules.length - 1; index >= 0; index--) {
      const { ring } = modules[index];
      if (pointInRing(at, ring)) return { planeId: plane.id, index };
      const d = least > 0 ? outlineDistanceM(at, ring) : Infinity;
      if (d < least) [best, least] = [{ planeId: plane.id, index }, d];
    }
  }
  return best;
}

/**
 * The modules whose middle lies in a box on the screen, on the plane where
 * there are most of them.
 * @param {State} state @param {Px} a @param {Px} b opposite corners
 * @returns {{planeId: string, indices: number[]}|null} null for none
 */
export function modulesInBox(state, a, b) {
  const view = viewOf(state.ui);
  /** @param {Point[]} ring */
  const within = (ring) => {
    const { x, y } = toScreen(view, centroid(ring));
    return x >= Math.min(a.x, b.x) && x <= Math.max(a.x, b.x) && y >= Math.min(a.y, b.y) && y <= Math.max(a.y, b.y);
  };
  const found = state.doc.planes.map((p) => ({
    planeId: p.id,
    indices: modulesOn(state, p.id).flatMap((m, i) => (within(m.ring) ? [i] : [])),
  }));
  const most = found.reduce((x, y) => (y.indices.length > x.indices.length ? y : x), { planeId: '', indices: /** @type {number[]} */ ([]) });
  return most.indices.length > 0 ? most : null;
}
