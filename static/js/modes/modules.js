// Modules are worked on: clicks select modules instead of shapes. A click
// takes a module, a second one its row.

import { hitModule } from '../model/hit.js';
import { shownCandidate } from '../model/hand.js';
import { letterOf, modulesWord } from '../model/hand-words.js';
import { livePicks, pickSelection } from '../model/selection.js';
import { NOTHING } from '../model/store.js';
import { addModules } from './modules-add.js';
import { boxModules } from './modules-box.js';
import { turnPicks } from './modules-edits.js';
import { pressModules } from './modules-pointing.js';
import { select } from './select.js';
import { draw } from './shared.js';

/** @import {App, Mode} from './machine.js' */
/** @import {State} from '../model/store.js' */

/** @param {App} app @param {string} [note] what just happened, shown until the selection or the drawing changes @returns {Mode} */
export function modules(app, note = '') {
  let stop = () => {};
  return {
    name: 'modules',
    enter() {
      stop();
      app.store.setUi({ mode: 'modules', status: note || restingStatus(app.store.state), cursor: 'default' });
      stop = app.store.subscribe((now, before) => {
        if (now.ui.selection === before.ui.selection && now.doc === before.doc && now.ui.shown === before.ui.shown) return;
        // A panel chose a shape, or nothing: that is what is worked on then.
        if (!now.ui.selection.modules) return app.modes.go(select(app));
        const status = restingStatus(now);
        if (now.ui.status === before.ui.status && now.ui.status !== status) app.store.setUi({ status });
      });
    },
    exit() {
      stop();
      app.store.cancel();
      draw(app, {});
    },
    down: (e) => app.modes.go(pressModules(app, e)),
    move(e) {
      const cursor = hitModule(app.store.state, e.at, e.device) ? 'pointer' : 'default';
      if (cursor !== app.store.state.ui.cursor) app.store.setUi({ cursor });
    },
    up() {},
    cancel: () => app.store.cancel(),
    key(e) {
      if (e.ctrl || e.alt || e.shift) return false;
      switch (e.key.toLowerCase()) {
        case 'escape': less(app); break;
        case 'm': leave(app); break;
        case 'a': app.modes.go(addModules(app)); break;
        case 'b': app.modes.go(boxModules(app, null)); break;
        case 'r': turnPicks(app); break;
        default: return false;
      }
      return true;
    },
  };
}

/**
 * Starts to work on modules, of the plane that is selected if there is one.
 * @param {App} app
 */
export function enterModules(app) {
  const { doc, ui } = app.store.state;
  const plane = ui.selection.items.find((i) => i.type === 'plane')?.id ?? doc.planes.find((p) => p.use)?.id ?? '';
  app.store.setUi({ selection: pickSelection(plane, []), around: false });
  app.modes.go(modules(app));
}

/** @param {App} app back to shapes, with the plane selected whose modules were worked on */
export function leave(app) {
  const plane = livePicks(app.store.state)?.plane;
  app.store.setUi({ selection: plane ? { items: [{ type: 'plane', id: plane.id }], corner: null, edge: null } : NOTHING });
  app.modes.go(select(app));
}

/** @param {App} app a gesture is put back, or the modules are let go, or then the work on modules */
function less(app) {
  if (app.store.state.inGesture) return app.modes.go(modules(app));
  const picks = livePicks(app.store.state);
  if (!picks || picks.picked.length === 0) return leave(app);
  app.store.setUi({ selection: pickSelection(picks.plane.id, []) });
  app.modes.go(modules(app));
}

/** @param {State} state @returns {string} what can be done now */
export function restingStatus(state) {
  const n = livePicks(state)?.picked.length ?? 0;
  const letter = letterOf(state.doc, shownCandidate(state)?.id);
  if (n === 0) return `Modules of ${letter}: click one, or drag a box from the paper. A: add modules. Escape: back to the roof.`;
  return `${modulesWord(n)} of ${letter} selected. Drag or arrows: move. R: turn. Delete: remove.${n === 1 ? ' Click again: its row.' : ''} Escape: clear.`;
}
