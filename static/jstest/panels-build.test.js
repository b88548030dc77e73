import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { test } from 'node:test';
import { losesDatasheet, sameFigures, typedFrom, withDatasheet } from '../js/panels/catalog.js';
import { parseModuleName } from '../js/panels/dialog-candidates.js';
import { parseCurrency, priceFacts } from '../js/panels/dialog-cost.js';
import { questionWords } from '../js/panels/dialog-datasheet.js';
import { codeLimitWords } from '../js/panels/dialog-wiring.js';
import { asceFactorsLine, enFactorsLine } from '../js/panels/loads-snow.js';
import { parseGCp, tableGCp, usedWords } from '../js/panels/loads-gcp.js';
import { flushNeeds, kindOf, windFactorsLine } from '../js/panels/loads-wind.js';
import { parsePath, placeOf } from '../js/panels/places.js';
import { copyWords, productChoices } from '../js/panels/product-choice.js';
import { datasheetFacts, datasheetLine, designRating, inverterFacts, microFacts, optimiserFacts, trackerWords } from '../js/panels/product-words.js';
import { createProducts } from '../js/panels/products.js';
import { bothUnits, stationFacts, stationWarnings, temperatureWords } from '../js/panels/station-words.js';
import { newASCESnow, newENSnow, newFlushWind } from '../js/model/load-defaults.js';
import { gable, plane } from './drawing.fakes.js';

/** @type {any} an invented module */
const sheet = {
  id: 'demo', label: 'Invented 400', pmax_w: 400, length_m: 1.722, width_m: 1.134, invented: true, tolerance_plus_w: 5, voc_v: 37.8, isc_a: 13.35, vmp_v: 31.6, imp_a: 12.66,
  gamma_pmax_pct_per_k: -0.29, beta_voc_pct_per_k: -0.25, alpha_isc_pct_per_k: 0.045, nmot_c: 42, cells: 108, half_cut: true, substrings: 3, cell_type: 'n_mono',
  thickness_m: 0.03, weight_kg: 20.8, max_system_v: 1500, max_series_fuse_a: 25,
  long_edge: { front_test_pa: 5400, front_design_pa: 0, rear_test_pa: 2400, rear_design_pa: 1500 }, short_edge: { front_test_pa: 0, front_design_pa: 0, rear_test_pa: 0, rear_design_pa: 0 },
  first_year_loss_pct: 1, yearly_loss_pct: 0.4, loss_law: 'linear', product_warranty_years: 25, performance_warranty_years: 30, price: 128,
};
/** @type {any} */
const candidate = { id: 'a', catalog_id: 'demo', label: 'Invented 400', pmax_w: 400, length_m: 1.722, width_m: 1.134, invented: true, datasheet: sheet };

test('a datasheet goes with another size, and takes over another name', () => {
  for (const patch of [{ pmax_w: 405 }, { length_m: 1.73 }, { width_m: 1.1 }]) {
    assert.equal(losesDatasheet(candidate, patch), true);
    assert.deepEqual(withDatasheet(candidate, patch), { ...patch, datasheet: null });
  }
  for (const patch of [{ pmax_w: 400 }, { label: 'Other' }, {}]) assert.equal(losesDatasheet(candidate, patch), false);
  assert.deepEqual(withDatasheet(candidate, { label: 'Other' }), { label: 'Other', datasheet: { ...sheet, label: 'Other' } });
  assert.deepEqual(withDatasheet({ ...candidate, datasheet: null }, { pmax_w: 5 }), { pmax_w: 5 });
  assert.equal(losesDatasheet({ ...candidate, datasheet: null }, { pmax_w: 5 }), false);
  assert.deepEqual(typedFrom(candidate), { catalog_id: '', label: 'Invented 400', pmax_w: 400, length_m: 1.722, width_m: 1.134, invented: false, datasheet: null });
  const [what] = questionWords('B', candidate, { pmax_w: 405 }, 'metric');
  assert.match(what, /of Invented 400: 400 W, 1\.722 m × 1\.134 m\. With 405 W, 1\.722 m × 1\.134 m it is another module/);
});

test('names of modules', () => {
  assert.equal(parseModuleName('', false), '');
  assert.equal(parseModuleName(' Übung 4 ', true), 'Übung 4');
  assert.throws(() => parseModuleName('', true), /1 to 80 characters/);
  assert.throws(() => parseModuleName('-x', true), /“-x” must begin with a letter or a digit/);
  assert.throws(() => parseModuleName('a'.repeat(81), false), /81 characters; at most 80/);
});

test('copies are compared figure by figure, in any order', () => {
  assert.equal(sameFigures({ a: 1, b: [{ c: 2 }] }, { b: [{ c: 2 }], a: 1 }), true);
  assert.equal(sameFigures({ a: 1 }, { a: 1, b: 0 }), false);
  assert.equal(sameFigures({ b: [1] }, { b: [1, 2] }), false);
  assert.equal(sameFigures(null, {}), false);
});

test('a rating without a design value is the test value over 1.5', () => {
  // IEC 61215-2 MQT 16: 5400 / 1.5 = 3600
  assert.deepEqual(designRating(sheet, 'long_edge', 'front'), { pa: 3600, testPa: 5400 });
  assert.deepEqual(designRating(sheet, 'long_edge', 'rear'), { pa: 1500, testPa: 0 });
  assert.equal(designRating(sheet, 'short_edge', 'front'), null);
  assert.equal(designRating({ id: 'x', label: 'x' }, 'long_edge', 'rear'), null);
});

test('figures in words', () => {
  assert.equal(datasheetLine(sheet), 'Datasheet: Voc 37.8 V, Isc 13.35 A, Pmax −0.29 %/K, 20.8 kg');
  const rows = new Map(datasheetFacts(sheet, 'metric'));
  assert.equal(rows.get('Temperature coefficients'), 'Pmax −0.29, Voc −0.25, Isc +0.045 %/K');
  assert.equal(rows.get('Cells'), '108 half cells, n-type mono, 3 bypass diodes');
  assert.equal(rows.get('Design load, clamps on long edges'), 'front 3600 Pa (5400 Pa test / 1.5), rear 1500 Pa');
  assert.equal(rows.get('Design load, clamps on short edges'), 'front not given, rear not given');
  assert.equal(rows.get('Efficiency at 200 W/m² over 1000'), 'not given');
  assert.match(rows.get('Warranty') ?? '', /^product: 25 years; output: at most 1 % less in year 1, then 0\.4 % of rated power a year, for 30 years$/);
  // 20.8 kg / 0.45359237 = 45.856 lb; 3600 Pa / 47.880259 = 75.19 psf
  assert.match(new Map(datasheetFacts(sheet, 'imperial')).get('Thickness, weight') ?? '', /45\.86 lb \(20\.8 kg\)/);
  assert.match(new Map(datasheetFacts(sheet, 'imperial')).get('Design load, clamps on long edges') ?? '', /75\.19 psf \(3600 Pa\)/);
});

/** @type {any} */
const inverter = {
  id: 'inv', label: 'Invented 8 kW', invented: true, max_dc_v: 1000, max_array_w: 0, mppt_min_v: 160, mppt_max_v: 850, start_v: 180, ac_power_w: 8000, ac_current_a: 12.7,
  ac_voltage_v: 400, phases: 3, weighted_efficiency_pct: 97.6, arc_fault: false, price: 0,
  mppts: [{ inputs: 2, max_operating_a: 27, max_short_circuit_a: 36 }, { inputs: 1, max_operating_a: 13.5, max_short_circuit_a: 18 }, { inputs: 1, max_operating_a: 13.5, max_short_circuit_a: 18 }],
};

test('products in words', () => {
  assert.equal(trackerWords(inverter), '1 × 2 strings, 27 A operating, 36 A short circuit; 2 × 1 string, 13.5 A operating, 18 A short circuit');
  const rows = new Map(inverterFacts(inverter));
  assert.equal(rows.get('AC output'), '8000 W, 12.7 A at 400 V, three-phase');
  assert.equal(rows.get('Tracking window'), '160 to 850 V, starts at 180 V');
  assert.equal(rows.get('Largest array'), 'not given');
  assert.equal(rows.has('Price, in your own currency'), false);
  const micro = new Map(microFacts({ id: 'm', label: 'm', branch_breaker_a: 20, max_units_per_branch: 9, phases: 1 }));
  assert.equal(micro.get('AC branch'), 'breaker 20 A, at most 9 units');
  const optimiser = new Map(optimiserFacts({ id: 'o', label: 'o', min_units: 8, max_units: 25, max_string_w: 5700, max_output_a: 15, rapid_shutdown: true, price: 60 }));
  assert.equal(optimiser.get('Units in a string'), '8 to 25, at most 5700 W and 15 A');
  assert.equal(optimiser.get('Listed for rapid shutdown'), 'yes');
  assert.equal(optimiser.get('Price, in your own currency'), '60');
});

test('a copy that the catalog has otherwise stays a choice of its own', () => {
  assert.deepEqual(productChoices(null, [inverter]), { value: '', choices: [['', 'Not chosen'], ['inv', 'Invented 8 kW']] });
  assert.equal(productChoices({ ...inverter }, [inverter]).value, 'inv');
  const old = { ...inverter, phases: 1 };
  assert.deepEqual(productChoices(old, [inverter]).choices[1], ['kept copy', 'Invented 8 kW (copy in this project)']);
  assert.equal(productChoices(old, [inverter]).value, 'kept copy');
  assert.equal(copyWords(null, []), '');
  assert.equal(copyWords({ ...inverter }, [inverter]), '');
  assert.match(copyWords(old, [inverter]), /other figures for it now/);
  assert.match(copyWords(old, []), /no longer/);
});

/** @type {any} */
const station = {
  id: '1', label: 'Somewhere, XX', lat_deg: 1, lon_deg: 0, elevation_m: 100, distance_km: 111.195, height_m: 100, cold_c: -20, cold_basis: 'the mean', hot_c: 33, hot_basis: 'the 2 %',
  usable: true, warnings: ['It is far.'], source: 's',
};

test('the station in words', () => {
  assert.deepEqual(stationFacts(/** @type {any} */ ({ station: null }), 'metric'), []);
  assert.deepEqual(stationFacts(/** @type {any} */ ({ station }), 'metric').map(([, words]) => words), ['Somewhere, XX', '111 km', '100 m higher than the site']);
  // 111.195 / 1.609344 = 69.09 mi; 100 / 0.3048 = 328.1 ft
  assert.deepEqual(stationFacts(/** @type {any} */ ({ station: { ...station, height_m: -100 } }), 'imperial').slice(1).map(([, words]) => words), ['69 mi (111 km)', '328 ft (100 m) lower than the site']);
  const wiring = { station, cold_c: null, hot_air_c: null };
  const site = { lat_deg: 0, lon_deg: 0, elevation_m: 0 };
  const of = (/** @type {object} */ s, w = {}) => stationWarnings(/** @type {any} */ ({ site: { ...site, ...s }, wiring: { ...wiring, ...w } }));
  assert.deepEqual(of({}), ['It is far.']);
  for (const moved of [{ lat_deg: 0.01 }, { elevation_m: 6 }]) assert.match(of(moved)[0], /has moved/);
  for (const same of [{ lat_deg: 0.004 }, { elevation_m: 4 }]) assert.deepEqual(of(same), ['It is far.']);
  assert.deepEqual(of({ lat_deg: 5 }, { cold_c: -3, hot_air_c: 30 }), []);
  assert.equal(of({ lat_deg: 5 }, { cold_c: -3 }).length, 2);
});

test('figures of the server with customary ones beside them', () => {
  assert.equal(bothUnits('1 km away and 310 m higher; 3 m/s, -4 C', 'imperial'), '1 km (0.6 mi) away and 310 m (1017 ft) higher; 3 m/s, -4 C (25 °F)');
  assert.equal(bothUnits('90 km, 2.5 m, 3 modules', 'imperial'), '90 km (56 mi), 2.5 m (8\' 2 3/8"), 3 modules');
  assert.equal(bothUnits('gaps of 0.02 m, sides of 1.65 x 0.99 m', 'imperial'), 'gaps of 0.02 m (3/4"), sides of 1.65 x 0.99 m (5\' 5" x 3\' 3")');
  for (const same of ['at most 0.254 m (10 in)', 'plane "Mark3 m"', 'v1.5 m']) assert.equal(bothUnits(same, 'imperial'), same);
  assert.equal(bothUnits('90 km', 'metric'), '90 km');
});

test('where a design temperature comes from', () => {
  assert.equal(temperatureWords(null, station, 'cold', 'metric'), 'the mean');
  const said = { ...station, cold_basis: '-33.0 C is the lowest, -26.0 C, less 7 K.' };
  assert.equal(temperatureWords(null, said, 'cold', 'metric'), '-33.0 C is the lowest, -26.0 C, less 7 K.');
  assert.equal(temperatureWords(null, said, 'cold', 'imperial'), '-33.0 C (−27 °F) is the lowest, -26.0 C (−15 °F), less 7 K.');
  assert.equal(temperatureWords(-5, station, 'cold', 'metric'), 'Typed. The station has −20 °C.');
  assert.equal(temperatureWords(-5, station, 'cold', 'imperial'), 'Typed. The station has −4 °F (−20 °C).');
  assert.equal(temperatureWords(30, null, 'hot', 'metric'), 'Typed.');
  const far = { ...station, usable: false, cold_c: null, hot_c: null };
  assert.match(temperatureWords(null, far, 'hot', 'metric'), /^Not known/);
  assert.equal(temperatureWords(30, far, 'hot', 'metric'), 'Typed.');
});

test('the code limit', () => {
  assert.match(codeLimitWords('nec', 'dwelling'), /600 V\. NEC 690\.7/);
  assert.match(codeLimitWords('nec', 'building'), /1000 V/);
  assert.match(codeLimitWords('nec', 'ground'), /1500 V/);
  assert.match(codeLimitWords('iec', 'dwelling'), /1000 V\. .*from memory/);
});

test('factors on one line', () => {
  assert.equal(asceFactorsLine(newASCESnow('7-16', 1000)), 'Factors: Ce 1, Ct 1.2, Is 1, cold roof, not slippery');
  assert.doesNotMatch(asceFactorsLine(newASCESnow('7-22', 1000)), /Is/);
  assert.equal(enFactorsLine({ ...newENSnow(1000), exceptional: true }), 'Factors: Ce 1, Ct 1, ψ0 0.5, no snow guards, exceptional × 2');
  const wind = newFlushWind('7-16', { speed_mps: 50, mean_roof_height_m: 5, building_width_m: 8 });
  assert.equal(windFactorsLine(wind), 'Factors: exposure C, Kd 0.85, Kzt 1, Ke 1, coefficients from the table');
});

test('pressure coefficients are typed in pairs', () => {
  assert.equal(parseGCp('  '), null);
  for (const text of ['1.8 / 0.9', '-1.8/+0.9', '−1,8 / 0,9', '1.8 0.9']) assert.deepEqual(parseGCp(text), { up: 1.8, down: 0.9 }, text);
  for (const text of ['1.8', 'a / b', '1 / -1', '1 / 2 / 3']) assert.throws(() => parseGCp(text), /not a pair.*suction from 0 to 6 and pressure from 0 to 3/, text);
  for (const text of ['6.1 / 1', '1 / 3.1']) assert.throws(() => parseGCp(text), /out of range/, text);
});

test('the table of pressure coefficients is that of the server', () => {
  const rows = JSON.parse(readFileSync(new URL('gcp.json', import.meta.url), 'utf8'));
  assert.ok(rows.length > 100);
  for (const { zone, pitch, hips, gcp } of rows) assert.deepEqual(tableGCp(zone, pitch, hips), gcp, `zone ${zone} at ${pitch} degrees, hips ${hips}`);
});

test('the coefficients that are used are said', () => {
  const wind = newFlushWind('7-16', { speed_mps: 50, mean_roof_height_m: 5, building_width_m: 8 });
  const state = stateOf({ flush_wind: wind });
  const [any] = gable().planes;
  state.doc.planes = [{ ...any, id: 's', label: 'South', pitch_deg: 22, use: true }, { ...any, id: 'n', label: 'North', pitch_deg: 46, use: true }, { ...any, id: 'x', use: false }];
  assert.deepEqual(usedWords(state), [
    'Used on South, 22°: 1 1.5 / 0.7; 2e 1.5 / 0.7; 2n 2.5 / 0.7; 2r 2.5 / 0.7; 3e 2.5 / 0.7; 3r 3.6 / 0.7.',
    'North, 46°: the table ends at 45°. Type them, or an engineer’s pressures.',
  ]);
  state.result = { planes: [{ id: 's', edges: [{ kind: 'hip' }] }] };
  assert.match(usedWords(state)[0], /; 2e 2\.5 \/ 0\.7;/);
  assert.match(usedWords(stateOf({ flush_wind: { ...wind, gcp: [{ zone: '1', up: 1.2, down: 0.5 }] } }))[0], /^Used: the typed ones, 1 1\.2 \/ 0\.5\. A module in another zone/);
  assert.deepEqual(usedWords(stateOf({})), []);
});

/** @param {object} loads @param {object} [more] @returns {any} */
const stateOf = (loads, more = {}) => ({ doc: { ...gable(more), loads: { flush_wind: null, typed_wind: null, ...loads } }, result: null });
/** @type {any} */
const nothing = { kind: '', flush: {}, typed: {} };

test('which wind is chosen', () => {
  const iec = { site: { ...gable().site, rule_family: 'iec' } };
  assert.equal(kindOf(stateOf({}), nothing), '');
  assert.equal(kindOf(stateOf({ flush_wind: {} }), nothing), 'flush');
  assert.equal(kindOf(stateOf({ typed_wind: {} }), nothing), 'typed');
  assert.equal(kindOf(stateOf({ typed_wind: {} }), { ...nothing, kind: 'flush' }), 'flush');
  assert.equal(kindOf(stateOf({ flush_wind: {} }, iec), nothing), '');
  assert.equal(kindOf(stateOf({}, iec), { ...nothing, kind: 'flush' }), '');
});

test('the flush rule begins with what the drawing tells', () => {
  const state = stateOf({});
  // The gable is 10 x 8 m.
  assert.deepEqual(flushNeeds(state, nothing), { building_width_m: 8 });
  state.result = { planes: [{ id: 'south', ridge_height_m: 5.4 }, { id: 'north', ridge_height_m: 5.2 }] };
  assert.deepEqual(flushNeeds(state, nothing), { mean_roof_height_m: 4.2, building_width_m: 8 });
  assert.deepEqual(flushNeeds(state, { ...nothing, flush: { building_width_m: 9, speed_mps: 40 } }), { mean_roof_height_m: 4.2, building_width_m: 9, speed_mps: 40 });
  assert.deepEqual(flushNeeds(stateOf({}, { planes: [] }), nothing), {});
  assert.deepEqual(flushNeeds(stateOf({}, { planes: [plane('p', [[0, 0], [1, 0], [1, 1], [0, 1]])] }), nothing), {}, 'narrower than any building');
});

test('prices', () => {
  const doc = { ...gable({ candidates: [candidate, { ...candidate, datasheet: null }, { ...candidate, datasheet: { ...sheet, price: 0 } }] }), cost: { currency: 'EUR' }, wiring: { kind: 'string', inverter: { ...inverter, price: 900 }, optimiser: null, micro: null } };
  const rows = priceFacts(/** @type {any} */ ({ doc })).map(([, words]) => words);
  assert.deepEqual(rows, ['128 EUR', 'no datasheet', 'not given', '900 EUR']);
  assert.equal(priceFacts(/** @type {any} */ ({ doc: { ...doc, wiring: { ...doc.wiring, kind: '' } } })).length, 3);
  assert.equal(parseCurrency(' EUR '), 'EUR');
  assert.throws(() => parseCurrency('thirteenchars'), /has 13 characters; 0 to 12/);
});

test('problems lead to the dialogs', () => {
  const doc = /** @type {any} */ (gable());
  assert.deepEqual(parsePath('loads.asce_snow.ground_pa'), { part: 'loads', index: -1, corner: -1, field: 'asce_snow.ground_pa' });
  for (const [path, start] of [['wiring.cold_c', 'Wiring'], ['loads.span_m', 'Loads'], ['cost.rest_fixed', 'Cost']]) assert.match(placeOf(doc, path), new RegExp(`^${start}, `));
});

test('the catalog is asked for once, and again after no answer', async () => {
  let asked = 0;
  let line = 'down';
  const products = createProducts(/** @type {any} */ (async (/** @type {string} */ path) => {
    asked++;
    if (line === 'down') throw new TypeError('no route');
    if (line === 'refused') return new Response(JSON.stringify({ problems: [{ path: 'lat_deg', message: 'is missing' }] }), { status: 400 });
    return new Response(JSON.stringify([{ id: path }]));
  }));
  await assert.rejects(products.list('inverters'), /The catalog cannot be read: the server does not answer/);
  line = 'up';
  assert.deepEqual(await products.list('inverters'), [{ id: '/api/inverters' }]);
  assert.deepEqual(await products.list('inverters'), [{ id: '/api/inverters' }]);
  assert.equal(asked, 2);
  line = 'refused';
  await assert.rejects(products.station(gable().site), /The table of stations cannot be read: lat_deg is missing/);
  line = 'up';
  assert.deepEqual(await products.station({ ...gable().site, lat_deg: 43.05, lon_deg: -89.9, elevation_m: 320 }), [{ id: '/api/station?lat_deg=43.05&lon_deg=-89.9&elevation_m=320' }]);
});
