// Working on what stands around the house: the roof is left alone meanwhile.

import { sameCamera, fittedTo } from '../model/camera.js';
import { isAround } from '../model/around.js';
import { liveSelection } from '../model/selection.js';
import { NOTHING } from '../model/store.js';
import { select } from './select.js';

/** @import {App} from './machine.js' */

/** @param {App} app the view takes in the garden */
export function enterAround(app) {
  const { doc, ui } = app.store.state;
  const kept = liveSelection(app.store.state).items.filter(isAround);
  const selection = kept.length > 0 ? { ...NOTHING, items: kept } : NOTHING;
  app.store.setUi({ around: true, selection, camera: fittedTo({ ...ui, around: true }, doc) });
  app.modes.go(select(app));
}

/** @param {App} app back to the roof; a view that was not moved shows the whole roof again */
export function leaveAround(app) {
  const { doc, ui } = app.store.state;
  const still = sameCamera(ui.camera, fittedTo(ui, doc));
  app.store.setUi({ around: false, selection: NOTHING, camera: still ? fittedTo({ ...ui, around: false }, doc) : ui.camera });
  app.modes.go(select(app));
}
