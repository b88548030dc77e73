// Reading and writing of lengths, angles and areas as people say them. The
// document is always metric; `units` says what is shown: 'metric' or
// 'imperial' (feet and inches). Parsers throw an Error whose message says what
// was typed and what is allowed.

/** @typedef {'metric'|'imperial'} Units */

export const M_PER_FT = 0.3048;
export const M_PER_IN = 0.0254;

/** Feet and inches are shown to an eighth of an inch, and put into inputs to a sixteenth so that little is lost. */
const SHOWN_PARTS = 8;
const TYPED_PARTS = 16;

/** @param {number} n @param {number} digits @returns {string} never '-0' */
function fixed(n, digits) {
  const s = n.toFixed(digits);
  return Number(s) === 0 ? (0).toFixed(digits) : s;
}

/**
 * @param {number} m
 * @param {Units} units
 * @param {number} [digits] decimals of metres, 2 unless said
 * @returns {string} '3.20 m' or '10\' 6 1/2"'
 */
export function formatLength(m, units, digits = 2) {
  return units === 'imperial' ? feetInches(m, SHOWN_PARTS) : `${fixed(m, digits)} m`;
}

/**
 * The text put into an input: without trailing zeros, to the millimetre.
 * @param {number} m
 * @param {Units} units
 * @returns {string} '3.2 m' or '10\' 6"'
 */
export function lengthText(m, units) {
  return units === 'imperial' ? feetInches(m, TYPED_PARTS) : `${Number(fixed(m, 3))} m`;
}

/** @param {number} m @param {number} inchParts a power of two @returns {string} */
function feetInches(m, inchParts) {
  const parts = Math.round((Math.abs(m) / M_PER_IN) * inchParts);
  const sign = m < 0 && parts > 0 ? '-' : '';
  const feet = Math.floor(parts / (12 * inchParts));
  const inches = Math.floor((parts % (12 * inchParts)) / inchParts);
  const fraction = shorten(parts % inchParts, inchParts);
  const inchText = [inches || !fraction ? String(inches) : '', fraction].filter(Boolean).join(' ');
  return feet ? `${sign}${feet}' ${inchText}"` : `${sign}${inchText}"`;
}

/** @param {number} n @param {number} of a power of two @returns {string} '' for none */
function shorten(n, of) {
  if (n === 0) return '';
  while (n % 2 === 0) [n, of] = [n / 2, of / 2];
  return `${n}/${of}`;
}

/** @param {number} m2 @param {Units} units @returns {string} '69.28 m²' or '745.7 ft²' */
export function formatArea(m2, units) {
  return units === 'imperial' ? `${fixed(m2 / (M_PER_FT * M_PER_FT), 1)} ft²` : `${fixed(m2, 2)} m²`;
}

const NUMBER = String.raw`\d+(?:\.\d+)?|\.\d+`;
const INCHES = String.raw`(?:(${NUMBER})(?:\s+|-))?(\d+)\/(\d+)|(${NUMBER})`;
const FEET_INCHES = new RegExp(String.raw`^(?:(${NUMBER})\s*(?:'|ft|feet|foot))?\s*(?:(?:${INCHES})\s*("|in|inch|inches)?)?$`);
const METRIC = new RegExp(String.raw`^(${NUMBER})\s*(mm|cm|m)?$`);

/** @type {Record<string, number>} */
const METRES_PER = { mm: 0.001, cm: 0.01, m: 1 };

/**
 * A length as typed: '3.2', '3,2 m', '320 cm', '10\' 6"', '10ft 6 1/2in'. A
 * bare number is metres, or feet where feet are shown.
 * @param {string} text
 * @param {Units} units
 * @returns {number} metres, 0 or more
 */
export function parseLength(text, units) {
  const t = text.trim().toLowerCase().replace(/[’′]/g, "'").replace(/[”″]|''/g, '"').replace(/(\d),(\d)/, '$1.$2');
  const metric = METRIC.exec(t);
  if (metric && (metric[2] || units === 'metric')) return tidy(Number(metric[1]) * METRES_PER[metric[2] ?? 'm']);
  if (metric) return Number(metric[1]) * M_PER_FT;
  const f = FEET_INCHES.exec(t);
  // A bare fraction or an inch without a mark only counts after feet.
  if (f && (f[1] || f[6]) && f[4] !== '0') {
    const inches = f[5] ? Number(f[5]) : f[3] ? Number(f[2] ?? 0) + Number(f[3]) / Number(f[4]) : 0;
    return Number(f[1] ?? 0) * M_PER_FT + inches * M_PER_IN;
  }
  throw new Error(
    `“${text.trim()}” is not a length. Type metres (3.2), or a number with mm, cm or m (320 cm), or feet and inches (10' 6 1/2").`,
  );
}

/** @param {number} m @returns {number} without the last digits that 320 * 0.01 leaves */
function tidy(m) {
  return Number(m.toPrecision(12));
}

/**
 * @param {string} text
 * @param {Units} units
 * @param {number} minM
 * @param {number} maxM
 * @returns {number} metres within the range
 */
export function parseLengthIn(text, units, minM, maxM) {
  const m = parseLength(text, units);
  if (m < minM || m > maxM) {
    throw new Error(`${formatLength(m, units)} is out of range: ${lengthText(minM, units)} to ${lengthText(maxM, units)}.`);
  }
  return m;
}

// ---- angles ----

/** @param {number} rise in 12 @returns {number} degrees */
export function riseIn12ToDeg(rise) {
  return (Math.atan2(rise, 12) * 180) / Math.PI;
}

/** @param {number} deg under 90 @returns {number} rise in 12 */
export function degToRiseIn12(deg) {
  return 12 * Math.tan((deg * Math.PI) / 180);
}

/** @param {number} deg @param {Units} units @returns {string} '30°' or '6.9:12' */
export function formatPitch(deg, units) {
  return units === 'imperial' ? `${Number(fixed(degToRiseIn12(deg), 1))}:12` : `${Number(fixed(deg, 1))}°`;
}

/**
 * A pitch: degrees ('30', '30.5°') or rise in 12 ('6:12', '6/12', '6 in 12').
 * @param {string} text
 * @returns {number} degrees, 0 to 75
 */
export function parsePitch(text) {
  const t = text.trim().toLowerCase().replace(/(\d),(\d)/, '$1.$2');
  const rise = new RegExp(String.raw`^(${NUMBER})\s*(?::|\/|in)\s*12$`).exec(t);
  const degrees = new RegExp(String.raw`^(${NUMBER})\s*(?:°|deg)?$`).exec(t);
  const deg = rise ? riseIn12ToDeg(Number(rise[1])) : degrees ? Number(degrees[1]) : NaN;
  if (!(deg >= 0 && deg <= 75)) throw new Error(`“${text.trim()}” is not a pitch. Type degrees from 0 to 75 (30), or rise in 12 (6:12).`);
  return deg;
}

const COMPASS = ['N', 'NNE', 'NE', 'ENE', 'E', 'ESE', 'SE', 'SSE', 'S', 'SSW', 'SW', 'WSW', 'W', 'WNW', 'NW', 'NNW'];

/** @param {number} deg @returns {string} nearest of sixteen compass points */
export function compassPoint(deg) {
  return COMPASS[Math.round((((deg % 360) + 360) % 360) / 22.5) % 16];
}

/** @param {number} deg @returns {string} '180° S' */
export function formatBearing(deg) {
  return `${Number(fixed(deg, 1))}° ${compassPoint(deg)}`;
}

/**
 * A bearing: degrees clockwise from north ('180', '180°') or a compass point
 * ('S', 'ssw').
 * @param {string} text
 * @returns {number} 0 <= a < 360; 360 is 0
 */
export function parseBearing(text) {
  const t = text.trim().toUpperCase().replace(/(\d),(\d)/, '$1.$2');
  const m = new RegExp(String.raw`^(${NUMBER})\s*°?\s*([NESW]{0,3})$`).exec(t);
  const point = COMPASS.indexOf(t);
  const deg = point >= 0 ? point * 22.5 : m ? Number(m[1]) : NaN;
  if (!(deg >= 0 && deg <= 360)) {
    throw new Error(`“${text.trim()}” is not a bearing. Type degrees from north, clockwise, 0 to 360 (180), or a compass point (SSW).`);
  }
  return deg % 360;
}

/**
 * A turn: degrees clockwise, negative the other way.
 * @param {string} text
 * @returns {number} -360 to 360
 */
export function parseTurn(text) {
  const t = text.trim().replace(/(\d),(\d)/, '$1.$2').replace(/[−–]/, '-');
  const m = new RegExp(String.raw`^([+-]?)\s*(${NUMBER})\s*°?$`).exec(t);
  const deg = m ? Number(m[2]) * (m[1] === '-' ? -1 : 1) : NaN;
  if (!(Math.abs(deg) <= 360)) {
    throw new Error(`“${text.trim()}” is not a turn. Type degrees clockwise, -360 to 360 (12.5); negative turns the other way.`);
  }
  return deg;
}
