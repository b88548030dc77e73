// Figures of catalog products in words. Pure: values in, text out. A zero is
// "not given" wherever a datasheet may leave a figure out.

/** @import {Product, Site} from '../model/types.js' */
/** @import {Facts} from './parts.js' */

import { formatQuantity } from '../model/quantities.js';
import { formatLength } from '../model/units.js';
import { plural, trim } from './words.js';

const NOT_GIVEN = 'not given';

/** @param {Product} product @param {string} name @returns {number} 0 for what is not there */
export function figure(product, name) {
  const value = product[name];
  return typeof value === 'number' ? value : 0;
}

/** @param {number} value @param {string} unit @param {number} [digits] */
function amount(value, unit, digits = 3) {
  return value === 0 ? NOT_GIVEN : `${trim(value, digits).replace('-', '−')} ${unit}`;
}

/** @param {Product} p @param {string} name @param {string} unit */
function given(p, name, unit) {
  return amount(figure(p, name), unit);
}

/** @param {Product} p @returns {string} '90 to 560 V, starts at 120 V' */
function windowWords(p) {
  const start = figure(p, 'start_v');
  return `${trim(figure(p, 'mppt_min_v'), 1)} to ${trim(figure(p, 'mppt_max_v'), 1)} V${start ? `, starts at ${trim(start, 1)} V` : ''}`;
}

/** @param {Product} p @returns {string} '5000 W, 21 A at 240 V, one or split phase' */
function outputWords(p) {
  const phases = figure(p, 'phases') === 3 ? 'three-phase' : 'one or split phase';
  return `${given(p, 'ac_power_w', 'W')}, ${given(p, 'ac_current_a', 'A')} at ${given(p, 'ac_voltage_v', 'V')}, ${phases}`;
}

/** @param {Product} p @returns {Facts} */
function priceFact(p) {
  const price = figure(p, 'price');
  return price ? [['Price, in your own currency', trim(price, 2)]] : [];
}

/** @typedef {{inputs: number, max_operating_a: number, max_short_circuit_a: number}} Tracker */

/** @param {Product} p @returns {string} equal trackers are said once */
export function trackerWords(p) {
  const trackers = /** @type {Tracker[]} */ (Array.isArray(p.mppts) ? p.mppts : []);
  /** @type {Map<string, number>} */
  const counts = new Map();
  for (const { inputs, max_operating_a: operating, max_short_circuit_a: short } of trackers) {
    const words = `${plural(inputs, 'string')}, ${trim(operating, 2)} A operating, ${trim(short, 2)} A short circuit`;
    counts.set(words, (counts.get(words) ?? 0) + 1);
  }
  return [...counts].map(([words, n]) => `${n} × ${words}`).join('; ');
}

/** @param {Product} p a string inverter @returns {Facts} */
export function inverterFacts(p) {
  return [
    ['AC output', outputWords(p)],
    ['Highest DC voltage', given(p, 'max_dc_v', 'V')],
    ['Tracking window', windowWords(p)],
    ['Trackers', trackerWords(p)],
    ['Largest array', given(p, 'max_array_w', 'W')],
    ['Weighted efficiency', given(p, 'weighted_efficiency_pct', '%')],
    ['Listed DC arc-fault protection', p.arc_fault === true ? 'yes' : 'no'],
    ...priceFact(p),
  ];
}

/** @param {Product} p a micro-inverter @returns {Facts} */
export function microFacts(p) {
  const most = figure(p, 'max_units_per_branch');
  return [
    ['AC output', outputWords(p)],
    ['Highest DC voltage', given(p, 'max_dc_v', 'V')],
    ['Tracking window', windowWords(p)],
    ['Input current', `${given(p, 'max_operating_a', 'A')} operating, ${given(p, 'max_short_circuit_a', 'A')} short circuit`],
    ['Largest module', given(p, 'max_module_w', 'W')],
    ['AC branch', `breaker ${given(p, 'branch_breaker_a', 'A')}${most ? `, at most ${plural(most, 'unit')}` : ''}`],
    ['Weighted efficiency', given(p, 'weighted_efficiency_pct', '%')],
    ...priceFact(p),
  ];
}

/** @param {Product} p a DC optimiser @returns {Facts} */
export function optimiserFacts(p) {
  return [
    ['Largest module', `${given(p, 'max_module_w', 'W')}, up to ${given(p, 'max_input_v', 'V')} and ${given(p, 'max_short_circuit_a', 'A')} short circuit`],
    ['Tracking window', windowWords(p)],
    ['String voltage it holds', given(p, 'string_voltage_v', 'V')],
    ['Units in a string', `${figure(p, 'min_units')} to ${figure(p, 'max_units')}, at most ${given(p, 'max_string_w', 'W')} and ${given(p, 'max_output_a', 'A')}`],
    ['Listed for rapid shutdown', p.rapid_shutdown === true ? 'yes' : 'no'],
    ['Weighted efficiency', given(p, 'weighted_efficiency_pct', '%')],
    ...priceFact(p),
  ];
}

/** @type {Record<string, string>} */
const CELL_TYPES = {
  p_mono: 'p-type mono', p_poly: 'p-type poly', n_mono: 'n-type mono', heterojunction: 'heterojunction', other: 'other than crystalline silicon',
};

/** @param {Product} d @returns {string} '120 half cells, n-type mono, 3 bypass diodes' */
function cellWords(d) {
  const type = CELL_TYPES[String(d.cell_type)] ?? String(d.cell_type ?? '');
  return `${figure(d, 'cells')} ${d.half_cut === true ? 'half cells' : 'cells'}, ${type}, ${plural(figure(d, 'substrings'), 'bypass diode')}`;
}

/** @param {Product} d @returns {string} 'Pmax −0.3, Voc −0.26, Vmp −0.29, Isc +0.04 %/K' */
function coefficientWords(d) {
  const rows = [['Pmax', 'gamma_pmax_pct_per_k'], ['Voc', 'beta_voc_pct_per_k'], ['Vmp', 'beta_vmp_pct_per_k'], ['Isc', 'alpha_isc_pct_per_k']];
  const known = rows.flatMap(([word, name]) => {
    const value = figure(d, name);
    return value === 0 ? [] : [`${word} ${value > 0 ? '+' : '−'}${trim(Math.abs(value), 3)}`];
  });
  return `${known.join(', ')} %/K`;
}

/** IEC 61215-2 MQT 16: a test value is this many times the design value. */
const TEST_OVER_DESIGN = 1.5;

/**
 * The design value that a load rating gives.
 * @param {Product} d
 * @param {'long_edge'|'short_edge'} edge
 * @param {'front'|'rear'} side
 * @returns {{pa: number, testPa: number}|null} testPa is 0 where the datasheet itself gives the design value
 */
export function designRating(d, edge, side) {
  const loads = /** @type {Record<string, number>|undefined} */ (d[edge]);
  const design = loads?.[`${side}_design_pa`] ?? 0;
  const testPa = loads?.[`${side}_test_pa`] ?? 0;
  if (design > 0) return { pa: design, testPa: 0 };
  return testPa > 0 ? { pa: testPa / TEST_OVER_DESIGN, testPa } : null;
}

/**
 * @param {Product} d
 * @param {'long_edge'|'short_edge'} edge
 * @param {Site['units']} units
 */
function ratingWords(d, edge, units) {
  /** @param {'front'|'rear'} side */
  const one = (side) => {
    const rating = designRating(d, edge, side);
    if (!rating) return `${side} ${NOT_GIVEN}`;
    return `${side} ${formatQuantity('pressure', Math.round(rating.pa), units)}${rating.testPa ? ` (${trim(rating.testPa, 0)} Pa test / 1.5)` : ''}`;
  };
  return `${one('front')}, ${one('rear')}`;
}

/** @param {Product} d @returns {string} 'NMOT 43 °C' or 'NOCT 45 °C' */
function cellTemperatureWords(d) {
  const nmot = figure(d, 'nmot_c');
  const noct = figure(d, 'noct_c');
  return nmot ? `NMOT ${trim(nmot, 1)} °C` : noct ? `NOCT ${trim(noct, 1)} °C` : NOT_GIVEN;
}

/** @param {Product} d @returns {string} */
function warrantyWords(d) {
  const law = d.loss_law === 'compound' ? 'of the year before' : 'of rated power';
  const years = figure(d, 'performance_warranty_years');
  const output = `output: at most ${trim(figure(d, 'first_year_loss_pct'), 2)} % less in year 1, then ${trim(figure(d, 'yearly_loss_pct'), 2)} % ${law} a year${years ? `, for ${years} years` : ''}`;
  const product = figure(d, 'product_warranty_years');
  return [product ? `product: ${product} years` : '', output].filter(Boolean).join('; ');
}

/**
 * @param {Product} d a module's datasheet
 * @param {Site['units']} units
 * @returns {Facts}
 */
export function datasheetFacts(d, units) {
  const low = figure(d, 'relative_efficiency_200');
  return [
    ['Power tolerance', `−${trim(figure(d, 'tolerance_minus_w'), 1)} / +${trim(figure(d, 'tolerance_plus_w'), 1)} W`],
    ['Open circuit, short circuit', `Voc ${given(d, 'voc_v', 'V')}, Isc ${given(d, 'isc_a', 'A')}`],
    ['At maximum power', `Vmp ${given(d, 'vmp_v', 'V')}, Imp ${given(d, 'imp_a', 'A')}`],
    ['Temperature coefficients', coefficientWords(d)],
    ['Nominal cell temperature', cellTemperatureWords(d)],
    ['Cells', cellWords(d)],
    ['Thickness, weight', `${formatLength(figure(d, 'thickness_m'), units, 3)}, ${formatQuantity('mass', figure(d, 'weight_kg'), units)}`],
    ['System voltage, series fuse', `at most ${given(d, 'max_system_v', 'V')} and ${given(d, 'max_series_fuse_a', 'A')}`],
    ['Design load, clamps on long edges', ratingWords(d, 'long_edge', units)],
    ['Design load, clamps on short edges', ratingWords(d, 'short_edge', units)],
    ['Efficiency at 200 W/m² over 1000', low ? trim(low, 3) : NOT_GIVEN],
    ['Warranty', warrantyWords(d)],
    ...priceFact(d),
  ];
}

/** @param {Product} d @returns {string} what stands on the folded line */
export function datasheetLine(d) {
  return `Datasheet: Voc ${given(d, 'voc_v', 'V')}, Isc ${given(d, 'isc_a', 'A')}, Pmax ${amount(figure(d, 'gamma_pmax_pct_per_k'), '%/K')}, ${given(d, 'weight_kg', 'kg')}`;
}
