// A corner of a rectangle or the rim of a circle follows the pointer.

import { resizeKeepOut } from '../commands/index.js';
import { nameOf } from '../model/selection.js';
import { snapTargets } from '../model/snap.js';
import { select } from './select.js';
import { draw, keepSound, snapAt, snapMarks } from './shared.js';
import { sizeLines } from './readings.js';

/** @import {App, Mode} from './machine.js' */
/** @import {Item} from '../model/types.js' */

/** @param {App} app @param {Item} item a keep-out of fixed form @param {number} index of its corner @returns {Mode} */
export function dragSize(app, item, index) {
  const before = app.store.state.doc;
  const targets = snapTargets(before, { items: new Set([item.id]) });
  return {
    name: 'drag-size',
    enter() {
      app.store.begin('Resize keep-out');
      const status = `Resizing ${nameOf(before, item)}. Let go to place. Shift: no snapping. Escape: put back.`;
      app.store.setUi({ mode: 'drag-size', status, cursor: 'grabbing' });
    },
    exit() {
      app.store.cancel();
      draw(app, {});
    },
    down() {},
    move(e) {
      // Something else took the gesture's place, such as an edit in a panel.
      if (!app.store.state.inGesture) return app.modes.go(select(app));
      const caught = snapAt(app, e, { targets });
      app.store.preview(resizeKeepOut({ id: item.id, index, to: caught.at }));
      const k = app.store.state.doc.keep_outs.find((q) => q.id === item.id);
      const tip = k ? { at: e.at, lines: sizeLines(app.store.state.doc, k), field: null } : null;
      draw(app, { ...snapMarks(caught), tip });
    },
    up() {
      app.modes.go(select(app, keepSound(app, before)));
    },
    cancel: () => app.modes.go(select(app)),
    key(e) {
      if (e.key === 'Escape') app.modes.go(select(app));
      return true;
    },
  };
}
