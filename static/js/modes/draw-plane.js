// Drawing a roof plane, eave first.

import { addPlane } from '../commands/index.js';
import { newPlane, nextPitchDeg } from '../model/defaults.js';
import { drawRing } from './draw-ring.js';
import { select } from './select.js';

/** @import {App, Mode} from './machine.js' */
/** @import {Point} from '../model/types.js' */

/** @param {App} app @param {Point[]} [points] corners placed before @returns {Mode} */
export function drawPlane(app, points) {
  return drawRing(app, {
    mode: 'draw-plane',
    what: 'plane',
    noun: 'plane',
    firstHint: 'Click one end of the eave',
    pitchDeg: nextPitchDeg(app.store.state.doc),
    points,
    finish(ring) {
      const plane = newPlane(app.store.state.doc, ring);
      app.store.run('Draw plane', addPlane({ plane }));
      app.store.setUi({ selection: { items: [{ type: 'plane', id: plane.id }], corner: null, edge: null } });
      app.modes.go(select(app));
    },
  });
}
