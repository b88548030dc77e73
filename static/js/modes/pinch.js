// Two fingers hold the paper: what lies under them stays under them.

import { viewOf } from '../model/geometry.js';
import { panned, zoomed } from '../model/camera.js';

/** @import {App, Mode} from './machine.js' */
/** @import {Px} from '../model/geometry.js' */

/** @typedef {Mode & {fingers: (a: Px, b: Px) => void}} Pinch */

/** @param {App} app @param {Px} a @param {Px} b where the fingers came down @returns {Pinch} */
export function pinch(app, a, b) {
  const { camera } = app.store.state.ui;
  const start = { mid: mid(a, b), apart: apart(a, b) };
  return {
    name: 'pinch',
    enter: () => app.store.setUi({ mode: 'pinch', status: 'Moving the view. Lift the fingers to stop.' }),
    exit() {},
    down() {},
    move() {},
    up() {},
    cancel() {},
    key: () => true,
    fingers(p, q) {
      const view = { ...viewOf(app.store.state.ui), camera };
      const now = mid(p, q);
      const moved = panned(view, { x: now.x - start.mid.x, y: now.y - start.mid.y });
      app.store.setUi({ camera: zoomed({ ...view, camera: moved }, apart(p, q) / start.apart, now) });
    },
  };
}

/** @param {Px} a @param {Px} b @returns {Px} */
function mid(a, b) {
  return { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 };
}

/** @param {Px} a @param {Px} b @returns {number} at least 1 */
function apart(a, b) {
  return Math.max(1, Math.hypot(b.x - a.x, b.y - a.y));
}
