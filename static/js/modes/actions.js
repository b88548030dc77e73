// Every action of the editor as one record. Buttons, menus, the keyboard and
// the list of keys all read these.

import { panned, fittedTo, middleOf, zoomed } from '../model/camera.js';
import { viewOf } from '../model/geometry.js';
import { allItems } from '../model/ids.js';
import { livePicks, liveSelection, selectedRing, workedOn } from '../model/selection.js';
import { NOTHING } from '../model/store.js';
import { isAround } from '../model/around.js';
import { enterAround, leaveAround } from './around.js';
import { clearStep, deleteSelection, duplicateSelection, faceSelectedEdge, insertOnEdge, nudge, step, stepPart } from './edits.js';
import { aroundFull, drawBlock, drawBuilding, drawTree } from './draw-around.js';
import { drawForm } from './draw-form.js';
import { drawOutline } from './draw-outline.js';
import { drawPlane } from './draw-plane.js';
import { addModules } from './modules-add.js';
import { boxModules } from './modules-box.js';
import { fillPlane, lockPicks, needsHand, needsLocked, needsPicks, nudgePicks, pickAll, pickRows, removePicks, resetPlane, stepModule, turnPicks } from './modules-edits.js';
import { enterModules, leave, modules } from './modules.js';
import { obstructionByNumbers, planeByNumbers, treeByNumbers, turnByNumbers } from './forms.js';
import { toggleLight } from './light.js';
import { pickEdge } from './pick-edge.js';
import { select } from './select.js';
import { levelOn, levelPlane, turnView } from './turn-view.js';

/** @import {App, Mode} from './machine.js' */
/** @import {State} from '../model/store.js' */

/**
 * @typedef {object} Action
 * @property {string} id
 * @property {string} label short verb, as on a button
 * @property {string[]} keys as `keyName` writes them; the first is shown
 * @property {'draw'|'edit'|'around'|'modules'|'view'|'keyboard'} group
 * @property {(state: State) => string} available '' or the reason why not
 * @property {(app: App) => void} run
 */

/** @type {(state: State) => string} */
const always = () => '';
/** @param {State} s */
const needsSelection = (s) => (liveSelection(s).items.length ? '' : 'Select something first.');
/** @param {State} s */
const needsPlane = (s) => (s.doc.planes.length ? '' : 'Draw a plane first.');
/** @param {State} s */
const needsShape = (s) => (workedOn(s).length ? '' : s.ui.around ? 'Place a tree or draw a building first.' : 'Draw something first.');
/** @param {State} s */
const needsRoof = (s) => (allItems(s.doc).length ? '' : 'Draw something first.');
/** @param {State} s */
const needsOneShape = (s) => (selectedRing(s) ? '' : 'Select one shape first.');
/** @param {State} s */
const needsEdge = (s) => (liveSelection(s).edge !== null ? '' : 'Select an edge first.');

/** @param {State} s */
const picking = (s) => (livePicks(s)?.picked.length ?? 0) > 0;
/** @param {State} s */
const needsAny = (s) => (picking(s) ? '' : needsSelection(s));
/** @param {State} s */
const needsTurnable = (s) => (picking(s) ? 'R turns modules. T turns planes and shapes.' : needsSelection(s));
/** @param {State} s */
const needsModule = (s) => needsPlane(s) || (s.doc.candidates.length ? '' : 'Add a module to compare first.');
/** @param {State} s */
const onModules = (s) => s.ui.mode.startsWith('modules');

const ZOOM_STEP = 1.4;
const PAN_STEP_PX = 60;

/** @type {Action[]} */
const DRAW = [
  { id: 'draw-plane', label: 'Draw plane', keys: ['D'], group: 'draw', available: always, run: (app) => startDrawing(app, drawPlane) },
  { id: 'plane-by-numbers', label: 'Plane by numbers…', keys: ['Shift+D'], group: 'draw', available: always, run: (app) => void planeByNumbers(app) },
  { id: 'mark-rectangle', label: 'Mark rectangle', keys: ['R'], group: 'draw', available: always, run: (app) => startDrawing(app, () => drawForm(app, 'rect')) },
  { id: 'mark-circle', label: 'Mark circle', keys: ['C'], group: 'draw', available: always, run: (app) => startDrawing(app, () => drawForm(app, 'circle')) },
  { id: 'mark-outline', label: 'Mark outline', keys: ['O'], group: 'draw', available: always, run: (app) => startDrawing(app, () => drawOutline(app, 'other')) },
  { id: 'obstruction-by-numbers', label: 'Obstruction by numbers…', keys: ['Shift+O'], group: 'draw', available: always, run: (app) => void obstructionByNumbers(app) },
  { id: 'mark-shade', label: 'Mark shade', keys: ['S'], group: 'draw', available: always, run: (app) => startDrawing(app, () => drawOutline(app, 'shade')) },
];

/** @type {Action[]} */
const EDIT = [
  { id: 'undo', label: 'Undo', keys: ['Ctrl+Z'], group: 'edit', available: (s) => (s.undoLabel || drawing(s) ? '' : 'Nothing to undo.'), run: (app) => travel(app, 'undo') },
  { id: 'redo', label: 'Redo', keys: ['Ctrl+Shift+Z', 'Ctrl+Y'], group: 'edit', available: (s) => (s.redoLabel ? '' : 'Nothing to redo.'), run: (app) => travel(app, 'redo') },
  { id: 'delete', label: 'Delete', keys: ['Delete', 'Backspace'], group: 'edit', available: needsAny, run: (app) => (picking(app.store.state) ? removePicks(app) : deleteSelection(app)) },
  { id: 'duplicate', label: 'Duplicate', keys: ['Ctrl+D'], group: 'edit', available: needsSelection, run: duplicateSelection },
  { id: 'insert-corner', label: 'Insert corner', keys: ['I'], group: 'edit', available: needsEdge, run: insertOnEdge },
  { id: 'pick-eave', label: 'Pick eave', keys: ['E'], group: 'edit', available: needsPlane, run: (app) => faceSelectedEdge(app) || app.modes.go(pickEdge(app, 'face')) },
  { id: 'turn-selection', label: 'Turn selection…', keys: ['T'], group: 'edit', available: needsTurnable, run: (app) => void turnByNumbers(app, 'selection') },
  { id: 'turn-roof', label: 'Turn whole roof…', keys: ['Shift+T'], group: 'edit', available: needsRoof, run: (app) => void turnByNumbers(app, 'roof') },
  { id: 'select-all', label: 'Select all', keys: ['Ctrl+A'], group: 'edit', available: needsShape, run: (app) => (onModules(app.store.state) ? pickAll(app) : choose(app, { items: workedOn(app.store.state), corner: null, edge: null })) },
];

/** @type {Action[]} */
const AROUND = [
  { id: 'surroundings', label: 'Surroundings', keys: ['U'], group: 'around', available: always, run: (app) => (app.store.state.ui.around ? leaveAround(app) : enterAround(app)) },
  { id: 'place-tree', label: 'Place tree', keys: ['Y'], group: 'around', available: (s) => aroundFull(s.doc, 'tree'), run: (app) => startAround(app, drawTree) },
  { id: 'tree-by-numbers', label: 'Tree by numbers…', keys: ['Shift+Y'], group: 'around', available: (s) => aroundFull(s.doc, 'tree'), run: (app) => void treeByNumbers(app) },
  { id: 'draw-block', label: 'Rectangular building', keys: ['X'], group: 'around', available: (s) => aroundFull(s.doc, 'building'), run: (app) => startAround(app, drawBlock) },
  { id: 'draw-building', label: 'Building outline', keys: ['Shift+X'], group: 'around', available: (s) => aroundFull(s.doc, 'building'), run: (app) => startAround(app, drawBuilding) },
];

/** @type {Action[]} */
const MODULES = [
  { id: 'modules', label: 'Modules', keys: ['M'], group: 'modules', available: needsModule, run: (app) => (onModules(app.store.state) ? leave(app) : enterModules(app)) },
  { id: 'add-module', label: 'Add module', keys: ['A'], group: 'modules', available: needsModule, run: (app) => workOn(app, addModules) },
  { id: 'select-row', label: 'Select row', keys: ['W'], group: 'modules', available: needsPicks, run: pickRows },
  { id: 'box-modules', label: 'Select by box', keys: ['B'], group: 'modules', available: needsModule, run: (app) => workOn(app, () => boxModules(app, null)) },
  { id: 'turn-modules', label: 'Turn modules', keys: ['Shift+R'], group: 'modules', available: needsPicks, run: turnPicks },
  { id: 'lock-modules', label: 'Lock modules', keys: ['K'], group: 'modules', available: needsPicks, run: (app) => lockPicks(app, true) },
  { id: 'unlock-modules', label: 'Unlock modules', keys: ['Shift+K'], group: 'modules', available: needsPicks, run: (app) => lockPicks(app, false) },
  { id: 'fill-rest', label: 'Fill the rest', keys: ['G'], group: 'modules', available: needsLocked, run: fillPlane },
  { id: 'back-to-automatic', label: 'Back to automatic', keys: ['Shift+G'], group: 'modules', available: needsHand, run: resetPlane },
];

/** @type {Action[]} */
const VIEW = [
  { id: 'light', label: 'Light', keys: ['V'], group: 'view', available: needsPlane, run: toggleLight },
  { id: 'fit', label: 'Fit', keys: ['F'], group: 'view', available: always, run: fit },
  { id: 'zoom-in', label: 'Zoom in', keys: ['+', '='], group: 'view', available: always, run: (app) => zoom(app, ZOOM_STEP) },
  { id: 'zoom-out', label: 'Zoom out', keys: ['-'], group: 'view', available: always, run: (app) => zoom(app, 1 / ZOOM_STEP) },
  { id: 'level-view', label: 'Level view', keys: ['L'], group: 'view', available: needsPlane, run: level },
  { id: 'north-up', label: 'North up', keys: ['N'], group: 'view', available: (s) => (s.ui.viewBearingDeg ? '' : 'North is up.'), run: (app) => turnView(app, 0) },
  { id: 'show-keys', label: 'Keys', keys: ['?'], group: 'view', available: always, run: (app) => app.view.showKeys(ACTIONS) },
];

/** @type {Action[]} */
const KEYBOARD = [
  { id: 'next-shape', label: 'Next shape or module', keys: [']'], group: 'keyboard', available: needsShape, run: (app) => (onModules(app.store.state) ? stepModule(app, 1) : step(app, 1)) },
  { id: 'previous-shape', label: 'Previous shape or module', keys: ['['], group: 'keyboard', available: needsShape, run: (app) => (onModules(app.store.state) ? stepModule(app, -1) : step(app, -1)) },
  { id: 'next-part', label: 'Next corner or edge', keys: ['.'], group: 'keyboard', available: needsOneShape, run: (app) => stepPart(app, 1) },
  { id: 'previous-part', label: 'Previous corner or edge', keys: [','], group: 'keyboard', available: needsOneShape, run: (app) => stepPart(app, -1) },
  ...arrows('', 1, 'Move a little'),
  ...arrows('Shift+', 10, 'Move further'),
  { id: 'clear', label: 'Select less', keys: ['Escape'], group: 'keyboard', available: always, run: clearStep },
];

/** @type {Action[]} */
export const ACTIONS = [...DRAW, ...AROUND, ...EDIT, ...MODULES, ...VIEW, ...KEYBOARD];

/** @param {string} prefix @param {number} times @param {string} label @returns {Action[]} */
function arrows(prefix, times, label) {
  const ways = /** @type {const} */ ([['Up', 0, 1, 'up'], ['Down', 0, -1, 'down'], ['Left', -1, 0, 'left'], ['Right', 1, 0, 'right']]);
  return ways.map(([way, right, up, word]) => ({
    id: `nudge-${word}${times === 1 ? '' : '-far'}`,
    label: `${label} ${word}`,
    keys: [`${prefix}Arrow${way}`],
    group: /** @type {const} */ ('keyboard'),
    available: always,
    run: (app) => {
      if (picking(app.store.state)) nudgePicks(app, right * times, up * times);
      else if (liveSelection(app.store.state).items.length) nudge(app, right * times, up * times);
      else panBy(app, -right * PAN_STEP_PX, up * PAN_STEP_PX);
    },
  }));
}

/** @param {string} id @returns {Action} */
export function actionOf(id) {
  const found = ACTIONS.find((a) => a.id === id);
  if (!found) throw new Error(`no action ${id}`);
  return found;
}

/** @param {string} name as `keyName` writes it @returns {Action|null} */
export function actionForKey(name) {
  return ACTIONS.find((a) => a.keys.includes(name)) ?? null;
}

/** @param {{key: string, shift: boolean, ctrl: boolean}} e @returns {string} such as 'D', 'Shift+D', 'Ctrl+Z', '?' */
export function keyName({ key, shift, ctrl }) {
  const single = [...key].length === 1;
  const letter = single && /\p{L}/u.test(key);
  // Shift is part of typing a sign such as '?', so it is only told for letters
  // and named keys.
  return `${ctrl ? 'Ctrl+' : ''}${shift && (letter || !single) ? 'Shift+' : ''}${letter ? key.toUpperCase() : key}`;
}

/** @param {Action} action @param {App} app @returns {string} '' or why it did not run */
export function runAction(action, app) {
  // A drag under way gives way to the action, as if it had not begun.
  if (app.store.state.inGesture) app.modes.active.cancel();
  const why = action.available(app.store.state);
  if (why) app.store.setUi({ status: why });
  else action.run(app);
  return why;
}

/** @param {App} app @param {(app: App) => Mode} mode starts with nothing selected, so that no handles lie in the way */
function startDrawing(app, mode) {
  if (app.store.state.ui.around) leaveAround(app);
  app.modes.go(select(app));
  app.store.setUi({ selection: NOTHING });
  app.modes.go(mode(app));
}

/** @param {App} app @param {(app: App) => Mode} mode */
function startAround(app, mode) {
  if (!app.store.state.ui.around) enterAround(app);
  app.store.setUi({ selection: NOTHING });
  app.modes.go(mode(app));
}

/** @param {App} app @param {(app: App) => Mode} mode of the work on modules */
function workOn(app, mode) {
  if (!onModules(app.store.state)) enterModules(app);
  app.modes.go(mode(app));
}

/** @param {State} s @returns {boolean} a mode is drawing, which takes back its own corners */
function drawing(s) {
  return s.ui.mode.startsWith('draw-');
}

/** @param {App} app @param {'undo'|'redo'} way */
function travel(app, way) {
  if (way === 'undo' && app.modes.active.key({ key: 'z', shift: false, alt: false, ctrl: true })) return;
  const label = app.store[way]();
  const said = label && `${way === 'undo' ? 'Undone' : 'Redone'}: ${label}.`;
  if (app.store.state.ui.mode === 'select') app.modes.go(select(app, said));
  if (app.store.state.ui.mode === 'modules') app.modes.go(modules(app, said));
}

/** @param {App} app @param {import('../model/types.js').Selection} selection */
function choose(app, selection) {
  app.store.setUi({ selection, around: selection.items.some(isAround) });
  app.modes.go(select(app));
}

/** @param {App} app */
function fit(app) {
  const { doc, ui } = app.store.state;
  app.store.setUi({ camera: fittedTo(ui, doc) });
}

/** @param {App} app @param {number} factor */
function zoom(app, factor) {
  const view = viewOf(app.store.state.ui);
  app.store.setUi({ camera: zoomed(view, factor, middleOf(view)) });
}

/** @param {App} app @param {number} x @param {number} y px that the paper moves */
function panBy(app, x, y) {
  app.store.setUi({ camera: panned(viewOf(app.store.state.ui), { x, y }) });
}

/** @param {App} app the selected edge or plane comes to lie level, or one is picked */
function level(app) {
  const { items, edge } = liveSelection(app.store.state);
  if (items.length !== 1 || items[0].type !== 'plane') app.modes.go(pickEdge(app, 'level'));
  else if (edge !== null) levelOn(app, { id: items[0].id, index: edge });
  else levelPlane(app, items[0].id);
}
