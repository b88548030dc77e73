import assert from 'node:assert/strict';
import { test } from 'node:test';
import * as c from '../js/commands/index.js';
import { curvesFor, newASCESnow, newFlushWind } from '../js/model/load-defaults.js';
import { MPS_PER_MPH, PA_PER_PSF, besideText, formatQuantity, parseQuantity, quantityText } from '../js/model/quantities.js';
import { distanceKm, isUnset } from '../js/model/station.js';
import { frozen, gable } from './drawing.fakes.js';

const any = { min: -1e9, max: 1e9 };

test('units of measure are exact', () => {
  // NIST SP 811 appendix B: 1 lbf/ft2 = 47.88026 Pa, 1 mi/h = 0.44704 m/s
  assert.ok(Math.abs(PA_PER_PSF - 47.88026) < 5e-6);
  assert.equal(MPS_PER_MPH, 0.44704);
  const rows = /** @type {const} */ ([
    ['pressure', '30', 'metric', 30], ['pressure', '1.4 kPa', 'metric', 1400], ['pressure', '20 psf', 'metric', 957.605179607], ['pressure', '1,4 kN/m²', 'imperial', 1400],
    ['pressure', '20', 'imperial', 957.605179607], ['pressure', '957.6 Pa', 'imperial', 957.6], ['speed', '100', 'imperial', 44.704], ['speed', '115 mph', 'metric', 51.4096],
    ['speed', '36 km/h', 'metric', 10], ['mass', '1 lb', 'metric', 0.45359237], ['mass', '2', 'imperial', 0.90718474], ['massPerLength', '1 kg/m', 'imperial', 1],
    ['temperature', '14', 'imperial', -10], ['temperature', '-10 °C', 'imperial', -10], ['temperature', '−40 F', 'metric', -40], ['temperature', '-4,5', 'metric', -4.5],
    // 30 h ft2 F/Btu is 5.283 m2 K/W (NIST SP 811: 1 is 0.1761102)
    ['thermalResistance', 'R', 'imperial', null], ['thermalResistance', '30', 'imperial', 5.283306],
  ]);
  for (const [quantity, text, units, si] of rows) {
    if (si === null) assert.throws(() => parseQuantity(quantity, text, units, any), /not a thermal resistance/);
    else assert.ok(Math.abs(parseQuantity(quantity, text, units, any) - si) < 1e-6, `${text}: ${parseQuantity(quantity, text, units, any)}`);
  }
});

test('what is shown', () => {
  assert.equal(quantityText('pressure', 957.6, 'imperial'), '20');
  assert.equal(besideText('pressure', 957.6, 'imperial'), '= 957.6 Pa');
  assert.equal(besideText('pressure', 957.6, 'metric'), '');
  assert.equal(formatQuantity('temperature', -18.3, 'metric'), '−18.3 °C');
  assert.equal(formatQuantity('temperature', 0, 'imperial'), '32 °F (0 °C)');
  assert.equal(quantityText('temperature', -0.01, 'metric'), '0');
  assert.equal(formatQuantity('speed', 44.704, 'imperial'), '100 mph (44.7 m/s)');
});

test('what cannot be taken names value and range', () => {
  const range = { min: 0, max: 30000 };
  assert.throws(() => parseQuantity('pressure', 'much', 'metric', range), /“much” is not a pressure\. Type a pressure from 0 to 30000 Pa\./);
  assert.throws(() => parseQuantity('pressure', '3 m/s', 'metric', range), /not a pressure/);
  assert.throws(() => parseQuantity('pressure', '700', 'imperial', range), /700 is out of range\. Type a pressure from 0 to 626\.56 psf\./);
  assert.throws(() => parseQuantity('temperature', '-70', 'metric', { min: -60, max: 40 }), /-70 is out of range\. Type a temperature from −60 to 40 °C\./);
  for (const text of ['', ' ', '1e3', '--4', '4 4']) assert.throws(() => parseQuantity('pressure', text, 'metric', range), /not a pressure/, text);
});

test('distance', () => {
  // one degree of a great circle: 2 pi 6371.0088 / 360
  assert.ok(Math.abs(distanceKm({ lat_deg: 0, lon_deg: 10 }, { lat_deg: 1, lon_deg: 10 }) - 111.195) < 0.001);
  assert.equal(isUnset({ lat_deg: 0, lon_deg: 0 }), true);
  assert.equal(isUnset({ lat_deg: 0, lon_deg: 1 }), false);
});

/** @type {any} */
const doc = frozen({
  ...gable(),
  wiring: { kind: '', inverter: null, cold_c: null },
  loads: { asce_snow: null, en_snow: null, flush_wind: null, typed_wind: null, rails: 'along_eave', span_m: null },
  cost: { currency: '', rest_per_module: null, rest_fixed: null },
});
/** @param {((doc: any) => any)[]} commands @returns {any} */
const after = (...commands) => commands.reduce((d, command) => frozen(command(d)), doc);
const iec = c.setSite({ patch: { rule_family: 'iec' } });

test('wiring, cost and loads', () => {
  assert.equal(c.setWiring({ patch: { kind: '' } })(doc), doc);
  assert.equal(after(c.setWiring({ patch: { kind: 'micro', cold_c: -10 } })).wiring.cold_c, -10);
  assert.equal(c.setCost({ patch: { rest_fixed: null } })(doc), doc);
  assert.equal(after(c.setCost({ patch: { rest_fixed: 0 } })).cost.rest_fixed, 0);
  assert.equal(c.setLoads({ patch: { span_m: null } })(doc), doc);
  assert.equal(c.setASCESnow({ patch: { exposure_ce: 0.9 } })(doc), doc);
  assert.equal(c.setENSnow({ patch: { exposure_ce: 0.9 } })(doc), doc);
  assert.equal(c.setFlushWind({ patch: { hill_kzt: 2 } })(doc), doc);
  assert.equal(c.setEdition({ edition: '7-22' })(doc), doc);
  assert.equal(c.setWind({ none: true })(doc), doc);
});

test('ground snow is that of the rule family and brings its factors', () => {
  const snow = after(c.setGroundSnow({ pa: 1000 })).loads;
  assert.deepEqual(snow.asce_snow, newASCESnow('7-16', 1000));
  assert.equal(snow.en_snow, null);
  const both = after(c.setGroundSnow({ pa: 1000 }), iec, c.setGroundSnow({ pa: 800 }));
  assert.equal(both.loads.en_snow.ground_pa, 800);
  assert.equal(both.loads.asce_snow.ground_pa, 1000, 'the other family keeps its own');
  assert.equal(c.setGroundSnow({ pa: null })(both).loads.en_snow, null);
  const kept = after(c.setGroundSnow({ pa: 1000 }), c.setASCESnow({ patch: { exposure_ce: 0.9 } }), c.setGroundSnow({ pa: 0 })).loads.asce_snow;
  assert.deepEqual([kept.ground_pa, kept.exposure_ce], [0, 0.9]);
});

test('no slope curve of a warmer roof than the thermal factor allows', () => {
  // structural.ASCESnow.Check: warm goes with Ct to 1.0, cool with less than 1.2
  const rows = /** @type {const} */ ([[0.85, 'warm'], [1, 'warm'], [1.01, 'cool'], [1.19, 'cool'], [1.2, 'cold'], [1.3, 'cold']]);
  for (const [ct, warmest] of rows) {
    assert.equal(curvesFor(ct)[0], warmest, String(ct));
    const snow = after(c.setGroundSnow({ pa: 1000 }), c.setASCESnow({ patch: { thermal_ct: 1, curve: 'warm' } }), c.setASCESnow({ patch: { thermal_ct: ct } })).loads.asce_snow;
    assert.equal(snow.curve, warmest, String(ct));
  }
  const cold = after(c.setGroundSnow({ pa: 1000 }), c.setASCESnow({ patch: { thermal_ct: 0.9 } })).loads.asce_snow;
  assert.equal(cold.curve, 'cold', 'a colder curve stays');
});

const flush = newFlushWind('7-16', { speed_mps: 50, mean_roof_height_m: 5, building_width_m: 8 });

test('one wind at a time, and one edition', () => {
  const wind = after(c.setWind({ flush }), c.setWind({ typed: { up_pa: 900, down_pa: 400 } })).loads;
  assert.deepEqual([wind.flush_wind, wind.typed_wind], [null, { up_pa: 900, down_pa: 400 }]);
  const back = after(c.setWind({ typed: { up_pa: 900, down_pa: 400 } }), c.setWind({ flush })).loads;
  assert.deepEqual([back.flush_wind, back.typed_wind], [flush, null]);
  const same = after(c.setWind({ typed: { up_pa: 900, down_pa: 400 } }));
  assert.equal(c.setWind({ typed: { up_pa: 900, down_pa: 400 } })(same), same);
  const newer = after(c.setGroundSnow({ pa: 1000 }), c.setWind({ flush }), c.setASCESnow({ patch: { importance_is: 1.1 } }), c.setEdition({ edition: '7-22' }));
  assert.deepEqual([newer.loads.asce_snow.edition, newer.loads.flush_wind.edition, c.editionOf(newer)], ['7-22', '7-22', '7-22']);
  assert.deepEqual([newer.loads.asce_snow.importance_is, newer.loads.asce_snow.low_slope_cap_pa], [1, 1436.4]);
  assert.equal(c.setEdition({ edition: '7-22' })(newer), newer);
  const own = after(c.setGroundSnow({ pa: 1000 }), c.setASCESnow({ patch: { low_slope_cap_pa: 800 } }), c.setEdition({ edition: '7-22' })).loads.asce_snow;
  assert.equal(own.low_slope_cap_pa, 800, 'a typed one stays');
  const later = after(c.setWind({ flush }), c.setEdition({ edition: '7-22' }), c.setGroundSnow({ pa: 1000 })).loads.asce_snow;
  assert.deepEqual(later, newASCESnow('7-22', 1000), 'snow follows the edition of the wind');
});
