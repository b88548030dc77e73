// Snow in the dialog of loads: the ground snow, and the factors folded away.

/** @import {State} from '../model/store.js' */
/** @import {ASCESnow, ENSnow} from '../model/types.js' */
/** @import {Choice} from './words.js' */
/** @import {Field} from './field.js' */
/** @import {Context} from './props.js' */

import { setASCESnow, setENSnow, setGroundSnow } from '../commands/index.js';
import { curvesFor } from '../model/load-defaults.js';
import { checkField, selectField } from './field.js';
import { folded, note, pairs, part } from './parts.js';
import { plainField, quantityField } from './quantities.js';

/** The most that snow may be, Pa. */
const MOST_SNOW_PA = 30000;

/** @param {State} state */
export const isIec = ({ doc }) => doc.site.rule_family === 'iec';

/** @param {Context} context @returns {Field} */
export function snowPart(context) {
  return part('Snow', [
    groundField(context, false),
    groundField(context, true),
    asceFactors(context),
    enFactors(context),
  ]);
}

/** @param {Context} context @param {boolean} iec @returns {Field} */
function groundField({ store }, iec) {
  const section = iec ? 'en_snow' : 'asce_snow';
  return pairs([
    quantityField(store, {
      name: iec ? 'loads-snow-en' : 'loads-snow', label: 'Ground snow load', path: `loads.${section}.ground_pa`, quantity: 'pressure', min: 0, max: MOST_SNOW_PA,
      blank: true, placeholder: () => 'not known',
      read: ({ doc }) => doc.loads[section]?.ground_pa,
      commit: (pa) => store.run(pa === null ? 'Take snow away' : 'Change ground snow', setGroundSnow({ pa })),
    }),
    note(iec ? 'loads-snow-en-source' : 'loads-snow-source', ({ doc }) => {
      if (iec) return 'sk of EN 1991-1-3, the characteristic value, from the national annex. 0 is no snow; blank is not known.';
      const strength = doc.loads.asce_snow?.edition === '7-22' ? ' At strength level and for the risk category in edition 7-22.' : '';
      return `pg of ASCE 7, from the code’s map or the building official.${strength} 0 is no snow; blank is not known.`;
    }),
  ], (state) => isIec(state) === iec);
}

/** @typedef {'exposure_ce'|'thermal_ct'|'importance_is'} ASCEFactor */
/** @type {Record<ASCESnow['curve'], string>} */
const CURVES = {
  cold: 'Cold: unheated or open below (Ct 1.2 and more)',
  cool: 'Cool: well insulated and ventilated (Ct 1.1)',
  warm: 'Warm: heated below (Ct to 1.0)',
};

/** @param {ASCESnow} snow @returns {string} the line that opens the factors */
export function asceFactorsLine(snow) {
  const importance = snow.edition === '7-22' ? '' : `, Is ${snow.importance_is}`;
  return `Factors: Ce ${snow.exposure_ce}, Ct ${snow.thermal_ct}${importance}, ${snow.curve} roof, ${snow.slippery ? 'slippery' : 'not slippery'}`;
}

/** @param {Context} context @returns {Field} */
function asceFactors(context) {
  const { store } = context;
  /** @param {string} label @param {Partial<ASCESnow>} patch */
  const change = (label, patch) => store.run(label, setASCESnow({ patch }));
  /** @param {string} name @param {string} label @param {ASCEFactor} member @param {number} min @param {number} max @param {string} hint */
  const factor = (name, label, member, min, max, hint) => plainField({
    name: `loads-snow-${name}`, label, hint, path: `loads.asce_snow.${member}`, min, max,
    read: ({ doc }) => doc.loads.asce_snow?.[member],
    commit: (value) => change(`Change ${label}`, { [member]: value }),
  });
  return folded('loads-snow-factors', ({ doc }) => (doc.loads.asce_snow ? asceFactorsLine(doc.loads.asce_snow) : ''), [
    note('loads-snow-memory', () => 'ASCE 7-16 7.3 and 7.4; the factors are from memory. The defaults keep the most snow of an ordinary roof: Ce 1, Ct 1.2, Is 1, cold, not slippery.'),
    pairs([
      factor('ce', 'Exposure factor Ce', 'exposure_ce', 0.7, 1.2, 'Default 1; 0.7 windswept to 1.2 sheltered.'),
      factor('ct', 'Thermal factor Ct', 'thermal_ct', 0.85, 1.3, 'Default 1.2; 0.85 to 1.3.'),
    ]),
    pairs([factor('is', 'Importance factor Is', 'importance_is', 0.8, 1.2, 'Default 1; edition 7-22 has none.')], ({ doc }) => doc.loads.asce_snow?.edition === '7-16'),
    selectField({
      name: 'loads-snow-curve', label: 'Roof surface, for the slope factor', path: 'loads.asce_snow.curve', wide: true,
      hint: 'Only roofs as cold as the thermal factor says, or colder.',
      choices: ({ doc }) => curvesFor(doc.loads.asce_snow?.thermal_ct ?? 1).map((c) => /** @type {Choice} */ ([c, CURVES[c]])),
      read: ({ doc }) => doc.loads.asce_snow?.curve ?? '',
      commit: (curve) => change('Change roof surface', { curve: /** @type {ASCESnow['curve']} */ (curve) }),
    }),
    checkField({
      name: 'loads-snow-slippery', label: 'Slippery: snow slides off freely', path: 'loads.asce_snow.slippery',
      hint: 'A smooth surface, nothing that holds the snow, room for it below the eave.',
      read: ({ doc }) => doc.loads.asce_snow?.slippery ?? false,
      commit: (on) => change(on ? 'Take roof as slippery' : 'Take roof as not slippery', { slippery: on }),
    }),
    ...warmSlippery(context),
    pairs([
      pressure(context, 'loads-snow-cap', 'Most of the low-slope least', 'asce_snow', 'low_slope_cap_pa', 3000,
        'Under 15° the load is at least Is × ground snow, up to this. Default 957.6 Pa (20 psf), in 7-22 1436.4 Pa (30 psf); from memory.'),
      pressure(context, 'loads-snow-extra', 'Added for drifts', 'asce_snow', 'extra_pa', MOST_SNOW_PA, DRIFTS),
    ]),
  ], (state) => !isIec(state) && state.doc.loads.asce_snow !== null);
}

const DRIFTS = 'Drifting, unbalanced or sliding snow that an engineer has found, on plan area. Default 0.';

/** @param {Context} context @returns {Field[]} what matters for a warm slippery roof alone */
function warmSlippery({ store }) {
  /** @param {State} state */
  const when = ({ doc }) => doc.loads.asce_snow?.curve === 'warm' && doc.loads.asce_snow.slippery;
  return [
    pairs([
      quantityField(store, {
        name: 'loads-snow-r', label: 'Thermal resistance of the roof', path: 'loads.asce_snow.roof_r_m2k_per_w', quantity: 'thermalResistance', min: 0, max: 20,
        hint: 'A warm roof counts as slippery from R 30 (5.28 m² K/W), or R 20 where ventilated (ASCE 7-16 7.4.1).',
        read: ({ doc }) => doc.loads.asce_snow?.roof_r_m2k_per_w,
        commit: (value) => store.run('Change thermal resistance', setASCESnow({ patch: { roof_r_m2k_per_w: value ?? 0 } })),
      }),
      checkField({
        name: 'loads-snow-ventilated', label: 'The roof is ventilated', path: 'loads.asce_snow.ventilated',
        read: ({ doc }) => doc.loads.asce_snow?.ventilated ?? false,
        commit: (on) => store.run('Change ventilation', setASCESnow({ patch: { ventilated: on } })),
      }),
    ], when),
  ];
}

/**
 * @param {Context} context
 * @param {string} name
 * @param {string} label
 * @param {'asce_snow'|'en_snow'} section
 * @param {'low_slope_cap_pa'|'extra_pa'} member
 * @param {number} max
 * @param {string} hint
 * @returns {Field}
 */
function pressure({ store }, name, label, section, member, max, hint) {
  return quantityField(store, {
    name, label, hint, path: `loads.${section}.${member}`, quantity: 'pressure', min: 0, max,
    read: ({ doc }) => /** @type {Record<string, number>|null} */ (/** @type {unknown} */ (doc.loads[section]))?.[member],
    commit: (pa) => store.run(`Change ${label.toLowerCase()}`, section === 'en_snow' ? setENSnow({ patch: { [member]: pa } }) : setASCESnow({ patch: { [member]: pa } })),
  });
}

/** @param {ENSnow} snow @returns {string} the line that opens the factors */
export function enFactorsLine(snow) {
  const guards = snow.snow_guards ? 'snow guards' : 'no snow guards';
  return `Factors: Ce ${snow.exposure_ce}, Ct ${snow.thermal_ct}, ψ0 ${snow.psi0}, ${guards}${snow.exceptional ? `, exceptional × ${snow.exceptional_factor}` : ''}`;
}

/** @param {Context} context @returns {Field} */
function enFactors(context) {
  const { store } = context;
  /** @param {string} label @param {Partial<ENSnow>} patch */
  const change = (label, patch) => store.run(label, setENSnow({ patch }));
  /** @param {string} name @param {string} label @param {'exposure_ce'|'thermal_ct'|'psi0'|'exceptional_factor'} member @param {number} min @param {number} max @param {string} hint */
  const factor = (name, label, member, min, max, hint) => plainField({
    name: `loads-en-${name}`, label, hint, path: `loads.en_snow.${member}`, min, max,
    read: ({ doc }) => doc.loads.en_snow?.[member],
    commit: (value) => change(`Change ${label}`, { [member]: value }),
  });
  return folded('loads-en-factors', ({ doc }) => (doc.loads.en_snow ? enFactorsLine(doc.loads.en_snow) : ''), [
    note('loads-en-memory', () => 'EN 1991-1-3 5.2 and Table 5.2 (µ1 above 30° from memory), EN 1990 6.5.3 (from memory). The national annex governs.'),
    pairs([
      factor('ce', 'Exposure factor Ce', 'exposure_ce', 0.8, 1.2, 'Default 1; 0.8 windswept to 1.2 sheltered.'),
      factor('ct', 'Thermal factor Ct', 'thermal_ct', 0.5, 1.2, 'Default 1.'),
      factor('psi0', 'Snow beside leading wind, ψ0', 'psi0', 0, 1, 'Default 0.5 for sites up to 1000 m; 0.7 above.'),
      pressure(context, 'loads-en-extra', 'Added for drifts', 'en_snow', 'extra_pa', MOST_SNOW_PA, DRIFTS),
    ]),
    checkField({
      name: 'loads-en-guards', label: 'Snow guards hold the snow on the roof', path: 'loads.en_snow.snow_guards', hint: 'µ1 is then 0.8 at any pitch.',
      read: ({ doc }) => doc.loads.en_snow?.snow_guards ?? false,
      commit: (on) => change(on ? 'Add snow guards' : 'Take snow guards away', { snow_guards: on }),
    }),
    checkField({
      name: 'loads-en-exceptional', label: 'Check exceptional ground snow too', path: 'loads.en_snow.exceptional', hint: 'Where the national annex has it (EN 1991-1-3 4.3).',
      read: ({ doc }) => doc.loads.en_snow?.exceptional ?? false,
      commit: (on) => change(on ? 'Check exceptional snow' : 'Check no exceptional snow', { exceptional: on }),
    }),
    pairs([factor('cesl', 'Exceptional factor Cesl', 'exceptional_factor', 1, 3, 'Default 2.')], ({ doc }) => doc.loads.en_snow?.exceptional ?? false),
  ], (state) => isIec(state) && state.doc.loads.en_snow !== null);
}
