// The modules of the candidate that is shown, and where a person set them those
// that the roof does not allow. They are drawn in plan metres
// inside one transformed group, so that panning and zooming touch one
// attribute and not a thousand elements.

import { sinCos, toScreen, viewOf } from '../model/geometry.js';
import { modulesOn, shownLayout } from '../model/hand.js';
import { n, svg } from './svg.js';

/** @import {State} from '../model/store.js' */
/** @import {Standing} from '../model/hand.js' */
/** @import {Point} from '../model/types.js' */

/** Local origins lie on a raster this wide: screen graphics have 24 bits, too few for far-off plan metres. */
const ORIGIN_STEP_M = 200;

/** @param {Pick<State, 'ui'>} state @returns {Point} of the groups that are drawn in plan metres */
export function originOf({ ui }) {
  /** @param {number} m */
  const step = (m) => Math.round(m / ORIGIN_STEP_M) * ORIGIN_STEP_M;
  return { x_m: step(ui.camera.x_m), y_m: step(ui.camera.y_m) };
}

/** @param {State} state @returns {unknown[]} */
export function moduleInputs(state) {
  const { doc, ui, result, resultOf } = state;
  const { x_m, y_m } = originOf(state);
  return [result, resultOf?.hand, doc.hand, doc.planes, doc.candidates, ui.shown, doc.target.mode, ui.overlay.lifted, x_m, y_m];
}

/** @param {State} state @returns {Node[]} */
export function drawModules(state) {
  const letter = shownLayout(state)?.letter;
  if (!letter) return [];
  const o = originOf(state);
  const lifted = new Set(state.ui.overlay.lifted);
  return state.doc.planes.flatMap((plane) => {
    const standing = modulesOn(state, plane.id).filter((m) => !lifted.has(m.module));
    if (standing.length === 0) return [];
    // Refused ones on top: others may have taken their place.
    const modules = [...standing.filter((m) => !m.refused), ...standing.filter((m) => m.refused)];
    return svg(
      'g',
      { class: `modules cand-${letter}`, fill: `url(#module-${letter})`, 'data-testid': 'modules', 'data-plane': plane.id },
      modules.flatMap((m) => moduleNodes(m, o)),
    );
  });
}

/** @param {Standing} standing @param {Point} o @returns {Node[]} one in shade has a corner filled in, a locked one bears a lock */
function moduleNodes({ ring, refused, spare, inShade, module: { locked } }, o) {
  const at = ring.map((p) => [p.x_m - o.x_m, p.y_m - o.y_m]);
  const d = `M${at.map(([x, y]) => `${mm(x)} ${mm(y)}`).join('L')}Z`;
  const lock = locked ? [svg('path', { class: 'module-lock', d: lockPath(at), 'data-testid': 'module-lock' })] : [];
  // What is not counted is no module to whoever counts the drawing.
  if (refused) return [svg('path', { class: 'module-refused', d, fill: 'url(#module-refused)', 'data-testid': 'module-refused', 'data-why': refused.why }), ...lock];
  if (spare) return [svg('path', { class: 'module-spare', d, 'data-testid': 'module-spare' }), ...lock];
  const box = svg('path', { class: 'module', d, 'data-testid': 'module', 'data-shade': inShade || null, 'data-locked': locked || null });
  if (!inShade) return [box, ...lock];
  const [a, b, , e] = at;
  /** @param {number[]} p */
  const part = (p) => `${mm(a[0] + (p[0] - a[0]) * 0.3)} ${mm(a[1] + (p[1] - a[1]) * 0.3)}`;
  return [box, svg('path', { class: 'module-shade', d: `M${mm(a[0])} ${mm(a[1])}L${part(b)}L${part(e)}Z` }), ...lock];
}

/** Half the width of the lock drawn on a module, as a part of the module's shorter side. */
const LOCK_PART = 0.16;

/** @param {number[][]} at corners, from the lower left on @returns {string} a body with a bow above it, upright on the slope */
function lockPath(at) {
  const [a, b, c, e] = at;
  const mid = [(a[0] + c[0]) / 2, (a[1] + c[1]) / 2];
  const [wide, high] = [Math.hypot(b[0] - a[0], b[1] - a[1]), Math.hypot(e[0] - a[0], e[1] - a[1])];
  const r = Math.min(wide, high) * LOCK_PART;
  const [right, up] = [[(b[0] - a[0]) / wide, (b[1] - a[1]) / wide], [(e[0] - a[0]) / high, (e[1] - a[1]) / high]];
  /** @param {number} x @param {number} y in units of r */
  const p = (x, y) => `${mm(mid[0] + (right[0] * x + up[0] * y) * r)} ${mm(mid[1] + (right[1] * x + up[1] * y) * r)}`;
  const body = `M${p(-1, -1.1)}L${p(1, -1.1)}L${p(1, 0.4)}L${p(-1, 0.4)}Z`;
  const bow = `M${p(-0.7, 0.4)}L${p(-0.7, 0.9)}L${p(-0.35, 1.4)}L${p(0.35, 1.4)}L${p(0.7, 0.9)}L${p(0.7, 0.4)}L${p(0.4, 0.4)}L${p(0.4, 0.8)}L${p(0.2, 1.05)}L${p(-0.2, 1.05)}L${p(-0.4, 0.8)}L${p(-0.4, 0.4)}Z`;
  return body + bow;
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
