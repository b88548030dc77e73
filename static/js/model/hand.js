// The modules on the roof as a hand finds them: those that a person set, as
// the document has them now, and those that the engine set, as the last
// evaluation has them. Whether a place is allowed is told by the evaluation
// alone; nothing here decides it.

import { frameOf, slopeToPlan, toSlope } from './geometry.js';

/** @import {Candidate, Doc, HandLayout, HandModule, LayoutResult, Module, ModulePlace, PlaneLayoutResult, Point, RefusedModule} from './types.js' */
/** @import {PlaneFrame} from './geometry.js' */
/** @import {State} from './store.js' */

/** @typedef {{u_m: number, v_m: number, w_m: number, h_m: number}} Box in the slope frame, w along the eave */
/**
 * @typedef {object} Standing one module of the candidate that is shown
 * @property {HandModule} module as a hand layout would hold it; the document's own where a person set it
 * @property {boolean} own the document lists it
 * @property {RefusedModule|null} refused why the roof does not allow it, as far as is known
 * @property {boolean} spare allowed, but more than the wanted size needs
 * @property {boolean} inShade
 * @property {Box} box
 * @property {Point[]} ring in plan, from the lower left corner on, counter-clockwise
 */

/** Two modules can never stand as near as this, so it tells one from another. */
const SAME_PLACE_M = 0.001;

/** @param {State} state @returns {Candidate|null} whose modules are drawn: the chosen one, or the first */
export function shownCandidate({ doc, ui }) {
  return doc.candidates.find((c) => c.id === ui.shown) ?? doc.candidates[0] ?? null;
}

/** @param {State} state @returns {{letter: string, layout: LayoutResult}|null} what is shown of the last evaluation */
export function shownLayout(state) {
  const c = state.result?.candidates.find((x) => x.id === shownCandidate(state)?.id);
  if (!c) return null;
  return { letter: c.letter, layout: state.doc.target.mode === 'size' && c.size ? c.size.layout : c.fill };
}

/** @param {Doc} doc @returns {HandLayout[]} none in a draft that an earlier version kept in the browser */
export function handLayouts(doc) {
  return doc.hand ?? [];
}

/** @param {Doc} doc @param {string|undefined} candidateId @param {string} planeId @returns {HandLayout|null} */
export function handLayoutOf(doc, candidateId, planeId) {
  return handLayouts(doc).find((l) => l.candidate_id === candidateId && l.plane_id === planeId) ?? null;
}

/** @param {Candidate} candidate @param {HandModule['turn']} turn @returns {{w_m: number, h_m: number}} along the eave, and up the slope */
export function turnedSize({ length_m, width_m }, turn) {
  return turn === 'portrait' ? { w_m: width_m, h_m: length_m } : { w_m: length_m, h_m: width_m };
}

/** @param {PlaneFrame} frame @param {Candidate} candidate @param {ModulePlace} place @returns {Box} */
export function boxOf(frame, candidate, place) {
  return { ...toSlope(frame, place), ...turnedSize(candidate, place.turn) };
}

/** @param {PlaneFrame} frame @param {Box} box @returns {Point[]} from the lower left corner on, counter-clockwise looking up the slope */
export function ringOf(frame, { u_m: u, v_m: v, w_m: w, h_m: h }) {
  return [[u, v], [u + w, v], [u + w, v + h], [u, v + h]].map(([u_m, v_m]) => slopeToPlan(frame, { u_m, v_m }));
}

/** @param {ModulePlace} a @param {ModulePlace} b @returns {boolean} */
export function samePlace(a, b) {
  return a.turn === b.turn && Math.abs(a.x_m - b.x_m) < SAME_PLACE_M && Math.abs(a.y_m - b.y_m) < SAME_PLACE_M;
}

/** @param {State} state @param {string} planeId @returns {PlaneLayoutResult|null} the last evaluation of the plane, for the shown candidate */
export function planePart(state, planeId) {
  return shownLayout(state)?.layout.by_plane.find((p) => p.plane_id === planeId) ?? null;
}

/**
 * Every module of the shown candidate on a plane, those in the document first
 * and in its order, so that an index here is an index of the hand layout that
 * the modules would make.
 * @param {State} state
 * @param {string} planeId
 * @returns {Standing[]} none for a plane that is not used
 */
export function modulesOn(state, planeId) {
  const plane = state.doc.planes.find((p) => p.id === planeId);
  const candidate = shownCandidate(state);
  if (!plane?.use || !candidate) return [];
  const frame = frameOf(plane);
  const layout = handLayoutOf(state.doc, candidate.id, planeId);
  const judged = judgements(state, candidate, planeId);
  /** @param {HandModule} module @param {Partial<Standing>} more @returns {Standing} */
  const standing = (module, more) => {
    const box = boxOf(frame, candidate, module);
    return { module, own: false, refused: null, spare: false, inShade: false, ...more, box, ring: ringOf(frame, box) };
  };
  const own = (layout?.modules ?? []).map((m) => standing(m, { own: true, ...judged.get(m) }));
  if (layout && !layout.fill) return own;
  return [...own, ...engineModules(state, candidate, planeId, layout).map((m) => standing(placeOf(m), { inShade: m.in_shade }))];
}

/**
 * What the engine set. Until an answer about the document is in, what the last
 * one held stays where it was, so that nothing flickers.
 * @param {State} state @param {Candidate} candidate @param {string} planeId @param {HandLayout|null} layout
 * @returns {Module[]}
 */
function engineModules(state, candidate, planeId, layout) {
  const modules = planePart(state, planeId)?.modules ?? [];
  if (!layout || !state.resultOf) return modules;
  if (handLayoutOf(state.resultOf, candidate.id, planeId)?.fill) return modules.filter((m) => !m.hand);
  return modules.filter((m) => !layout.modules.some((own) => samePlace(own, placeOf(m))));
}

/** @param {Module} m @returns {HandModule} */
function placeOf({ plan, turn }) {
  return { x_m: plan[0][0], y_m: plan[0][1], turn, locked: false };
}

/**
 * What the last evaluation said of modules set by hand. A module that is in the
 * document still is the same object there, so that it keeps what was said of it
 * until there is something newer.
 * @param {State} state @param {Candidate} candidate @param {string} planeId
 * @returns {Map<HandModule, {refused: RefusedModule|null, spare: boolean, inShade: boolean}>}
 */
function judgements(state, candidate, planeId) {
  const layout = state.resultOf && handLayoutOf(state.resultOf, candidate.id, planeId);
  const part = planePart(state, planeId);
  if (!layout || !part) return new Map();
  const refused = new Map((part.refused ?? []).map((r) => [r.index, r]));
  const counted = finder(part.modules);
  return new Map(
    layout.modules.map((m, i) => {
      const found = refused.has(i) ? null : counted(m);
      return [m, { refused: refused.get(i) ?? null, spare: !found && !refused.has(i), inShade: found?.in_shade ?? false }];
    }),
  );
}

/** Cells in which modules are looked up; any size well above SAME_PLACE_M does. */
const CELL_M = 0.05;

/** @param {Module[]} modules @returns {(place: ModulePlace) => Module|undefined} finds the one at a place */
function finder(modules) {
  /** @param {number} m @param {number} off */
  const cell = (m, off) => Math.round((m + off) / CELL_M);
  /** @type {Map<string, Module>} */
  const cells = new Map();
  for (const m of modules) {
    for (const dx of [-SAME_PLACE_M, SAME_PLACE_M]) {
      for (const dy of [-SAME_PLACE_M, SAME_PLACE_M]) cells.set(`${cell(m.plan[0][0], dx)} ${cell(m.plan[0][1], dy)} ${m.turn}`, m);
    }
  }
  return ({ x_m, y_m, turn }) => cells.get(`${cell(x_m, 0)} ${cell(y_m, 0)} ${turn}`);
}

/**
 * @param {State} state @param {string} planeId
 * @returns {boolean} what is shown is what the document holds: an edit that copies it copies no old places
 */
export function isSettled(state, planeId) {
  const layout = handLayoutOf(state.doc, shownCandidate(state)?.id, planeId);
  return (layout !== null && !layout.fill) || (state.result !== null && state.resultOf === state.doc);
}

/** @param {State} state @param {string} planeId @returns {Standing[]} modules of the shown candidate that the roof does not allow */
export function refusedModules(state, planeId) {
  if (!handLayoutOf(state.doc, shownCandidate(state)?.id, planeId)) return [];
  return modulesOn(state, planeId).filter((m) => m.refused);
}
