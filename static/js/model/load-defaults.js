// What snow and wind start with: the defaults of package structural, which the
// browser does not carry. A browser test holds that they are the same.

/** @import {ASCESnow, ENSnow, FlushWind} from './types.js' */

/** Least snow of low slopes by edition, Pa: 20 and 30 psf, from memory. */
const LOW_SLOPE_CAP_PA = Object.freeze({ '7-16': 957.6, '7-22': 1436.4 });

/** @param {ASCESnow['edition']} edition @param {number} groundPa @returns {ASCESnow} a cold roof of ordinary exposure and importance, which keeps the most snow */
export function newASCESnow(edition, groundPa) {
  return {
    edition, ground_pa: groundPa, exposure_ce: 1, thermal_ct: 1.2, importance_is: 1, curve: 'cold', slippery: false,
    roof_r_m2k_per_w: 0, ventilated: false, low_slope_cap_pa: LOW_SLOPE_CAP_PA[edition], extra_pa: 0,
  };
}

/** @param {number} groundPa @returns {ENSnow} */
export function newENSnow(groundPa) {
  return { ground_pa: groundPa, exposure_ce: 1, thermal_ct: 1, snow_guards: false, exceptional: false, exceptional_factor: 2, psi0: 0.5, extra_pa: 0 };
}

/**
 * @param {FlushWind['edition']} edition
 * @param {Pick<FlushWind, 'speed_mps'|'mean_roof_height_m'|'building_width_m'>} typed what has no default that is safe everywhere
 * @returns {FlushWind}
 */
export function newFlushWind(edition, typed) {
  return {
    edition, ...typed, exposure: 'c', direction_kd: 0.85, hill_kzt: 1, elevation_ke: 1, low_b_070: true, enclosed: true,
    tilt_to_roof_deg: 0, height_above_roof_m: 0.15, all_exposed: false, gcp: [], least_pa: 766,
  };
}

/**
 * Snow after another edition: 7-22 has no importance factor, and a low-slope
 * least that was the default of one edition becomes that of the other.
 * @param {ASCESnow} snow
 * @param {ASCESnow['edition']} edition
 * @returns {ASCESnow}
 */
export function snowOfEdition(snow, edition) {
  const wasDefault = snow.low_slope_cap_pa === LOW_SLOPE_CAP_PA[snow.edition];
  return {
    ...snow, edition,
    importance_is: edition === '7-22' ? 1 : snow.importance_is,
    low_slope_cap_pa: wasDefault ? LOW_SLOPE_CAP_PA[edition] : snow.low_slope_cap_pa,
  };
}

/** From the curve that keeps least snow to the one that keeps most. @type {readonly ASCESnow['curve'][]} */
const CURVES = Object.freeze(['warm', 'cool', 'cold']);

/**
 * @param {number} thermalCt
 * @returns {readonly ASCESnow['curve'][]} the slope curves that go with it: no roof counts as warmer than its thermal factor says
 */
export function curvesFor(thermalCt) {
  if (thermalCt <= 1) return CURVES;
  return thermalCt < 1.2 ? CURVES.slice(1) : CURVES.slice(2);
}
