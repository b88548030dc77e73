// Drawing the outline of an obstruction or of a shade area.

import { addKeepOut } from '../commands/index.js';
import { newKeepOut } from '../model/defaults.js';
import { drawRing } from './draw-ring.js';
import { select } from './select.js';

/** @import {App, Mode} from './machine.js' */
/** @import {Point} from '../model/types.js' */

/** @param {App} app @param {'other'|'shade'} kind @param {Point[]} [points] corners placed before @returns {Mode} */
export function drawOutline(app, kind, points) {
  const shade = kind === 'shade';
  return drawRing(app, {
    mode: shade ? 'draw-shade' : 'draw-obstruction',
    what: shade ? 'shade' : 'obstruction',
    noun: shade ? 'shade area' : 'obstruction',
    firstHint: `Click a corner of the ${shade ? 'shade area' : 'obstruction'}`,
    pitchDeg: null,
    points,
    finish(ring) {
      const points = ring.map((p) => ({ x_m: p.x_m, y_m: p.y_m }));
      const keepOut = { ...newKeepOut(app.store.state.doc, kind, 'polygon'), points };
      app.store.run(shade ? 'Mark shade' : 'Mark obstruction', addKeepOut({ keepOut }));
      app.store.setUi({ selection: { items: [{ type: 'keepout', id: keepOut.id }], corner: null, edge: null } });
      app.modes.go(select(app));
    },
  });
}
