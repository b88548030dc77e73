// Pressures, speeds, weights and temperatures as people say them. The document
// holds SI units (temperatures in °C); where lengths are shown in feet these
// are shown in US units, with the SI value beside. The factors are exact: the
// pound (0.45359237 kg), the foot and the mile of 1959 and standard gravity
// (9.80665 m/s2).

import { M_PER_FT } from './units.js';

/** @import {Units} from './units.js' */

/** @typedef {'pressure'|'speed'|'mass'|'massPerLength'|'thermalResistance'|'temperature'} Quantity */
/**
 * A unit: its sign, other ways to type it, the decimals it is shown with, and
 * the way into SI: si = scale x (value - zero).
 * @typedef {{sign: string, also: readonly string[], digits: number, scale: number, zero: number}} Unit
 */

const KG_PER_LB = 0.45359237;
const N_PER_LBF = KG_PER_LB * 9.80665;
export const PA_PER_PSF = N_PER_LBF / (M_PER_FT * M_PER_FT);
export const MPS_PER_MPH = 0.44704;
export const KM_PER_MI = 1.609344;
/** One h ft2 F/Btu, with the Btu of the International Steam Table, 1055.05585262 J. */
const M2K_PER_W_OF_R = (3600 * M_PER_FT * M_PER_FT) / (1.8 * 1055.05585262);

/**
 * @param {string} sign @param {number} digits @param {number} scale @param {readonly string[]} also @param {number} [zero]
 * @returns {Unit}
 */
const unit = (sign, digits, scale, also, zero = 0) => ({ sign, digits, scale, also, zero });

/** The first of each is shown in metric units, the second in imperial; the others can be typed. @type {Record<Quantity, {word: string, units: readonly Unit[]}>} */
const QUANTITIES = {
  pressure: {
    word: 'a pressure',
    units: [unit('Pa', 1, 1, ['n/m2']), unit('psf', 2, PA_PER_PSF, ['lb/ft2', 'lbf/ft2']), unit('kPa', 4, 1000, ['kn/m2'])],
  },
  speed: {
    word: 'a speed',
    units: [unit('m/s', 2, 1, []), unit('mph', 1, MPS_PER_MPH, ['mi/h']), unit('km/h', 1, 1 / 3.6, ['kph'])],
  },
  mass: { word: 'a weight', units: [unit('kg', 3, 1, []), unit('lb', 2, KG_PER_LB, ['lbs'])] },
  massPerLength: { word: 'a weight by length', units: [unit('kg/m', 3, 1, []), unit('lb/ft', 3, KG_PER_LB / M_PER_FT, ['lbs/ft'])] },
  thermalResistance: { word: 'a thermal resistance', units: [unit('m² K/W', 3, 1, ['m2k/w']), unit('h ft² °F/Btu', 2, M2K_PER_W_OF_R, ['r'])] },
  temperature: { word: 'a temperature', units: [unit('°C', 1, 1, ['c']), unit('°F', 1, 1 / 1.8, ['f'], 32)] },
};

/** @param {Quantity} quantity @param {Units} units @returns {Unit} what it is shown in */
function shownIn(quantity, units) {
  return QUANTITIES[quantity].units[units === 'imperial' ? 1 : 0];
}

/** @param {number} si @param {Unit} u @returns {string} without trailing zeros */
function numberIn(si, { scale, zero, digits }) {
  return String(Number((si / scale + zero).toFixed(digits)) + 0);
}

/** @param {Quantity} quantity @param {Units} units @returns {string} 'Pa' or 'psf' */
export function signOf(quantity, units) {
  return shownIn(quantity, units).sign;
}

/**
 * @param {Quantity} quantity
 * @param {number} si
 * @param {Units} units
 * @returns {string} the number put into a field, without its unit
 */
export function quantityText(quantity, si, units) {
  return numberIn(si, shownIn(quantity, units));
}

/**
 * @param {Quantity} quantity
 * @param {number} si
 * @param {Units} units
 * @returns {string} '1436.4 Pa', or '30 psf (1436.4 Pa)' in US units
 */
export function formatQuantity(quantity, si, units) {
  const [metric] = QUANTITIES[quantity].units;
  const own = shownIn(quantity, units);
  const text = `${minus(numberIn(si, own))} ${own.sign}`;
  return own === metric ? text : `${text} (${minus(numberIn(si, metric))} ${metric.sign})`;
}

/**
 * @param {Quantity} quantity
 * @param {number} si
 * @param {Units} units
 * @returns {string} the SI value beside a field in US units, '' in metric ones
 */
export function besideText(quantity, si, units) {
  const [metric] = QUANTITIES[quantity].units;
  return units === 'metric' ? '' : `= ${minus(numberIn(si, metric))} ${metric.sign}`;
}

/** @param {string} text @returns {string} with the sign that is as wide as a digit */
function minus(text) {
  return text.replace(/^-/, '−');
}

/** A number, perhaps with a sign and a unit; thousands are not parted. */
const TYPED = /^([+-]?)\s*(\d+(?:\.\d*)?|\.\d+)\s*(.*)$/;

/**
 * @param {Quantity} quantity
 * @param {string} text '30', '30 psf', '1.4 kPa', '-4,5 °C'; a bare number is in the unit that is shown
 * @param {Units} units
 * @param {{min: number, max: number}} range in SI
 * @returns {number} SI; throws an Error that names the value and the range
 */
export function parseQuantity(quantity, text, units, { min, max }) {
  const typed = text.trim();
  const { word, units: known } = QUANTITIES[quantity];
  const own = shownIn(quantity, units);
  const allowed = `Type ${word} from ${minus(numberIn(min, own))} to ${minus(numberIn(max, own))} ${own.sign}.`;
  const match = TYPED.exec(typed.replace(/(\d),(\d)/, '$1.$2').replace(/^[−–]/, '-'));
  const as = match && unitNamed(known, match[3], own);
  if (!match || !as) throw new Error(`“${typed}” is not ${word}. ${allowed}`);
  const si = tidy(as.scale * (Number(match[1] + match[2]) - as.zero));
  if (si < min || si > max) throw new Error(`${typed} is out of range. ${allowed}`);
  return si;
}

/** @param {readonly Unit[]} known @param {string} typed @param {Unit} own @returns {Unit|undefined} own for no unit */
function unitNamed(known, typed, own) {
  const plain = plainUnit(typed);
  if (plain === '') return own;
  return known.find((u) => plainUnit(u.sign) === plain || u.also.includes(plain));
}

/** @param {string} text */
function plainUnit(text) {
  return text.toLowerCase().replaceAll('²', '2').replace(/[\s°]/g, '');
}

/** @param {number} n @returns {number} without the last digits that 16 x 47.88 leaves, so that a limit typed back is the limit */
function tidy(n) {
  return Number(n.toPrecision(12)) + 0;
}

/** The conversions, said once where US units are shown. */
export const PRESSURE_AND_SPEED_WORDS = `1 psf = ${PA_PER_PSF.toFixed(6)} Pa (1 lbf / 1 ft², exact by definition, shown rounded); 1 mph = ${MPS_PER_MPH} m/s, exact.`;
export const WEIGHT_WORDS = `1 lb = ${KG_PER_LB} kg, exact.`;
