// Geometry of the editor: the crossing between screen and plan, the crossing
// between plan and the slope frame of a plane, and questions about rings.
// Plan is metres, x east, y north; bearings are degrees clockwise from north.
// Nothing here keeps state or changes its input.

/** @import {Point, Plane, Corner, Doc, KeepOut, Camera, Board} from './types.js' */

/** @typedef {{x: number, y: number}} Px screen pixels from the board's top left corner, y down */
/** @typedef {{camera: Camera, board: Board, bearingDeg: number}} ViewFrame how the board looks at the plan */
/** @typedef {{origin: Point, right: Point, up: Point, cosPitch: number}} PlaneFrame right and up are plan unit vectors */
/** @typedef {{u_m: number, v_m: number}} SlopePoint u along the eave to the right looking up the slope, v up the slope */

/** Corners closer than this are the same corner of the house. */
export const SAME_CORNER_M = 0.001;

const RAD = Math.PI / 180;

/** @param {number} deg @returns {number} the same direction, 0 <= a < 360 */
export function normDeg(deg) {
  const a = ((deg % 360) + 360) % 360;
  return a >= 360 ? 0 : a;
}

/** @param {number} deg @returns {{sin: number, cos: number}} exact at quarter turns, so that square roofs stay square */
export function sinCos(deg) {
  const a = normDeg(deg);
  if (a % 90 === 0) return [{ sin: 0, cos: 1 }, { sin: 1, cos: 0 }, { sin: 0, cos: -1 }, { sin: -1, cos: 0 }][a / 90];
  return { sin: Math.sin(a * RAD), cos: Math.cos(a * RAD) };
}

// ---- screen and plan ----

/** @param {ViewFrame} view @param {Point} p @returns {Px} */
export function toScreen(view, p) {
  const { sin, cos } = sinCos(view.bearingDeg);
  const z = view.camera.pxPerM;
  const dx = p.x_m - view.camera.x_m;
  const dy = p.y_m - view.camera.y_m;
  return {
    x: view.board.widthPx / 2 + z * (dx * cos - dy * sin),
    y: view.board.heightPx / 2 - z * (dx * sin + dy * cos),
  };
}

/** @param {ViewFrame} view @param {Px} px @returns {Point} */
export function toPlan(view, px) {
  const { sin, cos } = sinCos(view.bearingDeg);
  const z = view.camera.pxPerM;
  const right = (px.x - view.board.widthPx / 2) / z;
  const up = (view.board.heightPx / 2 - px.y) / z;
  return {
    x_m: view.camera.x_m + right * cos + up * sin,
    y_m: view.camera.y_m - right * sin + up * cos,
  };
}

/** @param {{camera: Camera, board: Board, viewBearingDeg: number}} ui @returns {ViewFrame} */
export function viewOf(ui) {
  return { camera: ui.camera, board: ui.board, bearingDeg: ui.viewBearingDeg };
}

// ---- plan and slope ----

/**
 * The frame of a plane facing azimuthDeg: d = (sin a, cos a) points down the
 * slope, v = plan distance / cos(pitch) up it. v is 0 at the ring's lowest
 * corner and u is 0 at its leftmost one, looking up the slope.
 * @param {Point[]} ring at least one corner
 * @param {number} pitchDeg 0 to 75
 * @param {number} azimuthDeg
 * @returns {PlaneFrame}
 */
export function planeFrame(ring, pitchDeg, azimuthDeg) {
  const { sin, cos } = sinCos(azimuthDeg);
  const up = { x_m: -sin, y_m: -cos };
  const right = { x_m: -cos, y_m: sin };
  const u = Math.min(...ring.map((p) => dot(p, right)));
  const v = Math.min(...ring.map((p) => dot(p, up)));
  return {
    origin: { x_m: u * right.x_m + v * up.x_m, y_m: u * right.y_m + v * up.y_m },
    right,
    up,
    cosPitch: Math.cos(pitchDeg * RAD),
  };
}

/** @param {Plane} plane @returns {PlaneFrame} */
export function frameOf(plane) {
  return planeFrame(plane.ring, plane.pitch_deg, plane.azimuth_deg);
}

/** @param {PlaneFrame} frame @param {Point} p @returns {SlopePoint} */
export function toSlope(frame, p) {
  const d = minus(p, frame.origin);
  return { u_m: dot(d, frame.right), v_m: dot(d, frame.up) / frame.cosPitch };
}

/** @param {PlaneFrame} frame @param {SlopePoint} s @returns {Point} */
export function slopeToPlan(frame, s) {
  const rise = s.v_m * frame.cosPitch;
  return {
    x_m: frame.origin.x_m + s.u_m * frame.right.x_m + rise * frame.up.x_m,
    y_m: frame.origin.y_m + s.u_m * frame.right.y_m + rise * frame.up.y_m,
  };
}

/** @param {PlaneFrame} frame @param {Point} a @param {Point} b @returns {number} metres between two plan points, measured in the roof plane */
export function trueLengthM(frame, a, b) {
  const d = minus(b, a);
  return Math.hypot(dot(d, frame.right), dot(d, frame.up) / frame.cosPitch);
}

/** @param {Plane} plane @returns {number} area in the roof plane */
export function slopeAreaM2(plane) {
  return ringAreaM2(plane.ring) / Math.cos(plane.pitch_deg * RAD);
}

// ---- points ----

/** @param {Point} a @param {Point} b @returns {number} */
export function dot(a, b) {
  return a.x_m * b.x_m + a.y_m * b.y_m;
}

/** @param {Point} a @param {Point} b @returns {number} positive when b lies to the left of a */
export function cross(a, b) {
  return a.x_m * b.y_m - a.y_m * b.x_m;
}

/** @param {Point} a @param {Point} b @returns {Point} */
export function minus(a, b) {
  return { x_m: a.x_m - b.x_m, y_m: a.y_m - b.y_m };
}

/** @param {Point} a @param {Point} b @param {number} [times] of b @returns {Point} */
export function plus(a, b, times = 1) {
  return { x_m: a.x_m + b.x_m * times, y_m: a.y_m + b.y_m * times };
}

/** @param {Point} a @param {Point} b @returns {Point} */
export function midpoint(a, b) {
  return { x_m: (a.x_m + b.x_m) / 2, y_m: (a.y_m + b.y_m) / 2 };
}

/** @param {Point} a @param {Point} b @returns {number} plan metres */
export function distanceM(a, b) {
  return Math.hypot(b.x_m - a.x_m, b.y_m - a.y_m);
}

/** @param {number} deg @returns {Point} plan unit vector along a bearing */
export function alongBearing(deg) {
  const { sin, cos } = sinCos(deg);
  return { x_m: sin, y_m: cos };
}

/** @param {Point} a @param {Point} b @returns {number} bearing from a to b, 0 for equal points */
export function bearingDeg(a, b) {
  return normDeg(Math.atan2(b.x_m - a.x_m, b.y_m - a.y_m) / RAD);
}

/** @param {number} a @param {number} b @returns {number} the smaller angle between two bearings, 0 to 180 */
export function angleBetweenDeg(a, b) {
  const d = normDeg(a - b);
  return d > 180 ? 360 - d : d;
}

/**
 * @template {Point} P
 * @param {P} p keeps its other fields
 * @param {number} deltaDeg clockwise seen from above
 * @param {Point} about
 * @returns {P}
 */
export function turnPoint(p, deltaDeg, about) {
  const { sin, cos } = sinCos(deltaDeg);
  const d = minus(p, about);
  return { ...p, x_m: about.x_m + d.x_m * cos + d.y_m * sin, y_m: about.y_m - d.x_m * sin + d.y_m * cos };
}

/**
 * Drawn coordinates are kept to a tenth of a millimetre, far below what anyone
 * can measure on a roof, so that files stay readable.
 * @template {Point} P
 * @param {P} p keeps its other fields
 * @returns {P}
 */
export function roundPoint(p) {
  return { ...p, x_m: roundM(p.x_m), y_m: roundM(p.y_m) };
}

/** @param {number} m @returns {number} to a tenth of a millimetre, never -0 */
export function roundM(m) {
  return Math.round(m * 1e4) / 1e4 + 0;
}

// ---- segments ----

/** @param {Point} p @param {Point} a @param {Point} b @returns {{at: Point, t: number, distanceM: number}} nearest point of the segment; t is 0 at a and 1 at b */
export function nearestOnSegment(p, a, b) {
  const d = minus(b, a);
  const len2 = dot(d, d);
  const t = len2 === 0 ? 0 : Math.min(1, Math.max(0, dot(minus(p, a), d) / len2));
  const at = plus(a, d, t);
  return { at, t, distanceM: distanceM(p, at) };
}

/** @param {Point} a @param {Point} b @param {Point} c @returns {number} sign of the turn a, b, c: 1 left, -1 right, 0 straight */
function side(a, b, c) {
  return Math.sign((b.x_m - a.x_m) * (c.y_m - a.y_m) - (b.y_m - a.y_m) * (c.x_m - a.x_m));
}

/** @param {Point} p @param {Point} a @param {Point} b @returns {boolean} p, known to be in line with a and b, lies between them */
function between(p, a, b) {
  return (
    Math.min(a.x_m, b.x_m) <= p.x_m && p.x_m <= Math.max(a.x_m, b.x_m) &&
    Math.min(a.y_m, b.y_m) <= p.y_m && p.y_m <= Math.max(a.y_m, b.y_m)
  );
}

/** @param {Point} a @param {Point} b @param {Point} c @param {Point} d @returns {boolean} segments ab and cd share a point; touching counts */
export function segmentsMeet(a, b, c, d) {
  const s = [side(a, b, c), side(a, b, d), side(c, d, a), side(c, d, b)];
  if (s[0] !== s[1] && s[2] !== s[3] && s[0] * s[1] <= 0 && s[2] * s[3] <= 0) return true;
  return (
    (s[0] === 0 && between(c, a, b)) || (s[1] === 0 && between(d, a, b)) ||
    (s[2] === 0 && between(a, c, d)) || (s[3] === 0 && between(b, c, d))
  );
}

// ---- rings ----

/** @template T @param {T[]} ring @param {number} i any whole number @returns {T} the corner, counted round and round */
export function cornerAt(ring, i) {
  return ring[((i % ring.length) + ring.length) % ring.length];
}

/** @param {Point[]} ring @returns {number} m2, positive when it runs counter-clockwise; 0 under three corners */
export function signedAreaM2(ring) {
  let sum = 0;
  for (let i = 1; i + 1 < ring.length; i++) sum += cross(minus(ring[i], ring[0]), minus(ring[i + 1], ring[0]));
  return sum / 2;
}

/** @param {Point[]} ring @returns {number} m2, never negative */
export function ringAreaM2(ring) {
  return Math.abs(signedAreaM2(ring));
}

/** @param {Point[]} ring at least one corner @returns {Point} centre of its area, or the mean of the corners of a flat ring */
export function centroid(ring) {
  const o = ring[0];
  const area = signedAreaM2(ring);
  let sum = { x_m: 0, y_m: 0 };
  if (area === 0) {
    for (const p of ring) sum = plus(sum, minus(p, o));
    return plus(o, sum, 1 / ring.length);
  }
  for (let i = 1; i + 1 < ring.length; i++) {
    const a = minus(ring[i], o);
    const b = minus(ring[i + 1], o);
    sum = plus(sum, plus(a, b), cross(a, b));
  }
  return plus(o, sum, 1 / (6 * area));
}

/** @param {Point} p @param {Point[]} ring @returns {boolean} inside or on the outline */
export function pointInRing(p, ring) {
  let inside = false;
  for (let i = 0; i < ring.length; i++) {
    const a = ring[i];
    const b = cornerAt(ring, i + 1);
    if (side(a, b, p) === 0 && between(p, a, b)) return true;
    if (a.y_m > p.y_m !== b.y_m > p.y_m && side(a, b, p) > 0 === b.y_m > a.y_m) inside = !inside;
  }
  return inside;
}

/** @param {Point[]} points at least one @returns {{min: Point, max: Point}} */
export function boundsOf(points) {
  const xs = points.map((p) => p.x_m);
  const ys = points.map((p) => p.y_m);
  return { min: { x_m: Math.min(...xs), y_m: Math.min(...ys) }, max: { x_m: Math.max(...xs), y_m: Math.max(...ys) } };
}

/** @param {Point} p @param {Point[]} ring @returns {number} metres to the outline */
export function outlineDistanceM(p, ring) {
  return Math.min(...ring.map((a, i) => nearestOnSegment(p, a, cornerAt(ring, i + 1)).distanceM));
}

/** @param {Point[]} ring @param {number} i corner that the edge leaves @returns {number} bearing square to the edge, out of the ring */
export function outwardBearingDeg(ring, i) {
  const along = bearingDeg(ring[i], cornerAt(ring, i + 1));
  return normDeg(along + (signedAreaM2(ring) >= 0 ? 90 : -90));
}

/**
 * Why a ring cannot be a roof plane or keep-out, in words for the person
 * drawing it; '' for a simple ring with an area.
 * @param {Point[]} ring
 * @returns {string}
 */
export function ringFault(ring) {
  const n = ring.length;
  if (n < 3) return 'An outline needs three corners or more.';
  for (let i = 0; i < n; i++) {
    if (distanceM(ring[i], cornerAt(ring, i + 1)) < SAME_CORNER_M) {
      return `Corners ${i + 1} and ${((i + 1) % n) + 1} lie on the same spot.`;
    }
  }
  for (let i = 0; i < n; i++) {
    const [a, b, c] = [ring[i], cornerAt(ring, i + 1), cornerAt(ring, i + 2)];
    if (side(a, b, c) === 0 && dot(minus(b, a), minus(c, b)) < 0) return `The outline doubles back at corner ${((i + 1) % n) + 1}.`;
    for (let j = i + 2; j < n; j++) {
      if (i === 0 && j === n - 1) continue;
      if (segmentsMeet(a, b, ring[j], cornerAt(ring, j + 1))) {
        return `The edges leaving corners ${i + 1} and ${j + 1} cross.`;
      }
    }
  }
  return ringAreaM2(ring) > 0 ? '' : 'The outline has no area.';
}

// ---- keep-outs ----

/** Sides of the polygon drawn for a circle. */
const CIRCLE_SIDES = 32;

/** @param {KeepOut} k @returns {boolean} measured in the roof plane, not in plan */
export function inRoofPlane(k) {
  return k.kind === 'roof_window' || k.kind === 'shade';
}

/** @param {Doc} doc @param {Point} p @returns {Plane|null} the first plane that holds p, its outline included */
export function planeUnder(doc, p) {
  return doc.planes.find((plane) => pointInRing(p, plane.ring)) ?? null;
}

/**
 * Plan vectors of one metre of a rectangle's width and of its depth; for a
 * roof-plane kind foreshortened as seen from above. A circle uses the same.
 * @param {Doc} doc
 * @param {KeepOut} k
 * @returns {{width: Point, depth: Point}}
 */
export function keepOutAxes(doc, k) {
  const { sin, cos } = sinCos(k.turn_deg ?? 0);
  const plane = inRoofPlane(k) && k.center ? planeUnder(doc, k.center) : null;
  if (!plane) return { width: { x_m: cos, y_m: -sin }, depth: { x_m: sin, y_m: cos } };
  const f = frameOf(plane);
  /** @param {number} u @param {number} v */
  const inPlan = (u, v) => plus({ x_m: f.right.x_m * u, y_m: f.right.y_m * u }, f.up, v * f.cosPitch);
  return { width: inPlan(cos, -sin), depth: inPlan(sin, cos) };
}

/**
 * A keep-out's outline in plan, without its clearance. Roof-plane kinds are
 * measured in the plane that holds the centre, or in plan where none does.
 * @param {Doc} doc
 * @param {KeepOut} k
 * @returns {Point[]} rectangles start at the left near corner and run counter-clockwise
 */
export function footprint(doc, k) {
  if (k.shape === 'polygon' || !k.center) return k.points ?? [];
  const { width, depth } = keepOutAxes(doc, k);
  const c = k.center;
  if (k.shape === 'circle') {
    const r = k.radius_m ?? 0;
    return Array.from({ length: CIRCLE_SIDES }, (_, i) => {
      const { sin, cos } = sinCos((i * 360) / CIRCLE_SIDES);
      return plus(plus(c, width, r * cos), depth, r * sin);
    });
  }
  const w = (k.width_m ?? 0) / 2;
  const d = (k.depth_m ?? 0) / 2;
  return [[-w, -d], [w, -d], [w, d], [-w, d]].map(([a, b]) => plus(plus(c, width, a), depth, b));
}

/** @param {Doc} doc @returns {Point[]} every corner of planes and keep-outs */
export function allPoints(doc) {
  return [...doc.planes.flatMap((p) => p.ring), ...doc.keep_outs.flatMap((k) => footprint(doc, k))];
}

/** @param {Point} p @returns {Corner} with its edge kind left to the guess */
export function corner(p) {
  return { x_m: p.x_m, y_m: p.y_m, edge: '', street: false };
}
