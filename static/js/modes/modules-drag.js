// The selected modules follow the pointer over their plane and catch the gap
// beside others, the lines of rows, and where room ends. Where the roof does
// not allow them they spring back.

import { lastModules, moveModules } from '../commands/index.js';
import { frameOf, toPlan, toSlope, viewOf } from '../model/geometry.js';
import { isSettled, shownCandidate } from '../model/hand.js';
import { gapsOf, snapBoxes, wallsOf } from '../model/hand-snap.js';
import { modulesWord, stepLabel } from '../model/hand-words.js';
import { isWidened } from '../model/outcome.js';
import { livePicks, nameOf, pickSelection } from '../model/selection.js';
import { CHECKING, faultOf, whenAnswered } from './modules-trial.js';
import { trialMarks } from './modules-marks.js';
import { modules } from './modules.js';
import { draw, planAt, snapReachM } from './shared.js';

/** @import {App, Mode, PointerInput} from './machine.js' */
/** @import {Doc, HandModule, Plane, Point} from '../model/types.js' */
/** @import {BoxSnap, Wall} from '../model/hand-snap.js' */
/** @import {State} from '../model/store.js' */
/** @import {Answer, Stake} from './modules-trial.js' */

/**
 * @typedef {object} Drag
 * @property {Plane} plane
 * @property {Stake} stake
 * @property {(by: BoxSnap['by']) => (doc: Doc) => Doc} edit
 * @property {(doc: Doc) => HandModule[]} placed the dragged ones in a document that the edit made; none in the one before
 * @property {(to: Point, toleranceM: number) => BoxSnap} snapped where the pointer wants them; 0 lets them go free
 */

/** @param {App} app @param {PointerInput} start the press, on one of the selected modules @returns {Mode} */
export function dragModules(app, start) {
  const { store } = app;
  const before = store.state;
  const drag = dragOf(before, toPlan(viewOf(before.ui), start.at));
  if (!drag) return modules(app, 'The modules are still being counted. Try again in a moment.');
  const { plane, stake, placed, edit } = drag;
  let stop = () => {};
  let stopWaiting = () => {};
  let letGo = false;
  let pointer = start;
  /** @type {BoxSnap|null} */ let caught = null;

  const show = () => {
    const lifted = placed(store.state.doc);
    const marks = trialMarks(store.state, { stake, lifted, frame: frameOf(plane), at: pointer.at, caught });
    draw(app, marks, { selection: lifted.length > 0 ? pickSelection(plane.id, lifted) : before.ui.selection });
  };
  /** @param {string} note the modules are again where they were */
  const end = (note) => {
    stopWaiting();
    store.cancel();
    store.setUi({ selection: before.ui.selection });
    app.modes.go(modules(app, note));
  };
  /** @param {Answer} answer */
  const settle = (answer) => {
    const fault = answer === 'gone' ? '' : faultOf(store.state, stake, answer);
    if (fault) return end(`${fault} ${stake.count === 1 ? 'It was put back.' : 'They were put back.'}`);
    if (answer !== 'gone') store.keep();
    app.modes.go(modules(app));
  };
  return {
    name: 'modules-drag',
    enter() {
      store.begin(stepLabel('Move', stake.count));
      const status = `Moving ${modulesWord(stake.count)} on ${nameOf(before.doc, { type: 'plane', id: plane.id })}. Let go to place. Shift: no snapping. Escape: put back.`;
      store.setUi({ mode: 'modules-drag', status, cursor: 'grabbing' });
      stop = store.subscribe((now, last) => {
        if (now.result !== last.result && now.inGesture && app.modes.active.name === 'modules-drag') show();
      });
    },
    exit() {
      stopWaiting();
      stop();
      store.cancel();
      draw(app, {});
    },
    down() {},
    move(e) {
      if (letGo) return;
      // Something else took the gesture's place, such as an edit in a panel.
      if (!store.state.inGesture) return end('');
      pointer = e;
      caught = drag.snapped(planAt(app, e.at), e.shift ? 0 : snapReachM(app, e.device));
      store.preview(edit(caught.by));
      show();
    },
    up() {
      if (letGo) return;
      if (store.state.doc === before.doc) return end('');
      letGo = true;
      store.setUi({ status: CHECKING });
      stopWaiting = whenAnswered(app, settle);
    },
    cancel: () => end(''),
    key(e) {
      if (e.key === 'Escape') end('');
      return true;
    },
  };
}

/**
 * What a drag of the selected modules is about.
 * @param {State} state
 * @param {Point} grabbed where the pointer took them
 * @returns {Drag|null} null while they are not counted yet
 */
function dragOf(state, grabbed) {
  const picks = livePicks(state);
  const candidate = shownCandidate(state);
  if (!picks || !candidate || !isSettled(state, picks.plane.id)) return null;
  const { plane, picked, modules: all } = picks;
  const key = { candidateId: candidate.id, planeId: plane.id };
  const shown = all.map((m) => m.module);
  const frame = frameOf(plane);
  const from = toSlope(frame, grabbed);
  const query = {
    moving: picked.map((i) => all[i].box), others: all.flatMap((m, i) => (picked.includes(i) || m.refused ? [] : [m.box])),
    walls: wallsAround(state, plane), gaps: gapsOf(state.doc.rules),
  };
  return {
    plane,
    stake: { planeId: plane.id, count: picked.length, ground: state.doc },
    edit: (by) => moveModules({ ...key, shown, picked, by }),
    placed: (doc) => (doc === state.doc ? [] : lastModules(doc, key, picked.length)),
    snapped(to, toleranceM) {
      const at = toSlope(frame, to);
      const by = { u_m: at.u_m - from.u_m, v_m: at.v_m - from.v_m };
      return toleranceM === 0 ? { by, words: [], guides: [] } : snapBoxes({ ...query, by, toleranceM });
    },
  };
}

/** @param {State} state @param {Plane} plane @returns {Wall[]} where room ends for the modules shown */
export function wallsAround(state, plane) {
  const found = state.result?.planes.find((p) => p.id === plane.id);
  const candidate = state.result?.candidates.find((c) => c.id === shownCandidate(state)?.id);
  const zones = (candidate && isWidened(candidate) ? found?.wide_zones : found?.zones) ?? [];
  return wallsOf(frameOf(plane), plane, zones);
}
