// Adding modules: the next one follows the pointer, a click places it, a drag
// along the eave a row of them.

import { addModules as addCommand, lastModules, otherTurn } from '../commands/index.js';
import { frameOf, pointInRing, slopeToPlan, toPlan, toScreen, toSlope, viewOf } from '../model/geometry.js';
import { handLayoutOf, isSettled, modulesOn, shownCandidate, turnedSize } from '../model/hand.js';
import { gapsOf, snapBoxes } from '../model/hand-snap.js';
import { modulesWord, stepLabel } from '../model/hand-words.js';
import { labelPoint } from '../model/label-place.js';
import { livePicks, nameOf, pickSelection } from '../model/selection.js';
import { wallsAround } from './modules-drag.js';
import { alongPlane } from './modules-edits.js';
import { trialMarks } from './modules-marks.js';
import { CHECKING, faultOf, refusedAt, whenAnswered } from './modules-trial.js';
import { modules } from './modules.js';
import { draw, snapReachM } from './shared.js';

/** @import {App, KeyInput, Mode, PointerInput} from './machine.js' */
/** @import {HandModule, Plane, Point} from '../model/types.js' */
/** @import {Box} from '../model/hand.js' */
/** @import {BoxSnap} from '../model/hand-snap.js' */
/** @import {State} from '../model/store.js' */

/** @typedef {{plane: Plane, candidateId: string, shown: HandModule[], boxes: Box[]}} Ground what stands on the plane under the pointer */

/** The ghost of the keyboard moves by this, and by a module and its gap with Shift. */
const STEP_M = 0.1;
/** A row cannot be drawn longer than this. */
const ROW_MAX = 60;

/** @param {App} app @returns {Mode} */
export function addModules(app) {
  return new Adding(app);
}

/** @implements {Mode} */
class Adding {
  name = 'modules-add';
  #app;
  /** @type {HandModule['turn']} */ #turn;
  /** @type {State} the editor as it was settled last, without anything tried */ #settled;
  /** @type {Ground|null} */ #ground = null;
  /** @type {Point|null} where the middle of the module is wanted */ #at = null;
  /** @type {{device: PointerInput['device'], shift: boolean}} */ #hand = { device: 'mouse', shift: false };
  /** @type {Box|null} where the press put the first of a row */ #first = null;
  /** @type {BoxSnap|null} */ #caught = null;
  /** how many are tried */ #count = 0;
  /** @type {Point[][]} just placed: until the pointer leaves them nothing is tried */ #placed = [];
  #checking = false;
  /** why nothing can be added under the pointer */ #blocked = '';
  #note = '';
  /** @type {() => void} */ #stop = () => {};

  /** @param {App} app */
  constructor(app) {
    this.#app = app;
    this.#settled = app.store.state;
    this.#turn = usualTurn(app.store.state);
  }

  enter() {
    const { store } = this.#app;
    this.#stop();
    this.#stop = store.subscribe((now, before) => this.#followStore(now, before));
    this.#settled = store.state;
    draw(this.#app, {}, { mode: 'modules-add', status: this.#status(), cursor: 'crosshair' });
  }

  exit() {
    this.#stop();
    this.#app.store.cancel();
    draw(this.#app, {});
  }

  /** @param {PointerInput} e */
  down(e) {
    if (this.#checking) return;
    this.#note = '';
    this.#point(e);
    this.#first = this.#firstBox();
  }

  /** @param {PointerInput} e */
  move(e) {
    if (this.#checking) return;
    const at = toPlan(viewOf(this.#app.store.state.ui), e.at);
    if (!this.#first && this.#placed.some((ring) => pointInRing(at, ring))) return;
    this.#placed = [];
    this.#point(e);
  }

  /** @param {PointerInput} e */
  up(e) {
    if (this.#checking) return;
    this.#point(e);
    this.#place();
  }

  cancel() {
    this.#first = null;
    this.#drop();
  }

  /** @param {KeyInput} e @returns {boolean} */
  key(e) {
    if (e.ctrl || e.alt) return false;
    const way = { ArrowUp: 0, ArrowRight: 90, ArrowDown: 180, ArrowLeft: 270 }[e.key];
    if (way !== undefined) this.#step(way, e.shift);
    else if (e.key === 'Escape') this.#app.modes.go(modules(this.#app));
    else if (e.key === 'Enter') this.#place();
    else if (e.key.toLowerCase() === 'r') this.#turnOver();
    else return false;
    return true;
  }

  #turnOver() {
    this.#turn = otherTurn(this.#turn);
    this.#note = '';
    this.#first = null;
    this.#try();
    this.#app.store.setUi({ status: this.#status() });
  }

  /** @returns {string} */
  #status() {
    return this.#note || `Click to add a module in ${this.#turn}; drag along the eave for a row. R: turn. Escape: stop adding.`;
  }

  /** @param {State} now @param {State} before */
  #followStore(now, before) {
    if (now.ui.mode !== this.name) return;
    if (!now.inGesture && now.doc !== before.doc) {
      // Something else changed the drawing, as undo does.
      this.#ground = null;
      this.#count = 0;
      this.#checking = false;
    }
    if (!now.inGesture && now.resultOf === now.doc) this.#settled = now;
    if (now.inGesture && now.result !== before.result) this.#show();
  }

  /** @param {PointerInput} e */
  #point(e) {
    this.#at = toPlan(viewOf(this.#app.store.state.ui), e.at);
    this.#hand = { device: e.device, shift: e.shift };
    this.#try();
  }

  /** @param {number} towardsDeg on the screen @param {boolean} far */
  #step(towardsDeg, far) {
    const { state } = this.#app.store;
    this.#note = '';
    this.#hand = { device: 'mouse', shift: true };
    if (!this.#at) this.#at = startOf(state);
    const ground = this.#at && this.#groundAt(this.#at);
    if (!this.#at || !ground) return;
    const candidate = shownCandidate(state);
    const size = candidate ? turnedSize(candidate, this.#turn) : { w_m: 1, h_m: 1 };
    const unit = alongPlane(ground.plane, state.ui.viewBearingDeg + towardsDeg, 1);
    const { eaveM, slopeM } = gapsOf(state.doc.rules);
    const m = far ? (unit.u_m !== 0 ? size.w_m + eaveM : size.h_m + slopeM) : STEP_M;
    const frame = frameOf(ground.plane);
    const { u_m, v_m } = toSlope(frame, this.#at);
    this.#at = slopeToPlan(frame, { u_m: u_m + unit.u_m * m, v_m: v_m + unit.v_m * m });
    this.#try();
  }

  /** @param {Point} at @returns {Ground|null} null off the roof, and while its modules are being counted */
  #groundAt(at) {
    const plane = [...this.#app.store.state.doc.planes].reverse().find((p) => pointInRing(at, p.ring));
    if (!plane) this.#blocked = 'There is no plane there. Click on the roof.';
    if (!plane) return null;
    if (this.#ground?.plane === plane) return this.#ground;
    this.#drop();
    const settled = this.#settled.doc === this.#app.store.state.doc ? this.#settled : this.#app.store.state;
    const candidate = shownCandidate(settled);
    if (!candidate || !plane.use || !isSettled(settled, plane.id)) {
      this.#blocked = plane.use ? 'The modules are still being counted.' : `${nameOf(settled.doc, { type: 'plane', id: plane.id })} is not used. Switch on “Put modules on this plane” in its properties first.`;
      this.#app.store.setUi({ status: this.#blocked });
      return null;
    }
    this.#blocked = '';
    const standing = modulesOn(settled, plane.id);
    return { plane, candidateId: candidate.id, shown: standing.map((m) => m.module), boxes: standing.filter((m) => !m.refused).map((m) => m.box) };
  }

  /** Nothing is tried any longer. */
  #drop() {
    this.#checking = false;
    this.#count = 0;
    this.#ground = null;
    this.#app.store.cancel();
    draw(this.#app, {});
  }

  /** @returns {Box|null} of the module under the pointer, snapped */
  #firstBox() {
    const { state } = this.#app.store;
    const candidate = shownCandidate(state);
    if (!this.#at || !this.#ground || !candidate) return null;
    const { plane, boxes } = this.#ground;
    const size = turnedSize(candidate, this.#turn);
    const middle = toSlope(frameOf(plane), this.#at);
    const box = { u_m: middle.u_m - size.w_m / 2, v_m: middle.v_m - size.h_m / 2, ...size };
    const by = { u_m: 0, v_m: 0 };
    this.#caught = this.#hand.shift
      ? { by, words: [], guides: [] }
      : snapBoxes({ moving: [box], by, others: boxes, walls: wallsAround(this.#settled, plane), gaps: gapsOf(state.doc.rules), toleranceM: snapReachM(this.#app, this.#hand.device) });
    return { ...box, u_m: box.u_m + this.#caught.by.u_m, v_m: box.v_m + this.#caught.by.v_m };
  }

  /** Shows the document with the modules under the pointer in it. */
  #try() {
    const { store } = this.#app;
    const ground = this.#at && this.#groundAt(this.#at);
    if (!ground) return this.#drop();
    this.#ground = ground;
    const box = this.#firstBox();
    if (!box) return;
    const places = this.#rowOf(box).map((b) => this.#module(b));
    this.#tryPlaces(places);
    if (!store.state.ui.selection.modules || store.state.ui.selection.modules.plane !== ground.plane.id) store.setUi({ selection: pickSelection(ground.plane.id, []) });
  }

  /** @param {HandModule[]} places */
  #tryPlaces(places) {
    const { store } = this.#app;
    const ground = this.#ground;
    if (!ground) return;
    this.#count = places.length;
    if (!store.state.inGesture) store.begin('Add module');
    store.preview(addCommand({ candidateId: ground.candidateId, planeId: ground.plane.id, shown: ground.shown, modules: places }));
    this.#show();
  }

  /** @param {Box} box @returns {HandModule} */
  #module(box) {
    const frame = frameOf(/** @type {Ground} */ (this.#ground).plane);
    return { ...slopeToPlan(frame, box), turn: this.#turn, locked: false };
  }

  /** @param {Box} box under the pointer @returns {Box[]} that one, or the row from the first of the press to it */
  #rowOf(box) {
    const first = this.#first;
    if (!first) return [box];
    const pitch = first.w_m + gapsOf(this.#app.store.state.doc.rules).eaveM;
    const more = Math.max(-ROW_MAX, Math.min(ROW_MAX, Math.round((box.u_m - first.u_m) / pitch)));
    return Array.from({ length: Math.abs(more) + 1 }, (_, i) => ({ ...first, u_m: first.u_m + i * Math.sign(more) * pitch }));
  }

  /** @returns {import('./modules-trial.js').Stake} */
  #stake() {
    return { planeId: this.#ground?.plane.id ?? '', count: this.#count, ground: this.#settled.doc };
  }

  #show() {
    const { state } = this.#app.store;
    const ground = this.#ground;
    if (!ground || this.#count === 0 || !this.#at) return;
    const lifted = lastModules(state.doc, { candidateId: ground.candidateId, planeId: ground.plane.id }, this.#count);
    const at = toScreen(viewOf(state.ui), this.#at);
    draw(this.#app, trialMarks(state, { stake: this.#stake(), lifted, frame: frameOf(ground.plane), at, caught: this.#caught }), { status: this.#checking ? CHECKING : this.#status() });
  }

  /**
   * Keeps what is tried, without what the roof does not allow of a row.
   * @param {string} [note] said once it is kept
   */
  #place(note = '') {
    const { store } = this.#app;
    this.#first = null;
    if (!this.#ground || this.#count === 0) {
      return this.#say(this.#blocked);
    }
    this.#checking = true;
    this.#show();
    whenAnswered(this.#app, (answer) => {
      if (answer === 'gone' || !this.#checking) return;
      this.#checking = false;
      const fault = faultOf(store.state, this.#stake(), answer);
      const sound = fault ? this.#soundPart(answer) : [];
      if (fault && sound.length === 0) return this.#refuse(`${fault} Nothing was added.`);
      if (fault) {
        const of = this.#count;
        this.#tryPlaces(sound);
        return this.#place(`${sound.length} of ${modulesWord(of)} placed. ${fault}`);
      }
      this.#kept(note);
    });
  }

  /** @param {string} note */
  #kept(note) {
    const { store } = this.#app;
    const ground = /** @type {Ground} */ (this.#ground);
    const places = lastModules(store.state.doc, { candidateId: ground.candidateId, planeId: ground.plane.id }, this.#count);
    store.keep(stepLabel('Add', this.#count));
    this.#count = 0;
    this.#ground = null;
    this.#placed = modulesOn(store.state, ground.plane.id).slice(-places.length).map((m) => m.ring);
    store.setUi({ selection: pickSelection(ground.plane.id, places) });
    draw(this.#app, {});
    this.#say(note);
  }

  /** @param {import('./modules-trial.js').Answer} answer @returns {HandModule[]} of a row, what the roof allows */
  #soundPart(answer) {
    const { state } = this.#app.store;
    const ground = this.#ground;
    if (answer !== 'answered' || !ground || this.#count < 2) return [];
    const layout = handLayoutOf(state.doc, ground.candidateId, ground.plane.id);
    const bad = new Set(refusedAt(state, this.#stake()).flatMap((r) => [r.index, r.with === '' ? -1 : Number(r.with)]));
    const first = (layout?.modules.length ?? 0) - this.#count;
    return layout?.modules.filter((_, i) => i >= first && !bad.has(i)) ?? [];
  }

  /** @param {string} note */
  #refuse(note) {
    this.#drop();
    this.#say(note);
  }

  /** @param {string} note */
  #say(note) {
    this.#note = note;
    this.#app.store.setUi({ status: this.#status() });
  }
}

/** @param {State} state @returns {HandModule['turn']} of the selected modules, or of most on their plane */
function usualTurn(state) {
  const picks = livePicks(state);
  const list = picks ? (picks.picked.length > 0 ? picks.picked.map((i) => picks.modules[i]) : picks.modules) : [];
  if (list.length === 0) return picks?.plane.turn === 'landscape' ? 'landscape' : 'portrait';
  return list.filter((m) => m.module.turn === 'landscape').length * 2 > list.length ? 'landscape' : 'portrait';
}

/** @param {State} state @returns {Point|null} where the keyboard starts: right of the selected module, or on the middle of the plane */
function startOf(state) {
  const picks = livePicks(state);
  if (!picks) return null;
  const last = picks.modules[picks.picked[picks.picked.length - 1]];
  if (!last) return labelPoint(picks.plane.ring);
  const { u_m, v_m, w_m, h_m } = last.box;
  return slopeToPlan(frameOf(picks.plane), { u_m: u_m + w_m * 1.5 + state.doc.rules.gap_eave_m, v_m: v_m + h_m / 2 });
}

