// The keyboard ways to draw and to turn: small forms whose fields say what
// they allow.

import { addKeepOut, addPlane, addTree, turnItems } from '../commands/index.js';
import { FIRST_CROWN_M, KEEP_OUT_KINDS, newKeepOut, newPlane, newTree, nextPitchDeg, squareTurnDeg } from '../model/defaults.js';
import { CROWN_M } from '../model/around.js';
import { alongBearing, boundsOf, frameOf, midpoint, planeFrame, plus, roundPoint, slopeToPlan, toPlan, toSlope, viewOf } from '../model/geometry.js';
import { middleOf } from '../model/camera.js';
import { allItems } from '../model/ids.js';
import { labelPoint } from '../model/label-place.js';
import { liveSelection, outlineOf, selectedPlane } from '../model/selection.js';
import { lengthText, parseBearing, parseLengthIn, parsePitch, parseTurn } from '../model/units.js';
import { select } from './select.js';

/** @import {App, Field} from './machine.js' */
/** @import {Item, KeepOut, KeepOutKind, Plane, Point} from '../model/types.js' */

/** Sides of a plane typed as numbers. */
const PLANE_SIDE_M = Object.freeze({ min: 0.1, max: 500 });
/** Sides of a keep-out, as the document allows. */
const KEEP_OUT_SIDE_M = Object.freeze({ min: 0.01, max: 100 });

/** @param {App} app @param {string} name @param {string} label @param {number} m @param {{min: number, max: number}} range @returns {Field} */
function lengthField(app, name, label, m, range) {
  const { units } = app.store.state.doc.site;
  return { name, label, value: lengthText(m, units), check: (t) => void parseLengthIn(t, units, range.min, range.max) };
}

/** @param {App} app @returns {Point} plan point in the middle of the board */
function viewMiddle(app) {
  const view = viewOf(app.store.state.ui);
  return toPlan(view, middleOf(view));
}

/** @param {App} app @param {Item} item */
function choose(app, item) {
  app.store.setUi({ selection: { items: [item], corner: null, edge: null } });
  app.modes.go(select(app));
}

/** @param {App} app */
export async function planeByNumbers(app) {
  const { doc } = app.store.state;
  const { units } = doc.site;
  const values = await app.view.ask({
    id: 'plane-by-numbers',
    title: 'Plane by numbers',
    intro: 'A rectangle in the middle of the view. Lengths are measured in the roof.',
    ok: 'Place plane',
    fields: [
      lengthField(app, 'width', 'Along the eave', 10, PLANE_SIDE_M),
      lengthField(app, 'depth', 'Up the slope', 6, PLANE_SIDE_M),
      { name: 'pitch', label: 'Pitch', value: String(nextPitchDeg(doc)), hint: 'degrees, or rise in 12 such as 6:12', check: (t) => void parsePitch(t) },
      { name: 'azimuth', label: 'Faces', value: '180', hint: 'degrees from north, or a compass point such as SSW', check: (t) => void parseBearing(t) },
    ],
  });
  if (!values) return;
  const widthM = parseLengthIn(values.width, units, PLANE_SIDE_M.min, PLANE_SIDE_M.max);
  const depthM = parseLengthIn(values.depth, units, PLANE_SIDE_M.min, PLANE_SIDE_M.max);
  const [pitch_deg, azimuth_deg] = [parsePitch(values.pitch), parseBearing(values.azimuth)];
  const ring = rectangleRing(viewMiddle(app), widthM, depthM, pitch_deg, azimuth_deg);
  const plane = { ...newPlane(app.store.state.doc, ring), pitch_deg, azimuth_deg };
  app.store.run('Draw plane', addPlane({ plane }));
  choose(app, { type: 'plane', id: plane.id });
}

/** @param {Point} middle @param {number} widthM along the eave @param {number} depthM up the slope @param {number} pitchDeg @param {number} azimuthDeg @returns {Point[]} eave first */
export function rectangleRing(middle, widthM, depthM, pitchDeg, azimuthDeg) {
  const frame = planeFrame([middle], pitchDeg, azimuthDeg);
  const [w, d] = [widthM / 2, depthM / 2];
  return [[-w, -d], [w, -d], [w, d], [-w, d]].map(([u, v]) => roundPoint(slopeToPlan(frame, { u_m: u, v_m: v })));
}

/** @param {App} app */
export async function obstructionByNumbers(app) {
  const plane = selectedPlane(app.store.state);
  const values = await app.view.ask({
    id: 'obstruction-by-numbers',
    title: 'Obstruction by numbers',
    intro: plane
      ? `On ${plane.label || 'the selected plane'}. Its place is measured in the roof, from the left end of the eave looking up the slope.`
      : 'In the middle of the view. Select a plane first to place it by measures from the eave.',
    ok: 'Place obstruction',
    fields: obstructionFields(app, plane),
  });
  if (!values) return;
  const keepOut = typedKeepOut(app, plane, values);
  app.store.run(keepOut.kind === 'shade' ? 'Mark shade' : 'Mark obstruction', addKeepOut({ keepOut }));
  choose(app, { type: 'keepout', id: keepOut.id });
}

/** @param {App} app @param {Plane|null} plane @returns {Field[]} */
function obstructionFields(app, plane) {
  const kinds = Object.entries(KEEP_OUT_KINDS).map(([value, { word }]) => ({ value, label: word }));
  const fields = [
    { name: 'kind', label: 'Kind', value: 'chimney', choices: kinds },
    { name: 'shape', label: 'Form', value: 'rect', choices: [{ value: 'rect', label: 'Rectangle' }, { value: 'circle', label: 'Circle' }] },
    lengthField(app, 'width', 'Width, or diameter', 0.6, KEEP_OUT_SIDE_M),
    lengthField(app, 'depth', 'Depth of a rectangle', 0.6, KEEP_OUT_SIDE_M),
  ];
  if (!plane) return fields;
  const at = toSlope(frameOf(plane), labelPoint(plane.ring));
  return [
    ...fields,
    lengthField(app, 'along', 'Its middle, along the eave', at.u_m, { min: 0, max: PLANE_SIDE_M.max }),
    lengthField(app, 'up', 'Its middle, up the slope', at.v_m, { min: 0, max: PLANE_SIDE_M.max }),
  ];
}

/** @param {App} app @param {Plane|null} plane @param {Record<string, string>} values @returns {KeepOut} */
function typedKeepOut(app, plane, values) {
  const { doc } = app.store.state;
  /** @param {string} text @param {{min: number, max: number}} range */
  const metres = (text, { min, max }) => parseLengthIn(text, doc.site.units, min, max);
  const onPlane = { min: 0, max: PLANE_SIDE_M.max };
  const center = roundPoint(
    plane
      ? slopeToPlan(frameOf(plane), { u_m: metres(values.along, onPlane), v_m: metres(values.up, onPlane) })
      : viewMiddle(app),
  );
  const kind = /** @type {KeepOutKind} */ (values.kind);
  const width_m = metres(values.width, KEEP_OUT_SIDE_M);
  if (values.shape === 'circle') return { ...newKeepOut(doc, kind, 'circle'), center, radius_m: width_m / 2 };
  const depth_m = metres(values.depth, KEEP_OUT_SIDE_M);
  return { ...newKeepOut(doc, kind, 'rect'), center, width_m, depth_m, turn_deg: squareTurnDeg(doc, kind, center) };
}

/** Heights of trees and buildings, as the document allows. */
const HEIGHT_M = Object.freeze({ min: 0, max: 150 });

/** @param {App} app */
export async function treeByNumbers(app) {
  const { doc } = app.store.state;
  const { units } = doc.site;
  const first = newTree(doc, viewMiddle(app), FIRST_CROWN_M);
  const values = await app.view.ask({
    id: 'tree-by-numbers',
    title: 'Tree by numbers',
    intro: 'Its place is measured from the first corner of the first plane. Heights are above the ground that the eave height is measured from.',
    ok: 'Place tree',
    fields: [
      { name: 'bearing', label: 'It stands to the', value: '180', hint: 'degrees from north, or a compass point such as SSW', check: (t) => void parseBearing(t) },
      lengthField(app, 'distance', 'Distance to its middle', 8, { min: 0, max: 500 }),
      lengthField(app, 'across', 'Crown across', 2 * first.radius_m, { min: 2 * CROWN_M.min, max: 2 * CROWN_M.max }),
      lengthField(app, 'base', 'Crown begins at', first.base_m, { min: 0, max: 100 }),
      lengthField(app, 'top', 'Top', first.top_m, HEIGHT_M),
    ],
  });
  if (!values) return;
  /** @param {string} text @param {number} max */
  const metres = (text, max) => parseLengthIn(text, units, 0, max);
  const from = doc.planes[0]?.ring[0] ?? viewMiddle(app);
  const at = plus(from, alongBearing(parseBearing(values.bearing)), metres(values.distance, 500));
  const [base_m, top_m] = [metres(values.base, 100), metres(values.top, HEIGHT_M.max)];
  if (base_m >= top_m) {
    app.store.setUi({ status: 'No tree was placed: its crown must begin below its top.' });
    return;
  }
  const tree = { ...newTree(app.store.state.doc, at, metres(values.across, 2 * CROWN_M.max) / 2), base_m, top_m };
  app.store.run('Place tree', addTree({ tree }));
  app.store.setUi({ around: true });
  choose(app, { type: 'tree', id: tree.id });
}

/** @param {App} app @param {'selection'|'roof'} what */
export async function turnByNumbers(app, what) {
  const values = await app.view.ask({
    id: 'turn',
    title: what === 'roof' ? 'Turn the whole roof' : 'Turn the selection',
    intro: 'About its middle. Planes keep their fall: the way they face turns too.',
    ok: 'Turn',
    fields: [{ name: 'turn', label: 'Degrees clockwise', value: '', hint: 'such as 12.5; negative turns the other way', check: (t) => void parseTurn(t) }],
  });
  if (!values) return;
  const { doc } = app.store.state;
  const items = what === 'roof' ? allItems(doc) : liveSelection(app.store.state).items;
  const points = items.flatMap((i) => outlineOf(doc, i));
  if (points.length === 0) return;
  const { min, max } = boundsOf(points);
  app.store.run(what === 'roof' ? 'Turn roof' : 'Turn', turnItems({ items, deltaDeg: parseTurn(values.turn), about: midpoint(min, max) }));
  app.modes.go(select(app));
}
