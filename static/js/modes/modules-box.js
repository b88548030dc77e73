// A box is drawn around the modules to select. Shift adds to those selected.

import { modulesInBox } from '../model/hit.js';
import { modulesOn } from '../model/hand.js';
import { livePicks, pickSelection } from '../model/selection.js';
import { modules } from './modules.js';
import { draw } from './shared.js';

/** @import {App, Mode, PointerInput} from './machine.js' */
/** @import {Selection} from '../model/types.js' */

/** @param {App} app @param {PointerInput|null} start the press, or null when it is yet to come @returns {Mode} */
export function boxModules(app, start) {
  let from = start?.at ?? null;
  let more = start?.shift ?? false;
  const status = () => (from ? 'Let go to select the modules whose middle is in the box. Escape: leave the selection.' : 'Drag a box around the modules to select. Escape: leave the selection.');
  return {
    name: 'modules-box',
    enter: () => draw(app, {}, { mode: 'modules-box', status: status(), cursor: 'crosshair' }),
    exit: () => draw(app, {}),
    down(e) {
      [from, more] = [e.at, e.shift];
      app.store.setUi({ status: status() });
    },
    move(e) {
      if (from) draw(app, { box: { from, to: e.at } });
    },
    up(e) {
      if (!from) return;
      app.store.setUi({ selection: boxed(app, from, e.at, more) });
      app.modes.go(modules(app));
    },
    cancel: () => app.modes.go(modules(app)),
    key(e) {
      if (e.key !== 'Escape') return false;
      app.modes.go(modules(app));
      return true;
    },
  };
}

/** @param {App} app @param {PointerInput['at']} a @param {PointerInput['at']} b @param {boolean} more @returns {Selection} */
function boxed(app, a, b, more) {
  const { state } = app.store;
  const found = modulesInBox(state, a, b);
  const picks = livePicks(state);
  if (!found) return more ? state.ui.selection : pickSelection(picks?.plane.id ?? '', []);
  const before = more && picks?.plane.id === found.planeId ? picks.picked : [];
  const list = modulesOn(state, found.planeId);
  return pickSelection(found.planeId, [...new Set([...before, ...found.indices])].map((i) => list[i].module));
}
