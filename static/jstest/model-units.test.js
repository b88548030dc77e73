import assert from 'node:assert/strict';
import { test } from 'node:test';
import * as u from '../js/model/units.js';
import { dice } from './drawing.fakes.js';

test('lengths as people type them', () => {
  const cases = /** @type {const} */ ([
    ['3.2', 'metric', 3.2],
    ['3,2', 'metric', 3.2],
    [' 3.2 m ', 'metric', 3.2],
    ['.5', 'metric', 0.5],
    ['320 cm', 'metric', 3.2],
    ['320cm', 'imperial', 3.2],
    ['3200 mm', 'imperial', 3.2],
    ['10', 'imperial', 3.048],
    ["10'", 'metric', 3.048],
    ["10' 6\"", 'metric', 3.2004],
    ["10'6", 'imperial', 3.2004],
    ['10’ 6”', 'metric', 3.2004],
    ['10′ 6″', 'metric', 3.2004],
    ["10ft 6 1/2in", 'metric', 3.2131],
    ['10 ft 6-1/2 in', 'metric', 3.2131],
    ['10 feet 6 inches', 'metric', 3.2004],
    ["10' 1/2\"", 'metric', 3.0607],
    ['126"', 'metric', 3.2004],
    ['6.5 in', 'imperial', 0.1651],
    ['0', 'metric', 0],
  ]);
  // 1 ft = 0.3048 m and 1 in = 0.0254 m exactly (international yard and pound agreement, 1959).
  for (const [text, units, m] of cases) assert.ok(Math.abs(u.parseLength(text, units) - m) < 1e-12, `${text}: ${u.parseLength(text, units)}`);
});

test('what is no length is refused with what is allowed', () => {
  for (const text of ['', 'x', '-3', '3 km', '1/2', '3.2.1', "10' 6' 3\"", '6 1/0"', 'NaN', '1e3', '10 6', '∞']) {
    for (const units of /** @type {const} */ (['metric', 'imperial'])) {
      assert.throws(() => u.parseLength(text, units), /is not a length\. Type metres .* feet and inches/, text);
    }
  }
  assert.throws(() => u.parseLengthIn('11 m', 'metric', 0, 10), /11\.00 m is out of range: 0 m to 10 m/);
  assert.throws(() => u.parseLengthIn("40'", 'imperial', 0, 3.048), /40' 0" is out of range: 0" to 10' 0"/);
});

test('lengths as they are shown', () => {
  const cases = /** @type {const} */ ([
    [3.2, 'metric', '3.20 m', '3.2 m'],
    [0, 'metric', '0.00 m', '0 m'],
    [-0.001, 'metric', '0.00 m', '-0.001 m'],
    [12.3456, 'metric', '12.35 m', '12.346 m'],
    [3.2004, 'imperial', "10' 6\"", "10' 6\""],
    [3.2131, 'imperial', "10' 6 1/2\"", "10' 6 1/2\""],
    [3.048, 'imperial', "10' 0\"", "10' 0\""],
    [0.0127, 'imperial', '1/2"', '1/2"'],
    // 7 13/16 in.
    [0.1984375, 'imperial', '7 7/8"', '7 13/16"'],
    [0, 'imperial', '0"', '0"'],
    // 11 31/32 in rounds up to a foot, not to 12 in.
    [0.3047, 'imperial', "1' 0\"", "1' 0\""],
  ]);
  for (const [m, units, shown, text] of cases) {
    assert.equal(u.formatLength(m, units), shown);
    assert.equal(u.lengthText(m, units), text);
  }
  assert.equal(u.formatArea(69.282, 'metric'), '69.28 m²');
  // 1 ft2 = 0.09290304 m2 (arithmetic).
  assert.equal(u.formatArea(9.290304, 'imperial'), '100.0 ft²');
});

test('what is shown can be typed', () => {
  const roll = dice(3);
  for (let i = 0; i < 1000; i++) {
    const m = roll(1e6) / 1e4;
    assert.ok(Math.abs(u.parseLength(u.lengthText(m, 'metric'), 'metric') - m) <= 0.0005 + 1e-12);
    assert.ok(Math.abs(u.parseLength(u.lengthText(m, 'imperial'), 'imperial') - m) <= u.M_PER_IN / 32 + 1e-12);
  }
});

test('pitch in degrees or as rise in 12', () => {
  // 4:12 = 18.43, 6:12 = 26.57, 8:12 = 33.69, 12:12 = 45.00 (arithmetic).
  for (const [rise, deg] of [[4, 18.43], [6, 26.57], [8, 33.69], [12, 45]]) {
    assert.equal(u.parsePitch(`${rise}:12`).toFixed(2), deg.toFixed(2));
    assert.equal(u.parsePitch(`${rise} in 12`).toFixed(2), deg.toFixed(2));
    assert.equal(u.parsePitch(`${rise}/12`), u.riseIn12ToDeg(rise));
    assert.ok(Math.abs(u.degToRiseIn12(u.riseIn12ToDeg(rise)) - rise) < 1e-12);
  }
  assert.equal(u.parsePitch('30°'), 30);
  assert.equal(u.parsePitch('0'), 0);
  assert.equal(u.parsePitch('75'), 75);
  for (const text of ['', '76', '-1', '60:12', '6:10', 'steep']) assert.throws(() => u.parsePitch(text), /degrees from 0 to 75 .* rise in 12/, text);
  assert.equal(u.formatPitch(30, 'metric'), '30°');
  assert.equal(u.formatPitch(u.riseIn12ToDeg(6), 'imperial'), '6:12');
});

test('bearings and turns', () => {
  const cases = /** @type {const} */ ([['180', 180], ['180°', 180], ['S', 180], ['ssw', 202.5], ['360', 0], ['180° S', 180], ['0', 0]]);
  for (const [text, deg] of cases) assert.equal(u.parseBearing(text), deg, text);
  for (const text of ['', '-1', '361', 'up', 'SNS']) assert.throws(() => u.parseBearing(text), /0 to 360 .* compass point/, text);
  assert.equal(u.formatBearing(180), '180° S');
  assert.equal(u.compassPoint(359), 'N');
  assert.equal(u.parseTurn('-12.5'), -12.5);
  assert.equal(u.parseTurn('−90°'), -90);
  assert.equal(u.parseTurn('+7'), 7);
  for (const text of ['', 'x', '361', '--1']) assert.throws(() => u.parseTurn(text), /-360 to 360/, text);
});
