// Pressed while modules are worked on, not yet dragging.

import { railRun } from '../model/hand-rows.js';
import { planeUnder } from '../model/geometry.js';
import { modulesOn } from '../model/hand.js';
import { hitModule } from '../model/hit.js';
import { livePicks, pickSelection } from '../model/selection.js';
import { boxModules } from './modules-box.js';
import { dragModules } from './modules-drag.js';
import { modules } from './modules.js';
import { pan } from './pan.js';
import { draw, isDrag, planAt } from './shared.js';

/** @import {App, Mode, PointerInput} from './machine.js' */
/** @import {ModuleHit} from '../model/hit.js' */
/** @import {Selection} from '../model/types.js' */

/** @param {App} app @param {PointerInput} start the press @returns {Mode} */
export function pressModules(app, start) {
  const pressed = hitModule(app.store.state, start.at, start.device);
  return {
    name: 'modules-pointing',
    enter: () => app.store.setUi({ mode: 'modules-pointing' }),
    exit: () => draw(app, {}),
    down() {},
    move(e) {
      if (!isDrag(start.at, e.at, start.device)) return;
      const mode = dragFor(app, pressed, start);
      app.modes.go(mode);
      mode.move(e);
    },
    up() {
      app.store.setUi({ selection: clicked(app, pressed, start) });
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

/** @param {App} app @param {ModuleHit|null} pressed @param {PointerInput} start @returns {Mode} */
function dragFor(app, pressed, start) {
  // From the paper, or from anywhere with Shift, a box is drawn.
  if (start.device !== 'touch' && (!pressed || start.shift)) return boxModules(app, start);
  if (pressed && isPicked(app, pressed)) return dragModules(app, start);
  // A finger that slides over the roof means to move the paper.
  if (!pressed || start.device === 'touch') return pan(app, start, () => app.modes.go(modules(app)));
  app.store.setUi({ selection: only(app, pressed, [pressed.index]) });
  return dragModules(app, start);
}

/** @param {App} app @param {ModuleHit|null} pressed @param {PointerInput} start @returns {Selection} */
function clicked(app, pressed, start) {
  const { state } = app.store;
  const picks = livePicks(state);
  if (!pressed) {
    if (start.shift) return state.ui.selection;
    const plane = planeUnder(state.doc, planAt(app, start.at)) ?? picks?.plane;
    return pickSelection(plane?.id ?? '', []);
  }
  const here = picks?.plane.id === pressed.planeId ? picks.picked : [];
  if (start.shift) {
    const rest = here.filter((i) => i !== pressed.index);
    return only(app, pressed, rest.length < here.length ? rest : [...here, pressed.index]);
  }
  const again = here.length === 1 && here[0] === pressed.index;
  return only(app, pressed, again ? railRun(modulesOn(state, pressed.planeId).map((m) => m.box), pressed.index, state.doc.rules) : [pressed.index]);
}

/** @param {App} app @param {ModuleHit} on @param {number[]} indices @returns {Selection} */
function only(app, { planeId }, indices) {
  const list = modulesOn(app.store.state, planeId);
  return pickSelection(planeId, indices.map((i) => list[i].module));
}

/** @param {App} app @param {ModuleHit} pressed @returns {boolean} */
function isPicked(app, pressed) {
  const picks = livePicks(app.store.state);
  return picks?.plane.id === pressed.planeId && picks.picked.includes(pressed.index);
}
