// A size typed in kilowatts, read into whole watts by moving the decimal
// point in the text: 5.7 is 5700 and never a fraction beside it.

/** Largest size in watts. */
export const MAX_SIZE_W = 10_000_000;

const RANGE = 'Type kilowatts from 0.001 to 10000, such as 4.8.';

/**
 * @param {string} text '5.7', '4,8', '5.7 kW', '.5'; a comma is a decimal point
 * @returns {number} whole watts, 1 to MAX_SIZE_W; throws an Error in words for the person
 */
export function parseKilowatts(text) {
  const typed = text.trim();
  const match = /^(\d*)(?:[.,](\d*))?\s*(?:kw(?:dc|p)?)?$/i.exec(typed);
  const whole = match?.[1] ?? '';
  const fraction = (match?.[2] ?? '').replace(/0+$/, '');
  if (!match || whole + (match[2] ?? '') === '') throw new Error(`“${typed}” is not a size. ${RANGE}`);
  if (fraction.length > 3) throw new Error(`“${typed}” is finer than one watt. Use at most three decimals.`);
  const digits = (whole + fraction.padEnd(3, '0')).replace(/^0+/, '');
  // Eight digits hold the largest size; a longer text is over it.
  const watts = digits.length > 8 ? Infinity : Number(digits);
  if (watts < 1 || watts > MAX_SIZE_W) throw new Error(`${typed} is out of range. ${RANGE}`);
  return watts;
}

/**
 * @param {number} watts whole
 * @returns {string} '5.7', as it would be typed
 */
export function kilowattsTyped(watts) {
  return String(watts / 1000);
}
