// Nothing is being drawn: hovering, choosing, and starting to drag.

import { insertCorner } from '../commands/index.js';
import { modulesOn } from '../model/hand.js';
import { hit, hitModule } from '../model/hit.js';
import { liveSelection, nameOf, pickSelection, selectedRing } from '../model/selection.js';
import { draw, keepSound, planAt } from './shared.js';
import { nearestOnSegment, cornerAt } from '../model/geometry.js';
import { modules } from './modules.js';
import { pointing } from './pointing.js';

/** @import {App, Mode, PointerInput} from './machine.js' */
/** @import {Hit} from '../model/hit.js' */
/** @import {State} from '../model/store.js' */

/** @type {Record<Hit['kind'], string>} */
const CURSORS = { corner: 'move', middle: 'copy', edge: 'pointer', item: 'pointer', none: 'default' };

/** @param {App} app @param {string} [note] what just happened, shown until the selection or the drawing changes @returns {Mode} */
export function select(app, note = '') {
  let stop = () => {};
  return {
    name: 'select',
    enter() {
      stop();
      app.store.setUi({ mode: 'select', status: note || restingStatus(app.store.state), cursor: 'default' });
      // Panels change the selection and the drawing too.
      stop = app.store.subscribe((now, before) => {
        if (now.ui.selection === before.ui.selection && now.doc === before.doc && now.ui.around === before.ui.around && now.ui.light.on === before.ui.light.on) return;
        const status = restingStatus(now);
        if (now.ui.status === before.ui.status && now.ui.status !== status) app.store.setUi({ status });
      });
    },
    exit() {
      stop();
      draw(app, {});
    },
    down: (e) => app.modes.go(pointing(app, e)),
    move(e) {
      const cursor = CURSORS[hit(app.store.state, e.at, e.device).kind];
      if (cursor !== app.store.state.ui.cursor) app.store.setUi({ cursor });
    },
    up() {},
    cancel() {},
    double: (e) => splitEdge(app, e) || reachModule(app, e),
    key: () => false,
  };
}

/** @param {State} state @returns {string} what can be done now */
export function restingStatus(state) {
  const { items, corner, edge } = liveSelection(state);
  if (items.length === 0 && state.ui.around) return 'Surroundings: click a tree or a building to select it. Y: place a tree. Escape: back to the roof.';
  if (items.length === 0 && state.ui.light.on) return 'Light: click a module for its months, or a shape to select it. V: back to the drawing alone.';
  if (items.length === 0) {
    return state.doc.planes.length === 0
      ? 'Choose Draw plane, then click the corners of a roof plane, eave first.'
      : 'Click a shape to select it. Drag the paper to move the view.';
  }
  if (items.length > 1) return `${items.length} shapes selected. Drag or use the arrow keys to move them. Escape: select nothing.`;
  const name = nameOf(state.doc, items[0]);
  if (corner !== null) return `${name}, corner ${corner + 1}. Arrow keys move it, Delete takes it out. Escape: the whole shape.`;
  if (edge !== null) return `${name}, edge ${edge + 1}. Drag to move it, double click to put a corner in. Escape: the whole shape.`;
  const inside = items[0].type === 'plane' ? ' Double click for its modules.' : '';
  return `${name} selected. Drag to move it, drag a handle to reshape it.${inside} Escape: select nothing.`;
}

/** @param {App} app @param {PointerInput} e a plane was double clicked: its modules are worked on */
function reachModule(app, e) {
  const { state } = app.store;
  const h = hit(state, e.at, e.device);
  if (h.kind !== 'item' || h.item.type !== 'plane') return;
  const found = hitModule(state, e.at, e.device);
  app.store.setUi({ selection: found ? pickSelection(found.planeId, [modulesOn(state, found.planeId)[found.index].module]) : pickSelection(h.item.id, []) });
  app.modes.go(modules(app));
}

/** @param {App} app @param {PointerInput} e @returns {boolean} whether there was an edge to split */
function splitEdge(app, e) {
  const sel = selectedRing(app.store.state);
  const h = hit(app.store.state, e.at, e.device);
  if (!sel?.free || (h.kind !== 'edge' && h.kind !== 'middle')) return false;
  const { at } = nearestOnSegment(planAt(app, e.at), sel.ring[h.index], cornerAt(sel.ring, h.index + 1));
  const before = app.store.state.doc;
  app.store.begin('Insert corner');
  app.store.preview(insertCorner({ type: sel.item.type, id: sel.item.id, after: h.index, at }));
  const fault = keepSound(app, before);
  if (!fault) app.store.setUi({ selection: { items: [sel.item], corner: h.index + 1, edge: null } });
  app.modes.go(select(app, fault));
  return true;
}
