// Handles of the one selected shape. What can be grabbed is told by the hit
// test, whose reach on touch is 44 px; these are only the marks.

import { cornerAt, midpoint, toScreen, viewOf } from '../model/geometry.js';
import { MIDDLE_MIN_PX } from '../model/hit.js';
import { liveSelection, selectedRing } from '../model/selection.js';
import { n, svg } from './svg.js';

/** @import {State} from '../model/store.js' */

const HANDLE_PX = 10;

/** @param {State} state @returns {unknown[]} */
export function handleInputs({ doc, ui }) {
  return [doc.planes, doc.keep_outs, ui.camera, ui.board, ui.viewBearingDeg, ui.selection];
}

/** @param {State} state @returns {Node[]} */
export function drawHandles(state) {
  const sel = selectedRing(state);
  if (!sel) return [];
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
