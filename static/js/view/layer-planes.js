// Roof planes: the wash with the parts that setbacks take away below the
// modules, the outlines above them.

import { cornerAt, normDeg, outwardBearingDeg, signedAreaM2, sinCos, toScreen, viewOf } from '../model/geometry.js';
import { isWidened } from '../model/outcome.js';
import { liveSelection } from '../model/selection.js';
import { edgePieces } from './edge-pieces.js';
import { pathOf, svg } from './svg.js';

/** @import {State} from '../model/store.js' */
/** @import {Plane, Point} from '../model/types.js' */
/** @import {EdgePiece} from './edge-pieces.js' */
/** @import {Px, ViewFrame} from '../model/geometry.js' */

/** Zones that are drawn; shade is drawn as the area it is. */
const DRAWN_ZONES = new Set(['setback', 'path', 'keep_out']);
/** The eave's second line lies this far inside. */
const EAVE_GAP_PX = 4;

/** @param {State} state @returns {unknown[]} */
export function planeInputs({ doc, ui, result }) {
  return [doc.planes, ui.camera, ui.board, ui.viewBearingDeg, ui.selection, ui.shown, result];
}

/** @param {State} state @returns {Node[]} */
export function drawWashes(state) {
  const view = viewOf(state.ui);
  const chosen = selectedIds(state);
  return state.doc.planes.map((plane) => {
    const clipId = `clip-${plane.id}`;
    const outline = pathOf(plane.ring.map((p) => toScreen(view, p)));
    return svg(
      'g',
      { class: `plane${plane.use ? '' : ' unused'}${chosen.has(plane.id) ? ' selected' : ''}`, 'data-testid': 'plane', 'data-id': plane.id },
      [
        svg('clipPath', { id: clipId }, [svg('path', { d: outline })]),
        svg('path', { class: 'plane-wash', d: outline }),
        ...zoneLines(state, view, plane, clipId),
      ],
    );
  });
}

/**
 * The line where setbacks and paths end. Every zone is stroked, then all are
 * filled over, which leaves the outer line of their union.
 * @param {State} state @param {ViewFrame} view @param {Plane} plane @param {string} clipId
 * @returns {Node[]}
 */
function zoneLines(state, view, plane, clipId) {
  const found = state.result?.planes.find((p) => p.id === plane.id);
  const candidate = state.result?.candidates.find((c) => c.id === state.ui.shown);
  const zones = (candidate && isWidened(candidate) ? found?.wide_zones : found?.zones) ?? [];
  /** @param {(why: string) => boolean} isDrawn */
  const rings = (isDrawn) => zones.filter((z) => isDrawn(z.why)).map((z) => pathOf(z.ring.map(([x_m, y_m]) => toScreen(view, { x_m, y_m })))).join('');
  const [dark, d] = [rings((why) => why === 'dark'), rings((why) => DRAWN_ZONES.has(why))];
  if (!d && !dark) return [];
  return [
    svg('g', { 'clip-path': `url(#${clipId})`, 'data-testid': 'zones' }, [
      ...(dark ? [svg('path', { class: 'dark-line', d: dark, 'data-testid': 'dark-zone' }), svg('path', { class: 'zone-fill', d: dark })] : []),
      ...(d ? [svg('path', { class: 'zone-line', d }), svg('path', { class: 'zone-fill', d })] : []),
    ]),
  ];
}

/** @param {State} state @returns {Set<string>} */
function selectedIds(state) {
  return new Set(liveSelection(state).items.filter((i) => i.type === 'plane').map((i) => i.id));
}

/** @param {State} state @returns {Node[]} selected outlines last, so that they lie on top */
export function drawOutlines(state) {
  const view = viewOf(state.ui);
  const chosen = selectedIds(state);
  const { edge } = liveSelection(state);
  const groups = state.doc.planes.map((plane) => ({
    on: chosen.has(plane.id),
    node: svg(
      'g',
      { class: `outline${plane.use ? '' : ' unused'}${chosen.has(plane.id) ? ' selected' : ''}`, 'data-testid': 'outline', 'data-id': plane.id },
      edgePieces(plane, state.result, state.resultOf).flatMap((piece) =>
        pieceLines(view, plane, piece, chosen.has(plane.id) && piece.index === edge),
      ),
    ),
  }));
  return groups.sort((a, b) => Number(a.on) - Number(b.on)).map((g) => g.node);
}

/** @param {ViewFrame} view @param {Plane} plane @param {EdgePiece} piece @param {boolean} chosen @returns {Node[]} */
function pieceLines(view, plane, piece, chosen) {
  const ends = [piece.from, piece.to];
  // Planes that meet draw the same line; one direction makes dashes coincide.
  if (ends[0].x_m > ends[1].x_m || (ends[0].x_m === ends[1].x_m && ends[0].y_m > ends[1].y_m)) ends.reverse();
  const line = svg('path', {
    class: `edge edge-${piece.kind || 'unknown'}${chosen ? ' chosen' : ''}`,
    'data-kind': piece.kind,
    d: pathOf(ends.map((p) => toScreen(view, p)), false),
  });
  if (piece.kind !== 'eave') return [line];
  return [line, svg('path', { class: 'edge edge-inner', d: pathOf(innerLine(view, plane.ring, piece), false) })];
}

/** @param {ViewFrame} view @param {Point[]} ring @param {EdgePiece} piece @returns {Px[]} the piece a little inside, cut back where the outline bends inwards */
function innerLine(view, ring, piece) {
  const { sin, cos } = sinCos(outwardBearingDeg(ring, piece.index) - view.bearingDeg);
  const [a, b] = [toScreen(view, piece.from), toScreen(view, piece.to)];
  const length = Math.hypot(b.x - a.x, b.y - a.y) || 1;
  const along = { x: (b.x - a.x) / length, y: (b.y - a.y) / length };
  const [cutA, cutB] = [cutAt(ring, piece.index), cutAt(ring, piece.index + 1)].map((c) => Math.min(c * EAVE_GAP_PX, length / 2));
  const inset = { x: -sin * EAVE_GAP_PX, y: cos * EAVE_GAP_PX };
  return [
    { x: a.x + inset.x + along.x * cutA, y: a.y + inset.y + along.y * cutA },
    { x: b.x + inset.x - along.x * cutB, y: b.y + inset.y - along.y * cutB },
  ];
}

/** @param {Point[]} ring @param {number} i @returns {number} how far the inner line shortens at a corner for each unit of inset: cot of half the inner angle */
function cutAt(ring, i) {
  const turn = signedAreaM2(ring) >= 0 ? 1 : -1;
  const bend = normDeg((edgeBearing(ring, i - 1) - edgeBearing(ring, i)) * turn);
  const deg = bend > 180 ? bend - 360 : bend;
  return Math.max(-2, Math.min(2, Math.tan((deg * Math.PI) / 360)));
}

/** @param {Point[]} ring @param {number} i @returns {number} */
function edgeBearing(ring, i) {
  const [a, b] = [cornerAt(ring, i), cornerAt(ring, i + 1)];
  return (Math.atan2(b.x_m - a.x_m, b.y_m - a.y_m) * 180) / Math.PI;
}
