// Edits of the selected modules, and of the plane they are on, that need no
// pointer.

import { ANCHORS, backToAutomatic, fillRest, lastModules, lockModules, moveModules, releaseModules, removeModules, turnModules } from '../commands/index.js';
import { angleBetweenDeg } from '../model/geometry.js';
import { handLayoutOf, isSettled, modulesOn, samePlace, shownCandidate } from '../model/hand.js';
import { inReadingOrder, railRun } from '../model/hand-rows.js';
import { filledWords, resetWords, stepLabel, turnMisfit } from '../model/hand-words.js';
import { livePicks, pickSelection, selectedPlane } from '../model/selection.js';
import { M_PER_IN } from '../model/units.js';
import { tryEdits, whenAnswered } from './modules-trial.js';
import { modules } from './modules.js';
import { select } from './select.js';

/** @import {App} from './machine.js' */
/** @import {Doc, HandLayout, ModulePlace, Plane} from '../model/types.js' */
/** @import {State} from '../model/store.js' */
/** @import {Picked} from '../commands/hand-modules.js' */

/** One press of an arrow key; ten times as far with Shift. */
const NUDGE_M = Object.freeze({ metric: 0.01, imperial: 0.5 * M_PER_IN });

/** @param {State} state @returns {Plane|null} whose modules are worked on, or the one selected plane */
export function planeAtHand(state) {
  return livePicks(state)?.plane ?? selectedPlane(state);
}

/** @param {State} state @returns {string} '' or why nothing can be done with modules */
export function needsPicks(state) {
  return livePicks(state)?.picked.length ? '' : 'Select modules first: Modules, then click one.';
}

/** @param {App} app @param {string} note shown where the app rests */
function rest(app, note) {
  const { modes, store } = app;
  if (store.state.ui.mode.startsWith('modules')) modes.go(modules(app, note));
  else if (store.state.ui.mode === 'select') modes.go(select(app, note));
  else if (note) store.setUi({ status: note });
}

/**
 * Runs an edit once what is shown on a plane is what the document makes.
 * @param {App} app @param {string} planeId @param {() => void} run
 */
export function whenSettled(app, planeId, run) {
  if (isSettled(app.store.state, planeId)) return run();
  app.store.setUi({ status: 'The modules are still being counted.' });
  whenAnswered(app, (answer) => {
    if (answer === 'answered') run();
    else if (answer === 'problems') rest(app, 'The drawing has something to put right first, so its modules are not counted.');
  });
}

/** @param {App} app @param {(args: Picked) => void} edit gets the selected modules */
function withPicks(app, edit) {
  const plane = livePicks(app.store.state)?.plane;
  if (!plane) return;
  whenSettled(app, plane.id, () => {
    const picks = livePicks(app.store.state);
    const candidate = shownCandidate(app.store.state);
    if (!picks || !candidate || picks.picked.length === 0) return;
    edit({ candidateId: candidate.id, planeId: picks.plane.id, shown: picks.modules.map((m) => m.module), picked: picks.picked });
  });
}

/** @param {App} app */
export function removePicks(app) {
  withPicks(app, (args) => {
    const counted = args.picked.some((i) => !livePicks(app.store.state)?.modules[i].refused);
    app.store.run(stepLabel('Remove', args.picked.length), removeModules({ ...args, counted }));
    app.store.setUi({ selection: pickSelection(args.planeId, []) });
    rest(app, '');
  });
}

/** @param {App} app @param {boolean} locked */
export function lockPicks(app, locked) {
  withPicks(app, (args) => {
    app.store.run(stepLabel(locked ? 'Lock' : 'Unlock', args.picked.length), lockModules({ ...args, locked }));
    rest(app, '');
  });
}

/** @param {App} app portrait becomes landscape and the other way round */
export function turnPicks(app) {
  withPicks(app, (args) => {
    const { state } = app.store;
    const run = railRun(livePicks(state)?.modules.map((m) => m.box) ?? [], args.picked[0], state.doc.rules);
    const misfit = turnMisfit(args.picked.length, args.picked.every((i) => run.includes(i)));
    tried(app, args, 'Turn', ANCHORS.map((anchor) => turnModules({ ...args, anchor })), misfit);
  });
}

/** @param {App} app @param {number} right @param {number} up steps on the screen */
export function nudgePicks(app, right, up) {
  withPicks(app, (args) => {
    const { doc, ui } = app.store.state;
    const plane = doc.planes.find((p) => p.id === args.planeId);
    if (!plane) return;
    const m = NUDGE_M[doc.site.units];
    const steps = Math.abs(right) + Math.abs(up);
    const by = alongPlane(plane, ui.viewBearingDeg + (right > 0 ? 90 : right < 0 ? 270 : up < 0 ? 180 : 0), steps * m);
    tried(app, args, 'Move', [moveModules({ ...args, by })]);
  });
}

/** @param {Plane} plane @param {number} towardsDeg @param {number} m @returns {{u_m: number, v_m: number}} along the eave or up or down the slope, whichever lies nearest to the bearing */
export function alongPlane(plane, towardsDeg, m) {
  const ways = [{ off: 180, u: 0, v: 1 }, { off: 270, u: 1, v: 0 }, { off: 0, u: 0, v: -1 }, { off: 90, u: -1, v: 0 }];
  const off = ways.map((w) => angleBetweenDeg(plane.azimuth_deg + w.off, towardsDeg));
  const { u, v } = ways[off.indexOf(Math.min(...off))];
  return { u_m: u * m, v_m: v * m };
}

/** @param {App} app @param {Picked} args @param {string} verb @param {((doc: Doc) => Doc)[]} edits @param {string} [misfit] how a refusal begins */
function tried(app, args, verb, edits, misfit) {
  const count = args.picked.length;
  tryEdits(app, {
    label: stepLabel(verb, count),
    edits,
    stake: { planeId: args.planeId, count, misfit },
    done(fault) {
      if (!fault) app.store.setUi({ selection: pickSelection(args.planeId, lastModules(app.store.state.doc, args, count)) });
      rest(app, fault && `${fault} Nothing was changed.`);
    },
  });
}

/** @param {State} state @returns {string} '' or why the rest cannot be filled */
export function needsLocked(state) {
  const plane = planeAtHand(state);
  if (!plane) return 'Select a plane or its modules first.';
  const layout = handLayoutOf(state.doc, shownCandidate(state)?.id, plane.id);
  if (layout?.fill) return 'The rest is filled already.';
  return layout?.modules.some((m) => m.locked) ? '' : 'Lock the modules that shall stay, then fill the rest.';
}

/** @param {State} state @returns {string} '' or why there is nothing to take back */
export function needsHand(state) {
  const plane = planeAtHand(state);
  if (!plane) return 'Select a plane or its modules first.';
  return handLayoutOf(state.doc, shownCandidate(state)?.id, plane.id) ? '' : 'The modules of this plane are set by the program already.';
}

/** @param {App} app */
export function fillPlane(app) {
  onPlane(app, 'Fill the rest', fillRest, filledWords);
}

/** @param {App} app */
export function resetPlane(app) {
  onPlane(app, 'Back to automatic', backToAutomatic, resetWords);
}

/**
 * @param {App} app @param {string} label @param {(key: {candidateId: string, planeId: string}) => (doc: Doc) => Doc} command
 * @param {(before: HandLayout) => string} said once it is done
 */
function onPlane(app, label, command, said) {
  const plane = planeAtHand(app.store.state);
  const candidate = shownCandidate(app.store.state);
  if (!plane || !candidate) return;
  const before = handLayoutOf(app.store.state.doc, candidate.id, plane.id);
  app.store.run(label, command({ candidateId: candidate.id, planeId: plane.id }));
  rest(app, before ? said(before) : '');
}

/**
 * Takes a module that the roof does not allow off the list, or its lock.
 * @param {App} app @param {string} planeId @param {ModulePlace} place @param {'remove'|'unlock'} what
 */
export function clearRefused(app, planeId, place, what) {
  const candidate = shownCandidate(app.store.state);
  const shown = modulesOn(app.store.state, planeId).map((m) => m.module);
  const index = shown.findIndex((m) => samePlace(m, place));
  if (!candidate || index < 0) return;
  const args = { candidateId: candidate.id, planeId, shown, picked: [index] };
  if (what === 'remove') app.store.run('Remove module', removeModules({ ...args, counted: false }));
  else app.store.run('Unlock module', releaseModules(args));
  rest(app, '');
}

/** @param {App} app the rows of the selected modules */
export function pickRows(app) {
  const { state } = app.store;
  const picks = livePicks(state);
  if (!picks) return;
  const boxes = picks.modules.map((m) => m.box);
  pick(app, picks.plane.id, [...new Set(picks.picked.flatMap((i) => railRun(boxes, i, state.doc.rules)))]);
}

/** @param {App} app every module on the plane that is worked on */
export function pickAll(app) {
  const picks = livePicks(app.store.state);
  if (picks) pick(app, picks.plane.id, [...picks.modules.keys()]);
}

/** @param {App} app @param {1|-1} way the next module, row by row and then plane by plane, round and round */
export function stepModule(app, way) {
  const { state } = app.store;
  const picks = livePicks(state);
  const all = state.doc.planes.flatMap(({ id }) => inReadingOrder(modulesOn(state, id).map((m) => m.box)).map((index) => ({ id, index })));
  if (!picks || all.length === 0) return;
  const here = all.findIndex((m) => m.id === picks.plane.id && (picks.picked.length === 0 || m.index === picks.picked[0]));
  const step = picks.picked.length === 0 || here < 0 ? 0 : way;
  const { id, index } = all[(Math.max(0, here) + step + all.length) % all.length];
  pick(app, id, [index]);
}

/** @param {App} app @param {string} planeId @param {number[]} indices */
function pick(app, planeId, indices) {
  const list = modulesOn(app.store.state, planeId);
  app.store.setUi({ selection: pickSelection(planeId, indices.map((i) => list[i].module)) });
  app.modes.go(modules(app));
}
