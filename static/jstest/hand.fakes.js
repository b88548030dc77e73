// A stand-in for the evaluation, for tests of the hand edits: rectangles on
// one square plane, with a setback all round, gaps and rectangular keep-outs.
// It judges as the real one does in kind, not in every rule.

import { frameOf, slopeAreaM2, toSlope } from '../js/model/geometry.js';
import { boxOf, handLayoutOf, ringOf, turnedSize } from '../js/model/hand.js';
import { Driver, candidate, gable, plane } from './drawing.fakes.js';

/** A plane 10 m along the eave and 6 m up a slope of 0 degrees, facing south; the candidates are 1.1 x 1.8 m. @param {object} [more] @returns {any} */
export function flatRoof(more = {}) {
  const rules = { ...gable().rules, gap_eave_m: 0.02, gap_slope_m: 0.02, end_allowance_m: 0 };
  return gable({
    schema: 3, rules, hand: [], candidates: [candidate('a', 400), candidate('b', 420)],
    planes: [plane('south', [[0, 0], [10, 0], [10, 6], [0, 6]], { pitch_deg: 0 })], ...more,
  });
}

const SETBACK_M = 0.3;
const EPS_M = 1e-6;

/** @param {any} doc @param {any} p @param {any} c @param {any} box @param {any[]} others @returns {{why: string, with: string}|null} */
function fault(doc, p, c, box, others) {
  const whole = boundsInSlope(p);
  const inside = (/** @type {number} */ by) => box.u_m >= by - EPS_M && box.v_m >= by - EPS_M && box.u_m + box.w_m <= whole.u - by + EPS_M && box.v_m + box.h_m <= whole.v - by + EPS_M;
  if (!inside(0)) return { why: 'outside', with: '' };
  if (!inside(SETBACK_M)) return { why: 'setback', with: '' };
  const frame = frameOf(p);
  for (const k of doc.keep_outs) {
    const { u_m, v_m } = toSlope(frame, k.center);
    const [w, d] = [k.width_m / 2 + k.clearance_m, k.depth_m / 2 + k.clearance_m];
    if (box.u_m < u_m + w - EPS_M && u_m - w < box.u_m + box.w_m - EPS_M && box.v_m < v_m + d - EPS_M && v_m - d < box.v_m + box.h_m - EPS_M) return { why: 'keep_out', with: k.id };
  }
  const { gap_eave_m: gu, gap_slope_m: gv } = doc.rules;
  const hit = others.find((o) => box.u_m < o.u_m + o.w_m + gu - EPS_M && o.u_m < box.u_m + box.w_m + gu - EPS_M && box.v_m < o.v_m + o.h_m + gv - EPS_M && o.v_m < box.v_m + box.h_m + gv - EPS_M);
  return hit ? { why: 'overlap', with: String(hit.index) } : null;
}

/** @param {any} p */
function boundsInSlope(p) {
  const at = p.ring.map((/** @type {any} */ q) => toSlope(frameOf(p), q));
  return { u: Math.max(...at.map((/** @type {any} */ q) => q.u_m)), v: Math.max(...at.map((/** @type {any} */ q) => q.v_m)) };
}

/** @param {any} doc @param {any} p @param {any} c */
function layPlane(doc, p, c) {
  const frame = frameOf(p);
  const layout = handLayoutOf(doc, c.id, p.id);
  /** @type {any[]} */ const standing = [];
  /** @type {any[]} */ const refused = [];
  const list = (layout?.modules ?? []).map((m, index) => ({ m, index })).sort((a, b) => Number(b.m.locked) - Number(a.m.locked));
  for (const { m, index } of list) {
    const box = { ...boxOf(frame, c, m), index, hand: true, locked: m.locked, turn: m.turn };
    const limit = p.module_limit ?? Infinity;
    const wrong = standing.length >= limit ? { why: 'limit', with: '' } : fault(doc, p, c, box, standing);
    if (wrong) refused.push({ index, plan: corners(frame, box), ...wrong, locked: m.locked });
    else standing.push(box);
  }
  if (!layout || layout.fill) fillUp(doc, p, c, standing);
  const modules = standing.map((b) => ({ ...b, plan: corners(frame, b), in_shade: false }));
  return {
    plane_id: p.id, count: modules.length, in_shade: 0, pdc_w: modules.length * c.pmax_w, kwdc: 0, free_area_m2: 0, bound: 99, proved: false,
    modules, refused: refused.sort((a, b) => a.index - b.index), hand: layout ? (layout.fill ? 'around' : 'by_hand') : '', gained: 0, tidiness: { rail_runs: 0, blocks: 0, turns: 0 },
  };
}

/** @param {any} doc @param {any} p @param {any} c @param {any[]} standing gets three columns of two, as far as they fit */
function fillUp(doc, p, c, standing) {
  const size = turnedSize(c, 'portrait');
  for (let row = 0; row < 2; row++) {
    for (let column = 0; column < 3; column++) {
      const box = { u_m: SETBACK_M + column * (size.w_m + doc.rules.gap_eave_m), v_m: SETBACK_M + row * (size.h_m + doc.rules.gap_slope_m), ...size, index: -1, hand: false, locked: false, turn: 'portrait' };
      if (!fault(doc, p, c, box, standing)) standing.push(box);
    }
  }
}

/** @param {any} frame @param {any} box @returns {any} */
const corners = (frame, box) => ringOf(frame, box).map((q) => [q.x_m, q.y_m]);

/** @param {any} doc @returns {any} */
export function judge(doc) {
  const fill = (/** @type {any} */ c) => {
    const by_plane = doc.planes.filter((/** @type {any} */ p) => p.use).map((/** @type {any} */ p) => layPlane(doc, p, c));
    return { count: by_plane.reduce((/** @type {number} */ n, /** @type {any} */ p) => n + p.count, 0), in_shade: 0, by_plane };
  };
  return {
    planes: doc.planes.map((/** @type {any} */ p) => ({ id: p.id, slope_area_m2: slopeAreaM2(p), zones: [], wide_zones: [], edges: [] })),
    candidates: doc.candidates.map((/** @type {any} */ c, /** @type {number} */ i) => ({ id: c.id, letter: 'ABCDE'[i], fill: fill(c), size: null, ridge_widened: false })),
    keep_outs: [], plan_area_m2: 0, rules: { id: '', title: '', notes: [] }, findings: [],
  };
}

/** A driver whose documents are judged at once, or when `answer` is called. */
export class HandDriver extends Driver {
  /** @param {any} [doc] */
  constructor(doc = flatRoof()) {
    super(doc);
    this.slow = false;
    this.store.subscribe((now, before) => {
      if (now.doc !== before.doc && !this.slow) this.answer();
    });
    this.store.setUi({ camera: { x_m: 5, y_m: 3, pxPerM: 50 } });
    this.answer();
  }

  /** The answer about the drawing as it is now. */
  answer() {
    const { doc } = this;
    this.store.setResult(doc, judge(doc), []);
    return this;
  }

  /** @param {string} [id] @returns {any[]} */
  list(id = 'south') {
    return handLayoutOf(this.doc, this.ui.shown, id)?.modules ?? [];
  }

  /** @returns {any} */
  get layout() {
    return this.doc.hand[0];
  }

  /** @returns {number} modules that count */
  get count() {
    return this.store.state.result?.candidates[0].fill.count ?? -1;
  }

  get picks() {
    return this.ui.selection.modules?.places ?? [];
  }
}

/** @param {number} x @returns {number} to the millimetre, so that sums compare */
export const mm = (x) => Math.round(x * 1000) / 1000;
