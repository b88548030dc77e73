// Handles of the one selected shape, or the outlines of selected modules. What can be grabbed is told by the hit
// test, whose reach on touch is 44 px; these are only the marks.

import { cornerAt, midpoint, toScreen, viewOf } from '../model/geometry.js';
import { MIDDLE_MIN_PX } from '../model/hit.js';
import { livePicks, liveSelection, selectedRing } from '../model/selection.js';
import { n, pathOf, svg } from './svg.js';

/** @import {State} from '../model/store.js' */

const HANDLE_PX = 10;

/** @param {State} state @returns {unknown[]} */
export function handleInputs({ doc, ui, result, resultOf }) {
  // What modules stand where matters only while they are worked on.
  const modules = ui.selection.modules ? [doc.hand, doc.candidates, result, resultOf, ui.shown, ui.overlay.lifted] : [];
  return [...modules, doc.planes, doc.keep_outs, doc.surroundings, ui.camera, ui.board, ui.viewBearingDeg, ui.selection];
}

/** @param {State} state @returns {Node[]} */
export function drawHandles(state) {
  const sel = selectedRing(state);
  if (!sel) return pickedModules(state);
  const view = viewOf(state.ui);
  const { corner } = liveSelection(state);
  const middles = sel.free
    ? sel.ring.flatMap((a, i) => {
        const b = cornerAt(sel.ring, i + 1);
        const [p, q] = [toScreen(view, a), toScreen(view, b)];
        if (Math.hypot(q.x - p.x, q.y - p.y) < MIDDLE_MIN_PX) return [];
        const m = toScreen(view, midpoint(a, b));
        return [svg('circle', { class: 'handle-middle', cx: n(m.x), cy: n(m.y), r: 4, 'data-testid': 'middle', 'data-index': i })];
      })
    : [];
  const corners = sel.ring.map((p, i) => {
    const c = toScreen(view, p);
    return svg('rect', {
      class: `handle${i === corner ? ' chosen' : ''}`,
      x: n(c.x - HANDLE_PX / 2),
      y: n(c.y - HANDLE_PX / 2),
      width: HANDLE_PX,
      height: HANDLE_PX,
      'data-testid': 'handle',
      'data-index': i,
    });
  });
  return [...middles, ...corners];
}

/** @param {State} state @returns {Node[]} the plane that is worked on, and the selected modules that are not on their way */
function pickedModules(state) {
  const picks = livePicks(state);
  if (!picks) return [];
  const view = viewOf(state.ui);
  const plane = svg('path', { class: 'module-plane', d: pathOf(picks.plane.ring.map((p) => toScreen(view, p))) });
  const lifted = new Set(state.ui.overlay.lifted);
  const marks = picks.picked
    .map((i) => picks.modules[i])
    .filter((m) => !lifted.has(m.module))
    .map((m) => svg('path', { class: 'module-picked', d: pathOf(m.ring.map((p) => toScreen(view, p))), 'data-testid': 'module-picked' }));
  return [plane, ...marks];
}
