// Shadows of one moment, cut to the roof; proposed shade; the module whose
// light is told.

import { frameOf, toScreen, viewOf } from '../model/geometry.js';
import { boxOf, ringOf, shownCandidate } from '../model/hand.js';
import { n, pathOf, svg } from './svg.js';

/** @import {State} from '../model/store.js' */
/** @import {Point} from '../model/types.js' */
/** @import {ViewFrame} from '../model/geometry.js' */

/** @param {State} state @returns {unknown[]} */
export function shadowInputs({ doc, ui, light }) {
  if (!ui.light.on) return [false];
  return [light.shadows.value, ui.light, doc.planes, doc.candidates, ui.shown, ui.camera, ui.board, ui.viewBearingDeg];
}

/** @param {State} state @returns {Node[]} */
export function drawShadows(state) {
  const { ui } = state;
  if (!ui.light.on) return [];
  const view = viewOf(ui);
  return [...(ui.light.sun ? shadows(state, view) : []), ...proposal(state, view), ...litModule(state, view)];
}

/** How dark a shadow lies over the map. */
const SHADOW_OPACITY = 0.42;

/** @param {State} state @param {ViewFrame} view @returns {Node[]} shadows on a plane that let no light through as one path, so that none counts twice; those of crowns each by itself */
function shadows({ doc, light }, view) {
  const { value } = light.shadows;
  if (!value) return [];
  return doc.planes.flatMap((plane) => {
    const turned = value.dark || value.behind_planes.includes(plane.id);
    const here = value.outlines.filter((o) => o.plane_id === plane.id);
    /** @param {[number, number][]} plan */
    const path = (plan) => pathOf(upright(plan).map((p) => toScreen(view, p)));
    const solid = turned ? pathOf(plane.ring.map((p) => toScreen(view, p))) : here.filter((o) => o.pass === 0).map((o) => path(o.plan)).join('');
    const crowns = turned ? [] : here.filter((o) => o.pass > 0);
    /** @param {string} d @param {number} pass @param {string} of */
    const shadow = (d, pass, of) => svg('path', { class: 'sun-shadow', d, 'fill-opacity': n(SHADOW_OPACITY * (1 - pass)), 'clip-path': `url(#clip-${plane.id})`, 'data-testid': 'sun-shadow', 'data-plane': plane.id, 'data-of': of });
    return [...(solid ? [shadow(solid, 0, '')] : []), ...crowns.map((o) => shadow(path(o.plan), o.pass, o.obstruction_id))];
  });
}

/** @param {[number, number][]} plan @returns {Point[]} counter-clockwise, so that overlaps stay filled */
function upright(plan) {
  const ring = plan.map(([x_m, y_m]) => ({ x_m, y_m }));
  const area = ring.reduce((sum, p, i) => {
    const q = ring[(i + 1) % ring.length];
    return sum + p.x_m * q.y_m - q.x_m * p.y_m;
  }, 0);
  return area < 0 ? ring.reverse() : ring;
}

/** @param {State} state @param {ViewFrame} view @returns {Node[]} */
function proposal({ ui }, view) {
  return (ui.light.proposal ?? []).map(({ ring }) =>
    svg('path', { class: 'proposed-shade', d: pathOf(ring.map((p) => toScreen(view, p))), 'data-testid': 'proposed-shade' }));
}

/** @param {State} state @param {ViewFrame} view @returns {Node[]} */
function litModule(state, view) {
  const lit = state.ui.light.module;
  const plane = lit && state.doc.planes.find((p) => p.id === lit.plane);
  const candidate = shownCandidate(state);
  if (!plane || !candidate) return [];
  const frame = frameOf(plane);
  const ring = ringOf(frame, boxOf(frame, candidate, lit.place));
  return [svg('path', { class: 'module-lit', d: pathOf(ring.map((p) => toScreen(view, p))), 'data-testid': 'module-lit' })];
}
