// The modules of the candidate that is shown. They are drawn in plan metres
// inside one transformed group, so that panning and zooming touch one
// attribute and not a thousand elements.

import { sinCos, toScreen, viewOf } from '../model/geometry.js';
import { n, svg } from './svg.js';

/** @import {State} from '../model/store.js' */
/** @import {LayoutResult, Module, Point} from '../model/types.js' */

/** Local origins lie on a raster this wide: screen graphics have 24 bits, too few for far-off plan metres. */
const ORIGIN_STEP_M = 200;

/** @param {State} state @returns {Point} */
function originOf({ ui }) {
  /** @param {number} m */
  const step = (m) => Math.round(m / ORIGIN_STEP_M) * ORIGIN_STEP_M;
  return { x_m: step(ui.camera.x_m), y_m: step(ui.camera.y_m) };
}

/** @param {State} state @returns {{letter: string, layout: LayoutResult}|null} what is shown of the last evaluation */
export function shownLayout({ doc, ui, result }) {
  const c = result?.candidates.find((x) => x.id === ui.shown);
  if (!c) return null;
  return { letter: c.letter, layout: doc.target.mode === 'size' && c.size ? c.size.layout : c.fill };
}

/** @param {State} state @returns {unknown[]} */
export function moduleInputs(state) {
  const { x_m, y_m } = originOf(state);
  return [state.result, state.ui.shown, state.doc.target.mode, state.doc.planes.map((p) => p.id).join(), x_m, y_m];
}

/** @param {State} state @returns {Node[]} */
export function drawModules(state) {
  const shown = shownLayout(state);
  if (!shown) return [];
  const o = originOf(state);
  const here = new Set(state.doc.planes.map((p) => p.id));
  return shown.layout.by_plane
    .filter((p) => here.has(p.plane_id))
    .map((p) =>
      svg(
        'g',
        { class: `modules cand-${shown.letter}`, fill: `url(#module-${shown.letter})`, 'data-testid': 'modules', 'data-plane': p.plane_id },
        p.modules.flatMap((m) => moduleNodes(m, o)),
      ),
    );
}

/** @param {Module} m @param {Point} o @returns {Node[]} one in shade has a corner filled in */
function moduleNodes(m, o) {
  const at = m.plan.map(([x, y]) => [x - o.x_m, y - o.y_m]);
  const d = `M${at.map(([x, y]) => `${mm(x)} ${mm(y)}`).join('L')}Z`;
  const box = svg('path', { class: 'module', d, 'data-testid': 'module', 'data-shade': m.in_shade || null });
  if (!m.in_shade) return [box];
  const [a, b, , e] = at;
  /** @param {number[]} p */
  const part = (p) => `${mm(a[0] + (p[0] - a[0]) * 0.3)} ${mm(a[1] + (p[1] - a[1]) * 0.3)}`;
  return [box, svg('path', { class: 'module-shade', d: `M${mm(a[0])} ${mm(a[1])}L${part(b)}L${part(e)}Z` })];
}

/** @param {number} m @returns {string} metres to the millimetre */
function mm(m) {
  return String(Math.round(m * 1000) / 1000);
}

/** @param {State} state @returns {unknown[]} */
export function frameInputs({ ui }) {
  return [ui.camera, ui.board, ui.viewBearingDeg];
}

/** @param {State} state @returns {{transform: string, tile: string}} of the module group and of the pattern tiles in it */
export function moduleFrame(state) {
  const view = viewOf(state.ui);
  const z = view.camera.pxPerM;
  const { sin, cos } = sinCos(view.bearingDeg);
  const e = toScreen(view, originOf(state));
  const m = [z * cos, -z * sin, -z * sin, -z * cos].map((v) => v.toPrecision(8));
  return { transform: `matrix(${m.join(' ')} ${n(e.x)} ${n(e.y)})`, tile: `scale(${(1 / z).toPrecision(8)})` };
}
