// What several modes say and do alike.

import { NO_OVERLAY } from '../model/store.js';
import { distanceM, toPlan, viewOf } from '../model/geometry.js';
import { snap, snapTargets } from '../model/snap.js';
import { M_PER_IN } from '../model/units.js';
import { editFault } from '../model/sound.js';

/** @import {App, PointerInput} from './machine.js' */
/** @import {Doc, Overlay, Point} from '../model/types.js' */
/** @import {Device} from '../model/hit.js' */
/** @import {Px} from '../model/geometry.js' */
/** @import {Snap, Targets} from '../model/snap.js' */
/** @import {Ui} from '../model/store.js' */

/** How far a pressed pointer may wander before the press is a drag. */
export const MOVE_THRESHOLD_PX = { mouse: 3, pen: 5, touch: 8 };
/** How near the pointer must be to what it shall catch. */
const SNAP_PX = { mouse: 9, pen: 10, touch: 14 };
/** Round lengths on offer, long to short. */
const STEPS_M = { metric: [1, 0.5, 0.1, 0.05, 0.01], imperial: [24, 12, 6, 1, 0.5].map((n) => n * M_PER_IN) };

/** @param {Px} a @param {Px} b @param {Device} device @returns {boolean} */
export function isDrag(a, b, device) {
  return Math.hypot(b.x - a.x, b.y - a.y) > MOVE_THRESHOLD_PX[device];
}

/** @param {App} app @param {Px} px @returns {Point} */
export function planAt(app, px) {
  return toPlan(viewOf(app.store.state.ui), px);
}

/** @param {App} app @param {Device} device @returns {number} */
export function snapReachM(app, device) {
  return SNAP_PX[device] / app.store.state.ui.camera.pxPerM;
}

/** @param {App} app @param {Device} device @returns {number} the longest round step that the eye can tell apart at this zoom */
export function stepM(app, device) {
  const { doc } = app.store.state;
  const steps = STEPS_M[doc.site.units];
  return steps.find((s) => s <= snapReachM(app, device) * 1.2) ?? steps[steps.length - 1];
}

/**
 * Snaps a board position to the drawing; Shift lets it go free.
 * @param {App} app
 * @param {PointerInput} e
 * @param {object} [lead]
 * @param {Point|null} [lead.from] where the line being drawn starts
 * @param {import('../model/snap.js').SnapQuery['into']} [lead.into] a corner that the next line leads into
 * @param {Targets} [lead.targets] the whole drawing unless said
 * @returns {Snap}
 */
export function snapAt(app, e, { from = null, into = null, targets } = {}) {
  const at = planAt(app, e.at);
  if (e.shift) return { at, kind: 'free', word: '', guides: [] };
  const { doc, ui } = app.store.state;
  return snap({
    at,
    toleranceM: snapReachM(app, e.device),
    targets: targets ?? snapTargets(doc),
    from,
    into,
    levelDeg: [ui.viewBearingDeg, ui.viewBearingDeg + 90],
    stepM: stepM(app, e.device),
  });
}

/** @param {App} app @param {Partial<Overlay>} overlay @param {Partial<Ui>} [more] */
export function draw(app, overlay, more = {}) {
  app.store.setUi({ ...more, overlay: { ...NO_OVERLAY, ...overlay } });
}

/** @param {Snap} s @returns {Pick<Overlay, 'snap'|'snapWord'|'guides'>} */
export function snapMarks(s) {
  return { snap: s.kind === 'free' ? null : s.at, snapWord: s.word, guides: s.guides };
}

/**
 * Ends a gesture: one undo step, or none when it would leave a broken outline.
 * @param {App} app
 * @param {Doc} before the document as the gesture began
 * @returns {string} '' or why it was put back
 */
export function keepSound(app, before) {
  const fault = editFault(before, app.store.state.doc);
  if (fault) app.store.cancel();
  else app.store.keep();
  return fault && `${fault} It was put back.`;
}

/** @param {Point} a @param {Point} b @param {number} reachM @returns {boolean} */
export function near(a, b, reachM) {
  return distanceM(a, b) <= reachM;
}
