import assert from 'node:assert/strict';
import { test } from 'node:test';
import * as g from '../js/model/geometry.js';
import { labelPoint, roomAroundM } from '../js/model/label-place.js';
import { fitted, panned, sameCamera, zoomed } from '../js/model/camera.js';
import { dice, gable, keepOut, plane, points } from './drawing.fakes.js';

/** @param {number} a @param {number} b @param {number} [within] */
const close = (a, b, within = 1e-9) => assert.ok(Math.abs(a - b) <= within, `${a} is not ${b}`);
/** @param {any} p @param {[number, number]} xy @param {number} [within] */
const at = (p, xy, within = 1e-9) => { close(p.x_m, xy[0], within); close(p.y_m, xy[1], within); };

test('screen and plan go there and back', () => {
  const roll = dice(7);
  for (let i = 0; i < 500; i++) {
    const view = {
      camera: { x_m: roll(8000) - 4000, y_m: roll(8000) - 4000, pxPerM: 0.5 + roll(1000) },
      board: { widthPx: 300 + roll(2000), heightPx: 300 + roll(1000) },
      bearingDeg: roll(3600) / 10,
    };
    const p = { x_m: view.camera.x_m + roll(100) - 50, y_m: view.camera.y_m + roll(100) - 50 };
    at(g.toPlan(view, g.toScreen(view, p)), [p.x_m, p.y_m]);
  }
});

test('the bearing that points up', () => {
  const base = { camera: { x_m: 0, y_m: 0, pxPerM: 10 }, board: { widthPx: 200, heightPx: 100 } };
  const cases = /** @type {const} */ ([
    ['north up: north', 0, [0, 1], [100, 40]],
    ['north up: east', 0, [1, 0], [110, 50]],
    ['east up: east', 90, [1, 0], [100, 40]],
    ['east up: north is left', 90, [0, 1], [90, 50]],
    ['south up: south', 180, [0, -1], [100, 40]],
  ]);
  for (const [name, bearingDeg, [x_m, y_m], [x, y]] of cases) {
    assert.deepEqual(g.toScreen({ ...base, bearingDeg }, { x_m, y_m }), { x, y }, name);
  }
});

test('a plane of 10 m by 6 m at 30 degrees has 69.282 m2', () => {
  // 60 / cos 30 (arithmetic).
  for (const azimuth_deg of [0, 90, 180, 270, 33.3]) {
    close(g.slopeAreaM2(plane('p', [[0, 0], [10, 0], [10, 6], [0, 6]], { azimuth_deg })), 69.282, 5e-4);
  }
});

test('the slope frame: u to the right looking up, v up the slope', () => {
  const ring = points([[0, 0], [10, 0], [10, 6], [0, 6]]);
  const rise = 6 / Math.cos(Math.PI / 6);
  const cases = /** @type {const} */ ([
    ['faces south: the far east corner', 180, [10, 6], [10, rise]],
    ['faces north: the south west corner', 0, [0, 0], [10, rise]],
    ['faces east: looking west, the north west corner', 90, [0, 6], [6, 10 / Math.cos(Math.PI / 6)]],
    ['faces west: the origin is the north west corner', 270, [0, 6], [0, 0]],
  ]);
  for (const [name, azimuth, [x_m, y_m], [u, v]] of cases) {
    const s = g.toSlope(g.planeFrame(ring, 30, azimuth), { x_m, y_m });
    assert.ok(Math.abs(s.u_m - u) < 1e-9 && Math.abs(s.v_m - v) < 1e-9, `${name}: ${s.u_m}, ${s.v_m}`);
  }
});

test('plan and slope go there and back, far away and turned', () => {
  const roll = dice(11);
  for (let i = 0; i < 500; i++) {
    const ring = points([[0, 0], [7, 1], [5, 6]]).map((p) => ({ x_m: p.x_m + roll(4000), y_m: p.y_m - roll(4000) }));
    const frame = g.planeFrame(ring, roll(75), roll(3600) / 10);
    for (const p of ring) at(g.slopeToPlan(frame, g.toSlope(frame, p)), [p.x_m, p.y_m], 1e-9 * 4000);
    const s = g.toSlope(frame, ring[0]);
    assert.ok(s.u_m >= -1e-9 && s.v_m >= -1e-9);
    const t = g.toSlope(frame, ring[1]);
    close(g.trueLengthM(frame, ring[0], ring[1]), Math.hypot(t.u_m - s.u_m, t.v_m - s.v_m), 1e-9);
  }
});

test('area, centre and direction of rings, moved, turned and reversed', () => {
  const l = points([[0, 0], [4, 0], [4, 2], [2, 2], [2, 4], [0, 4]]);
  for (const shift of [0, 4000]) {
    for (const turn of [0, 90, 180, 270]) {
      for (const reversed of [false, true]) {
        const ring = l.map((p) => g.turnPoint({ x_m: p.x_m + shift, y_m: p.y_m - shift }, turn, { x_m: shift, y_m: -shift }));
        if (reversed) ring.reverse();
        close(g.ringAreaM2(ring), 12, 1e-6);
        // Centre of an L of two 4 x 2 and 2 x 2 parts: (4*2*2 + 2*2*1) / 12 (arithmetic).
        const c = g.turnPoint({ x_m: 5 / 3 + shift, y_m: 5 / 3 - shift }, turn, { x_m: shift, y_m: -shift });
        at(g.centroid(ring), [c.x_m, c.y_m], 1e-6);
      }
    }
  }
  assert.equal(g.signedAreaM2(l), 12);
  assert.equal(g.signedAreaM2([...l].reverse()), -12);
  assert.equal(g.ringAreaM2([]), 0);
  at(g.centroid(points([[0, 0], [2, 0], [4, 0]])), [2, 0]);
});

test('a point in a ring: inside, outside, on an edge, on a corner, in line with an edge', () => {
  const l = points([[0, 0], [4, 0], [4, 2], [2, 2], [2, 4], [0, 4]]);
  const cases = /** @type {const} */ ([
    [[1, 1], true], [[3, 3], false], [[4, 1], true], [[0, 0], true], [[2, 2], true], [[2, 3], true], [[5, 2], false], [[3, 2], true], [[-1, 4], false], [[1, 2], true],
  ]);
  for (const ring of [l, [...l].reverse(), [...l.slice(3), ...l.slice(0, 3)]]) {
    for (const [[x_m, y_m], inside] of cases) assert.equal(g.pointInRing({ x_m, y_m }, ring), inside, `${x_m}, ${y_m}`);
  }
});

test('labels lie inside', () => {
  // A U, whose centroid lies outside.
  const u = points([[0, 0], [9, 0], [9, 9], [8, 9], [8, 1], [1, 1], [1, 9], [0, 9]]);
  assert.equal(g.pointInRing(g.centroid(u), u), false);
  assert.equal(g.pointInRing(labelPoint(u), u), true);
  const box = points([[0, 0], [4, 0], [4, 2], [0, 2]]);
  at(labelPoint(box), [2, 1]);
  const chimney = points([[1.8, 0.8], [2.2, 0.8], [2.2, 1.2], [1.8, 1.2]]);
  const off = labelPoint(box, [chimney]);
  assert.ok(roomAroundM(off, box, [chimney]) > 0.5);
  assert.equal(roomAroundM({ x_m: 2, y_m: 1 }, box, [chimney]), 0);
});

test('what is wrong with an outline', () => {
  const cases = /** @type {const} */ ([
    ['two corners', [[0, 0], [1, 0]], /three corners/],
    ['same spot', [[0, 0], [1, 0], [1, 0.0005], [0, 1]], /Corners 2 and 3 lie on the same spot/],
    ['last on first', [[0, 0], [1, 0], [1, 1], [0, 0]], /Corners 4 and 1/],
    ['bow tie', [[0, 0], [2, 2], [2, 0], [0, 2]], /corners 1 and 3 cross/],
    ['a corner on another edge', [[0, 0], [4, 0], [4, 4], [2, 0], [0, 4]], /cross/],
    ['a spike', [[0, 0], [4, 0], [2, 0], [2, 3]], /doubles back at corner 2/],
    ['flat', [[0, 0], [1, 0], [2, 0]], /doubles back|no area/],
    ['triangle', [[0, 0], [1, 0], [0, 1]], /^$/],
    ['a corner in a straight edge', [[0, 0], [1, 0], [2, 0], [2, 2]], /^$/],
  ]);
  for (const [name, xy, want] of cases) {
    const ring = points(/** @type {any} */ (xy));
    assert.match(g.ringFault(ring), want, name);
    const far = ring.map((p) => ({ x_m: p.x_m + 1024, y_m: p.y_m - 2048 }));
    assert.match(g.ringFault(far), want, `${name}, far away`);
    if (want.source === '^$') assert.equal(g.ringFault([...ring].reverse()), '', `${name}, reversed`);
  }
});

test('bearings', () => {
  assert.equal(g.normDeg(-1e-20), 0);
  assert.equal(g.normDeg(360), 0);
  assert.equal(g.normDeg(-90), 270);
  assert.equal(g.bearingDeg({ x_m: 0, y_m: 0 }, { x_m: 1, y_m: 0 }), 90);
  assert.equal(g.angleBetweenDeg(350, 10), 20);
  const ring = points([[0, 0], [4, 0], [4, 4], [0, 4]]);
  assert.deepEqual([0, 1, 2, 3].map((i) => g.outwardBearingDeg(ring, i)), [180, 90, 0, 270]);
  assert.equal(g.outwardBearingDeg([...ring].reverse(), 0), 0);
});

test('rectangles of plan kinds turn clockwise from north', () => {
  const k = keepOut('k', { center: { x_m: 1, y_m: 2 }, width_m: 2, depth_m: 4, turn_deg: 0 });
  assert.deepEqual(g.footprint(gable(), /** @type {any} */ (k)), points([[0, 0], [2, 0], [2, 4], [0, 4]]));
  const turned = g.footprint(gable(), /** @type {any} */ ({ ...k, turn_deg: 90 }));
  // The depth now runs east.
  assert.deepEqual(turned, points([[-1, 3], [-1, 1], [3, 1], [3, 3]]));
});

test('roof windows are measured in the plane that holds them', () => {
  // 60 degrees halves what is seen from above (cos 60, arithmetic).
  const doc = gable({ planes: [plane('p', [[0, 0], [10, 0], [10, 4], [0, 4]], { pitch_deg: 60 })] });
  const k = keepOut('k', { kind: 'roof_window', center: { x_m: 5, y_m: 2 }, width_m: 1, depth_m: 2, turn_deg: 0 });
  const ring = g.footprint(doc, /** @type {any} */ (k));
  at(ring[0], [4.5, 1.5]);
  at(ring[2], [5.5, 2.5]);
  // Turned clockwise by 90 degrees, the depth runs along the eave.
  const turned = g.footprint(doc, /** @type {any} */ ({ ...k, turn_deg: 90 }));
  const { min, max } = g.boundsOf(turned);
  at(min, [4, 1.75]);
  at(max, [6, 2.25]);
  // A round one is as wide as it is long in the roof.
  const round = g.boundsOf(g.footprint(doc, /** @type {any} */ (keepOut('k', { kind: 'shade', shape: 'circle', center: { x_m: 5, y_m: 2 }, radius_m: 1 }))));
  close(round.max.x_m - round.min.x_m, 2);
  close(round.max.y_m - round.min.y_m, 1);
  // Off the roof there is no plane to measure in.
  at(g.footprint(doc, /** @type {any} */ ({ ...k, center: { x_m: 50, y_m: 50 } }))[0], [49.5, 49]);
});

test('the camera: what is under the pointer stays there', () => {
  const view = { camera: { x_m: 3, y_m: 4, pxPerM: 50 }, board: { widthPx: 1000, heightPx: 800 }, bearingDeg: 30 };
  const px = { x: 200, y: 300 };
  const under = g.toPlan(view, px);
  at(g.toPlan({ ...view, camera: zoomed(view, 3, px) }, px), [under.x_m, under.y_m]);
  at(g.toPlan({ ...view, camera: panned(view, { x: 40, y: -70 }) }, { x: 240, y: 230 }), [under.x_m, under.y_m]);
  assert.equal(zoomed(view, 1e9, px).pxPerM, 4000);
});

test('fitting shows every corner, whichever way the view is turned', () => {
  for (const bearingDeg of [0, 45, 200]) {
    const view = { camera: { x_m: 900, y_m: 900, pxPerM: 1 }, board: { widthPx: 1000, heightPx: 400 }, bearingDeg };
    const fit = { ...view, camera: fitted(view, gable()) };
    for (const p of g.allPoints(gable())) {
      const s = g.toScreen(fit, p);
      assert.ok(s.x >= 35 && s.x <= 965 && s.y >= 35 && s.y <= 365, `${bearingDeg}: ${s.x}, ${s.y}`);
    }
  }
});

test('a fitted roof keeps off the north arrow in the upper corner of a phone', () => {
  const view = { camera: { x_m: 0, y_m: 0, pxPerM: 1 }, board: { widthPx: 390, heightPx: 443 }, bearingDeg: 0 };
  const fit = { ...view, camera: fitted(view, gable()) };
  for (const p of g.allPoints(gable())) assert.ok(g.toScreen(fit, p).y >= 65);
  assert.ok(sameCamera(fit.camera, fitted(view, gable())));
  assert.ok(!sameCamera(fit.camera, panned(fit, { x: 1, y: 0 })));
});
