// A corner of a rectangle, the rim of a circle or of a crown follows the pointer.

import { resizeKeepOut, resizeTree } from '../commands/index.js';
import { treeOf } from '../model/around.js';
import { itemWord, nameOf } from '../model/selection.js';
import { snapTargets } from '../model/snap.js';
import { select } from './select.js';
import { draw, keepSound, snapAt, snapMarks } from './shared.js';
import { crownLines, sizeLines } from './readings.js';

/** @import {App, Mode} from './machine.js' */
/** @import {Doc, Item, Point} from '../model/types.js' */

/** @param {App} app @param {Item} item a keep-out of fixed form, or a tree @param {number} index of its corner @returns {Mode} */
export function dragSize(app, item, index) {
  const before = app.store.state.doc;
  const targets = snapTargets(before, { items: new Set([item.id]) });
  return {
    name: 'drag-size',
    enter() {
      app.store.begin(`Resize ${itemWord(item)}`);
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
      app.store.preview(resizeItem(item, index, caught.at));
      const lines = itemLines(app.store.state.doc, item);
      const tip = lines.length > 0 ? { at: e.at, lines, field: null } : null;
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

/** @param {Item} item @param {number} index of its corner @param {Point} to @returns {(doc: Doc) => Doc} */
export function resizeItem({ type, id }, index, to) {
  return type === 'tree' ? resizeTree({ id, to }) : resizeKeepOut({ id, index, to });
}

/** @param {Doc} doc @param {Item} item @returns {string[]} its own measures */
function itemLines(doc, { type, id }) {
  const tree = type === 'tree' ? treeOf(doc, id) : undefined;
  if (tree) return crownLines(doc, tree);
  const k = doc.keep_outs.find((q) => q.id === id);
  return k ? sizeLines(doc, k) : [];
}
