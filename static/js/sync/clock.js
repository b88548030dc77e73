// Time as a part that tests can replace.

/**
 * @typedef {object} Clock
 * @property {() => number} now milliseconds since 1970
 * @property {(ms: number, run: () => void) => (() => void)} after runs once after `ms`; the answer cancels it
 */

/** @returns {Clock} */
export function browserClock() {
  return {
    now: () => Date.now(),
    after(ms, run) {
      const timer = setTimeout(run, ms);
      return () => clearTimeout(timer);
    },
  };
}

/**
 * How long to wait before trying again: doubling from the first wait up to
 * the longest.
 * @param {number} failures failures in a row so far, 1 or more
 * @param {number} firstMs
 * @param {number} longestMs
 */
export function backoffMs(failures, firstMs, longestMs) {
  return Math.min(longestMs, firstMs * 2 ** (failures - 1));
}
