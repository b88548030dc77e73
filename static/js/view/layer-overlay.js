// What the active mode draws: the outline so far, snaps with their guides, and
// the readings beside the pointer.

import { cornerAt, toScreen, viewOf } from '../model/geometry.js';
import { textWidthPx } from './label-room.js';
import { n, pathOf, svg } from './svg.js';

/** @import {State} from '../model/store.js' */
/** @import {Overlay, Tip} from '../model/types.js' */
/** @import {Px, ViewFrame} from '../model/geometry.js' */

const TIP_LINE_PX = 18;
const TIP_SIZE_PX = 13;
/** The readings keep clear of the pointer, and of the finger that hides what is below it. */
const TIP_GAP_PX = 18;

/** @param {State} state @returns {unknown[]} */
export function overlayInputs({ doc, ui }) {
  return [ui.overlay, ui.camera, ui.board, ui.viewBearingDeg, doc.planes];
}

/** @param {State} state @returns {Node[]} */
export function drawOverlay(state) {
  const { overlay } = state.ui;
  const view = viewOf(state.ui);
  return [...pickedEdge(state, view), ...ghosts(overlay, view), ...guides(overlay, view), ...draft(overlay, view), ...box(overlay), ...snapMark(overlay, view), ...tip(overlay, view)];
}

/** @param {State} state @param {ViewFrame} view @returns {Node[]} */
function pickedEdge({ doc, ui }, view) {
  const pick = ui.overlay.edge;
  const ring = pick ? doc.planes.find((p) => p.id === pick.id)?.ring : undefined;
  if (!pick || !ring?.[pick.index]) return [];
  const d = pathOf([ring[pick.index], cornerAt(ring, pick.index + 1)].map((p) => toScreen(view, p)), false);
  return [svg('path', { class: 'picked-edge', d, 'data-testid': 'picked-edge' })];
}

/** @param {Overlay} overlay @param {ViewFrame} view @returns {Node[]} modules on their way; one that is refused is hatched, crossed out and broken in outline */
function ghosts(overlay, view) {
  return overlay.ghosts.flatMap(({ ring, refused }) => {
    const at = ring.map((p) => toScreen(view, p));
    const ground = svg('path', { class: 'ghost-ground', d: pathOf(at) });
    if (!refused) return [ground, svg('path', { class: 'ghost', d: pathOf(at), 'data-testid': 'ghost' })];
    const cross = pathOf([at[0], at[2]], false) + pathOf([at[1], at[3]], false);
    return [
      ground,
      svg('path', { class: 'ghost refused', d: pathOf(at), fill: 'url(#ghost-refused)', 'data-testid': 'ghost', 'data-refused': true }),
      svg('path', { class: 'ghost-cross', d: cross }),
    ];
  });
}

/** @param {Overlay} overlay @returns {Node[]} */
function box({ box: drawn }) {
  if (!drawn) return [];
  const { from, to } = drawn;
  const d = pathOf([from, { x: to.x, y: from.y }, to, { x: from.x, y: to.y }]);
  return [svg('path', { class: 'pick-box', d, 'data-testid': 'pick-box' })];
}

/** @param {Overlay} overlay @param {ViewFrame} view @returns {Node[]} */
function guides(overlay, view) {
  return overlay.guides.map((g) => {
    const d = pathOf([toScreen(view, g.from), toScreen(view, g.to)], false);
    return svg('path', { class: 'guide', d, 'data-testid': 'guide' });
  });
}

/** @param {Overlay} overlay @param {ViewFrame} view @returns {Node[]} */
function draft(overlay, view) {
  const ring = overlay.ring.map((p) => toScreen(view, p));
  if (ring.length === 0) return [];
  if (overlay.closed) return [svg('path', { class: `draft ${overlay.what}`, d: pathOf(ring), 'data-testid': 'draft' })];
  // Until the pointer moves, as on a page that was loaded again, all are placed.
  const placed = ring.slice(0, overlay.outline?.points.length ?? -1);
  /** @type {Node[]} */
  const nodes = [];
  if (ring.length >= 3) nodes.push(svg('path', { class: `draft-area ${overlay.what}`, d: pathOf(ring) }));
  if (placed.length > 1) nodes.push(svg('path', { class: `draft ${overlay.what}`, d: pathOf(placed, false), 'data-testid': 'draft' }));
  if (placed.length > 0 && placed.length < ring.length) nodes.push(svg('path', { class: 'draft-next', d: pathOf(ring.slice(-2), false) }));
  for (const [i, p] of placed.entries()) {
    nodes.push(svg('circle', { class: `draft-corner${i === 0 ? ' first' : ''}`, cx: n(p.x), cy: n(p.y), r: i === 0 && placed.length >= 3 ? 7 : 3.5, 'data-testid': 'draft-corner' }));
  }
  return nodes;
}

/** @param {Overlay} overlay @param {ViewFrame} view @returns {Node[]} */
function snapMark(overlay, view) {
  if (!overlay.snap) return [];
  const p = toScreen(view, overlay.snap);
  /** @type {Node[]} */
  const nodes = [svg('circle', { class: 'snap-mark', cx: n(p.x), cy: n(p.y), r: 6, 'data-testid': 'snap' })];
  // With readings on screen the word joins them, so that nothing overlaps.
  if (!overlay.tip) nodes.push(...tip({ ...overlay, tip: { at: p, lines: [], field: null } }, view));
  return nodes;
}

/** @param {Overlay} overlay @param {ViewFrame} view @returns {Node[]} */
function tip(overlay, view) {
  const t = overlay.tip;
  if (!t) return [];
  const lines = [...t.lines, ...(overlay.snapWord ? [overlay.snapWord] : [])];
  const rows = lines.length + (t.field ? 1 : 0);
  if (rows === 0) return [];
  const field = t.field ? `${t.field.text} ${t.field.label}` : '';
  const wide = Math.max(...[...lines, field].map((s) => textWidthPx(s, TIP_SIZE_PX))) + 20;
  const high = rows * TIP_LINE_PX + 12;
  const at = tipPlace(t, view, wide, high);
  return [
    svg('g', { class: 'tip', transform: `translate(${n(at.x)} ${n(at.y)})`, 'data-testid': 'tip' }, [
      svg('rect', { class: 'tip-ground', width: n(wide), height: high, rx: 4 }),
      ...(t.field ? tipField(t.field, wide) : []),
      ...lines.map((text, i) =>
        svg('text', { class: `tip-line${text === overlay.snapWord ? ' snap-word' : ''}`, x: 10, y: 6 + (i + (t.field ? 1 : 0)) * TIP_LINE_PX + 13 }, [text]),
      ),
    ]),
  ];
}

/** @param {NonNullable<Tip['field']>} field @param {number} wide @returns {Node[]} */
function tipField(field, wide) {
  return [
    svg('rect', { class: 'tip-field', x: 5, y: 4, width: n(wide - 10), height: TIP_LINE_PX + 2, rx: 3 }),
    svg('text', { class: 'tip-typed', x: 10, y: 19, 'data-testid': 'typed-length' }, [
      field.text,
      svg('tspan', { class: 'tip-unit', dx: 5 }, [field.label]),
    ]),
  ];
}

/** @param {Tip} t @param {ViewFrame} view @param {number} wide @param {number} high @returns {Px} right of and above the pointer, turned over at the borders */
function tipPlace(t, view, wide, high) {
  const right = t.at.x + TIP_GAP_PX;
  const above = t.at.y - TIP_GAP_PX - high;
  return {
    x: right + wide > view.board.widthPx - 4 ? Math.max(4, t.at.x - TIP_GAP_PX - wide) : right,
    y: above < 4 ? t.at.y + TIP_GAP_PX : above,
  };
}
