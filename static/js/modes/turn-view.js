// Turning the view; the drawing itself stays as it is.

import { normDeg, outwardBearingDeg } from '../model/geometry.js';
import { fittedTo } from '../model/camera.js';

/** @import {App} from './machine.js' */

/** @param {App} app @param {number} bearing that shall point up on the screen */
export function turnView(app, bearing) {
  const { doc, ui } = app.store.state;
  const viewBearingDeg = normDeg(bearing);
  const camera = doc.planes.length ? fittedTo({ ...ui, viewBearingDeg }, doc) : ui.camera;
  app.store.setUi({ viewBearingDeg, camera });
}

/** @param {App} app @param {{id: string, index: number}} edge comes to lie level, its plane above it */
export function levelOn(app, { id, index }) {
  const plane = app.store.state.doc.planes.find((p) => p.id === id);
  if (!plane) return;
  turnView(app, outwardBearingDeg(plane.ring, index) + 180);
}

/** @param {App} app @param {string} id the plane whose upslope shall point up */
export function levelPlane(app, id) {
  const plane = app.store.state.doc.planes.find((p) => p.id === id);
  if (plane) turnView(app, plane.azimuth_deg + 180);
}
