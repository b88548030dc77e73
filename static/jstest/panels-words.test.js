import assert from 'node:assert/strict';
import { test } from 'node:test';
import { candidateFrom, catalogWords, differsFromCatalog, sizeFault } from '../js/panels/catalog.js';
import { originWords } from '../js/panels/dialog-candidates.js';
import { allRound } from '../js/panels/dialog-rules.js';
import { kindChoices } from '../js/panels/edges.js';
import { parseLabel, parseNumberIn, parseSignedLength } from '../js/panels/measures.js';
import { fieldWord, parsePath, placeOf, placedMessage } from '../js/panels/places.js';
import { parseLimit, parseRise } from '../js/panels/props-plane.js';
import { kilowattsTyped, parseKilowatts } from '../js/panels/watts.js';
import { whyWords } from '../js/model/hand-words.js';
import { facing, kilowatts, pitchBoth, powerUnit, shadeWords, styleWord, trim, turnsWord, valueOf } from '../js/panels/words.js';
import { docNamed } from './sync.fakes.js';

test('a size in kilowatts is read into whole watts without a fraction', () => {
  const rows = /** @type {const} */ ([
    ['5.7', 5700], ['4,8', 4800], ['4.8 kW', 4800], [' 6.4 kWdc ', 6400], ['5.1kWp', 5100], ['.5', 500], ['8.', 8000],
    ['10000', 10_000_000], ['0.001', 1], ['0005.70000', 5700], ['4.35', 4350], ['1.005', 1005], ['2.675', 2675], ['9.2', 9200],
  ]);
  for (const [text, watts] of rows) assert.equal(parseKilowatts(text), watts, text);
});

test('every whole watt survives being shown and typed again', () => {
  for (let watts = 1; watts <= 30_000; watts++) assert.equal(parseKilowatts(kilowattsTyped(watts)), watts);
});

test('what is not a size says what is allowed', () => {
  for (const text of ['', '.', ',', 'five', '5.7.1', '-5', '1e3', '5 MW', '5,7,1', 'NaN', 'kW']) {
    assert.throws(() => parseKilowatts(text), /not a size\. Type kilowatts from 0\.001 to 10000/, text);
  }
  for (const text of ['0', '0.000', '10000.001', '99999999999999999999']) assert.throws(() => parseKilowatts(text), /out of range/, text);
  assert.throws(() => parseKilowatts('5.7001'), /at most three decimals/);
});

test('kilowatts are shown exactly', () => {
  const rows = /** @type {const} */ ([[5700, '5.70'], [0, '0.00'], [7505, '7.505'], [330, '0.33'], [5, '0.005'], [12_345_670, '12345.67'], [4795, '4.795']]);
  for (const [watts, text] of rows) assert.equal(kilowatts(watts), text);
});

test('the unit of power follows the rule family', () => {
  const { site } = docNamed('x');
  assert.equal(powerUnit(site), 'kWdc');
  assert.equal(powerUnit({ ...site, rule_family: 'iec' }), 'kWp');
});

test('words', () => {
  assert.equal(shadeWords(0), '');
  assert.equal(shadeWords(4), '4 of them in shade');
  assert.equal(facing(203, 30), 'faces SSW 203°');
  assert.equal(facing(359.7, 30), 'faces N 0°');
  assert.equal(facing(203, 1.9), 'nearly flat, rows turned to 203°');
  assert.equal(pitchBoth(30), '30°, 6.9 in 12');
  assert.equal(trim(26.565, 2), '26.57');
  assert.equal(trim(30, 2), '30');
});

test('rise in 12', () => {
  // arithmetic: atan(rise / 12)
  const rows = /** @type {const} */ ([['4', 18.43], ['6', 26.57], ['8', 33.69], ['12', 45], ['6:12', 26.57], ['6 in 12', 26.57], ['4,5', 20.56], ['0', 0]]);
  for (const [text, deg] of rows) assert.ok(Math.abs(parseRise(text) - deg) < 0.005, `${text}: ${parseRise(text)}`);
  assert.throws(() => parseRise('45'), /from 0 to 44\.78/);
  assert.throws(() => parseRise('steep'), /from 0 to 44\.78/);
});

test('numbers name their range', () => {
  assert.equal(parseNumberIn('-6', { min: -12, max: 14 }), -6);
  assert.equal(parseNumberIn('−6,5', { min: -12, max: 14 }), -6.5);
  assert.throws(() => parseNumberIn('15', { min: -12, max: 14 }), /15 is out of range\. Type a number from -12 to 14/);
  assert.throws(() => parseNumberIn('1.5', { min: 0, max: 9, whole: true }), /not whole/);
  for (const text of ['', '1e3', 'Infinity', '0x10', '1 2']) assert.throws(() => parseNumberIn(text, { min: 0, max: 9 }), /is not a number/, text);
});

test('a module limit may be left open', () => {
  assert.equal(parseLimit(' '), null);
  assert.equal(parseLimit('0'), 0);
  assert.throws(() => parseLimit('10001'), /from 0 to 10000/);
});

test('coordinates may be negative', () => {
  assert.equal(parseSignedLength('-3.2', 'metric', 5000), -3.2);
  assert.equal(parseSignedLength('−320 cm', 'metric', 5000), -3.2);
  assert.ok(Math.abs(parseSignedLength(`-10' 6"`, 'imperial', 5000) + 3.2004) < 1e-9);
  assert.ok(Object.is(parseSignedLength('-0', 'metric', 5000), 0));
  assert.throws(() => parseSignedLength('-5001', 'metric', 5000), /-5000 m to 5000 m/);
});

test('names are counted in characters', () => {
  assert.equal(parseLabel('  Süd  ', 3), 'Süd');
  assert.equal(parseLabel('🏠🏠', 2), '🏠🏠');
  assert.equal(parseLabel('', 60), '');
  assert.throws(() => parseLabel('', 60, true), /1 to 60/);
  assert.throws(() => parseLabel('x'.repeat(61), 60), /61 characters; at most 60/);
});

test('a problem leads to its place', () => {
  const doc = { ...docNamed('x'), planes: [plane('south', 'South'), plane('p2', '')] };
  const rows = /** @type {const} */ ([
    ['planes[0].pitch_deg', 'South, pitch'],
    ['planes[1].ring[2].x_m', 'Plane 2, corner 3, east'],
    ['planes[0].ring', 'South, outline'],
    ['planes[0]', 'South'],
    ['site.lat_deg', 'Site, latitude'],
    ['rules.distances.party_wall_m', 'Rules, party wall'],
    ['target.size_w', 'Size, size'],
    ['planes[9].pitch_deg', ''],
    ['', ''],
    ['schema', ''],
  ]);
  for (const [path, words] of rows) assert.equal(placeOf(doc, path), words, path);
  assert.equal(placedMessage('South, pitch', 'is 80'), 'South, pitch: is 80');
  assert.equal(placedMessage('South', 'South and North do not meet'), 'South and North do not meet');
  assert.deepEqual(parsePath('keep_outs[3].points[1].y_m'), { part: 'keep_outs', index: 3, corner: 1, field: 'y_m' });
  assert.deepEqual(parsePath('rules.style'), { part: 'rules', index: -1, corner: -1, field: 'style' });
  assert.equal(parsePath('planes[x].use'), null);
  assert.equal(fieldWord('gap_eave_m'), 'gap eave');
});

test('candidates keep what they were copied from', () => {
  const sheet = { id: 'demo', label: 'Invented 400', pmax_w: 400, length_m: 1.7, width_m: 1.1, invented: true, voc_v: 40 };
  const entry = { id: 'demo', label: 'Invented 400', pmax_w: 400, length_m: 1.7, width_m: 1.1, invented: true, datasheet: sheet };
  const candidate = candidateFrom(entry, 'module-1');
  assert.deepEqual(candidate, { id: 'module-1', catalog_id: 'demo', label: 'Invented 400', pmax_w: 400, length_m: 1.7, width_m: 1.1, invented: true, datasheet: sheet });
  assert.equal(differsFromCatalog(candidate, [entry]), false);
  assert.equal(differsFromCatalog(candidate, [{ ...entry, datasheet: { ...sheet, voc_v: 41 } }]), true);
  assert.equal(differsFromCatalog({ ...candidate, datasheet: null }, [entry]), true);
  assert.equal(originWords(candidate, [entry]), 'Invented module, for trying out.');
  assert.equal(originWords({ ...candidate, pmax_w: 405 }, [entry]), 'Invented module, for trying out, edited copy.');
  assert.equal(originWords({ ...candidate, catalog_id: '', invented: false }, [entry]), 'Typed here.');
  assert.equal(originWords({ ...candidate, invented: false }, [{ ...entry, invented: false }]), '');
  assert.equal(catalogWords(entry), 'Invented 400, 400 W');
  assert.equal(catalogWords({ ...entry, label: 'Small, 400 W' }), 'Small, 400 W, invented');
  assert.equal(candidateFrom(undefined, 'm').catalog_id, '');
});

test('the long side of a module is not the shorter one', () => {
  assert.equal(sizeFault({ length_m: 1.7, width_m: 1.7 }, 'metric'), '');
  assert.match(sizeFault({ length_m: 1, width_m: 1.1 }, 'metric'), /long side \(1 m\) must not be shorter than the short side \(1\.1 m\)/);
});

test('the preset sets every kind of edge', () => {
  const { distances } = docNamed('x').rules;
  assert.deepEqual(Object.keys(allRound(0.3)).sort(), Object.keys(distances).sort());
  assert.ok(Object.values(allRound(0.3)).every((m) => m === 0.3));
});

test('an edge is offered its guess first', () => {
  const piece = { index: 0, from: /** @type {[number, number]} */ ([0, 0]), to: /** @type {[number, number]} */ ([1, 0]), length_m: 1, street: false };
  assert.deepEqual(kindChoices([{ ...piece, kind: 'party_wall', guessed: true }])[0], ['', 'party wall (guessed)']);
  assert.deepEqual(kindChoices([{ ...piece, kind: 'eave', guessed: true }, { ...piece, kind: 'valley', guessed: true }])[0], ['', 'eave and valley (guessed)']);
  assert.deepEqual(kindChoices([{ ...piece, kind: 'wall', guessed: false }])[0], ['', 'guess it']);
  assert.equal(kindChoices([]).length, 9);
});

/**
 * @param {string} id
 * @param {string} label
 * @returns {import('../js/model/types.js').Plane}
 */
function plane(id, label) {
  return { id, label, use: true, ring: [], pitch_deg: 30, azimuth_deg: 180, eave_height_m: 3, module_limit: null, turn: 'portrait', covering: 'tile', rafter_spacing_m: 0.6 };
}

test('every reason why the roof does not allow a module has its words', () => {
  const doc = { ...docNamed('x'), keep_outs: [{ id: 'k', label: 'Chimney', kind: /** @type {const} */ ('chimney'), shape: /** @type {const} */ ('rect'), clearance_m: 0, height_m: 1, shade: /** @type {const} */ ('') }] };
  const rows = /** @type {const} */ ([
    ['outside', '', 'beyond the edge of the plane'],
    ['setback', '', 'within a setback'],
    ['path', '', 'within an access path'],
    ['keep_out', 'k', 'on Chimney or its clearance'],
    ['keep_out', 'gone', 'on a keep-out or its clearance'],
    ['shade_off_limits', 'k', 'on Chimney, which is off limits'],
    ['shade_off_limits', '', 'on shade that is off limits'],
    ['end', '', 'no room for clamp and rail at its end'],
    ['overlap', '3', 'on or too close to module 4'],
    ['overlap', '', 'on or too close to another module'],
    ['limit', '', 'over the module limit of the plane'],
  ]);
  for (const [why, other, words] of rows) assert.equal(whyWords(doc, { index: 0, plan: [], why, with: other, locked: false }, true), words);
});

test('what is known of the value of chosen places', () => {
  const layout = /** @type {any} */ ({ count: 3 });
  const words = 'points: metres from shade, at most 100 each, and 1000 for each tenth of the noon sun that the plane faces, less 100000 in last-resort shade';
  const size = { need: 3, fits: true, ridge_widened: false, value: -197197.92, value_bound: 37, value_proved: false, value_words: words, layout };
  assert.deepEqual(valueOf(size, true), { known: 'other places might be of more value', points: `−197\u202f197.9, at most 37 ${words}` });
  assert.deepEqual(valueOf({ ...size, value: 1234567.25, value_proved: true }, true), { known: 'highest value for these layouts, proved', points: `1\u202f234\u202f567.3 ${words}` });
  const blind = valueOf({ ...size, value_proved: true }, false);
  assert.equal(blind?.known, '', 'no proof without the facing');
  assert.equal(valueOf({ ...size, value_words: '' }, true), null);
  assert.equal(valueOf({ ...size, layout: { ...layout, count: 0 } }, true), null, 'nothing is placed');
});

test('styles and turns within a sentence', () => {
  assert.deepEqual(/** @type {const} */ (['rows', 'columns', 'grid', 'best']).map(styleWord), ['rows', 'columns', 'one grid', 'most modules']);
  assert.deepEqual([1, 2].map(turnsWord), ['one orientation', 'two orientations']);
});
