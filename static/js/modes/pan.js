// The paper follows the pointer.

import { viewOf } from '../model/geometry.js';
import { panned } from '../model/camera.js';

/** @import {App, Mode, PointerInput} from './machine.js' */

/**
 * @param {App} app
 * @param {PointerInput|null} start the press, or null when Space is down and the press is yet to come
 * @param {() => void} done called when the press ends
 * @returns {Mode}
 */
export function pan(app, start, done) {
  const view = viewOf(app.store.state.ui);
  let [camera, from] = [view.camera, start?.at ?? null];
  return {
    name: 'pan',
    enter: () => app.store.setUi({ mode: 'pan', status: 'Moving the view. Let go to stop.', cursor: from ? 'grabbing' : 'grab' }),
    exit() {},
    down(e) {
      camera = app.store.state.ui.camera;
      from = e.at;
      app.store.setUi({ cursor: 'grabbing' });
    },
    move(e) {
      if (!from) return;
      const by = { x: e.at.x - from.x, y: e.at.y - from.y };
      app.store.setUi({ camera: panned({ ...viewOf(app.store.state.ui), camera }, by) });
    },
    up() {
      from = null;
      done();
    },
    cancel() {
      from = null;
      done();
    },
    key(e) {
      if (e.key === 'Escape') done();
      return true;
    },
  };
}
