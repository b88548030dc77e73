// Wind in the dialog of loads: the flush array rule of ASCE 7, or pressures
// that somebody else has found. Both need several figures at once, so that they
// are collected here until the last one is typed; that is then one step.

/** @import {State} from '../model/store.js' */
/** @import {FlushWind, TypedWind} from '../model/types.js' */
/** @import {Choice} from './words.js' */
/** @import {Field} from './field.js' */
/** @import {Context} from './props.js' */

import { editionOf, setFlushWind, setWind } from '../commands/index.js';
import { meanRoofHeightM, roofWidthM } from '../model/building.js';
import { newFlushWind } from '../model/load-defaults.js';
import { h } from './dom.js';
import { checkField, radioField, selectField } from './field.js';
import { coefficients } from './loads-gcp.js';
import { isIec } from './loads-snow.js';
import { folded, group, note, pairs, part } from './parts.js';
import { maybeLengthField, plainField, quantityField } from './quantities.js';

/** @typedef {'speed_mps'|'mean_roof_height_m'|'building_width_m'} FlushNeed */
/** @typedef {{kind: ''|'flush'|'typed', flush: Partial<Record<FlushNeed, number>>, typed: Partial<TypedWind>}} Draft kind '' follows the document */

/** @type {Record<FlushNeed, {word: string, min: number, max: number}>} */
const NEEDS = {
  speed_mps: { word: 'wind speed', min: 20, max: 120 },
  mean_roof_height_m: { word: 'mean roof height', min: 1, max: 200 },
  building_width_m: { word: 'smaller side of the building', min: 2, max: 200 },
};

/** @type {readonly Choice[]} */
const KINDS = Object.freeze([
  ['', 'Not known'],
  ['flush', 'Flush array rule of ASCE 7 (29.4.4): modules parallel to the roof, close above it'],
  ['typed', 'Pressures typed, as somebody else has found them'],
]);

/** @param {Context} context @returns {Field} */
export function windPart(context) {
  const { store } = context;
  /** @type {Draft} */
  const draft = { kind: '', flush: {}, typed: {} };
  const redraw = () => whole.update(store.state);
  const kind = radioField({
    name: 'loads-wind', label: 'Wind on the modules', choices: KINDS,
    read: (state) => kindOf(state, draft),
    commit(value) {
      clear(draft);
      if (value === '') store.run('Take wind away', setWind({ none: true }));
      else if (value !== kindOf(store.state, draft)) draft.kind = /** @type {Draft['kind']} */ (value);
      redraw();
    },
  });
  const flushChoice = kind.element.querySelector('[data-testid="loads-wind-flush"]')?.closest('label');
  const whole = part('Wind', [
    kind,
    note('loads-wind-family', (state) => (isIec(state) ? 'In the IEC family wind is typed: after EN 1991-1-4 and the national annex, by an engineer.' : '')),
    flushFields(context, draft, redraw),
    typedFields(context, draft, redraw),
  ]);
  return {
    element: whole.element,
    update(state) {
      if (flushChoice) flushChoice.hidden = isIec(state);
      whole.update(state);
    },
  };
}

/** @param {Draft} draft */
function clear(draft) {
  draft.kind = '';
  draft.flush = {};
  draft.typed = {};
}

/** @param {State} state @param {Draft} draft @returns {''|'flush'|'typed'} what is chosen, kept yet or not */
export function kindOf(state, draft) {
  const { flush_wind: flush, typed_wind: typed } = state.doc.loads;
  const kept = typed ? 'typed' : flush && !isIec(state) ? 'flush' : '';
  return draft.kind === 'flush' && isIec(state) ? kept : draft.kind || kept;
}

/**
 * What the flush rule cannot do without: typed, else measured in the drawing.
 * @param {State} state
 * @param {Draft} draft
 * @returns {Partial<Record<FlushNeed, number>>}
 */
export function flushNeeds({ doc, result }, draft) {
  const { min: least, max: most } = NEEDS.mean_roof_height_m;
  const height = meanRoofHeightM(doc, result?.planes ?? []);
  const width = roofWidthM(doc);
  const { min, max } = NEEDS.building_width_m;
  return {
    ...(height !== null && height >= least && height <= most ? { mean_roof_height_m: height } : {}),
    ...(width !== null && width >= min && width <= max ? { building_width_m: width } : {}),
    ...draft.flush,
  };
}

/** @param {Partial<Record<FlushNeed, number>>} needs @returns {needs is Record<FlushNeed, number>} */
function isComplete(needs) {
  return Object.keys(NEEDS).every((name) => name in needs);
}

/** @param {string[]} missing @returns {string} '' for none */
function missingWords(missing) {
  return missing.length === 0 ? '' : `Not kept yet: type ${missing.join(' and ')} too.`;
}

/** @param {Context} context @param {Draft} draft @param {() => void} redraw @returns {Field} */
function flushFields(context, draft, redraw) {
  const { store } = context;
  /** @param {FlushNeed} member @returns {(state: State) => number|undefined} */
  const read = (member) => (state) => (draft.kind === '' && state.doc.loads.flush_wind ? state.doc.loads.flush_wind[member] : flushNeeds(state, draft)[member]);
  /** @param {FlushNeed} member @returns {(value: number|null) => void} */
  const commit = (member) => (value) => {
    if (value === null) return;
    if (draft.kind === '') return store.run(`Change ${NEEDS[member].word}`, setFlushWind({ patch: { [member]: value } }));
    draft.flush[member] = value;
    const needs = flushNeeds(store.state, draft);
    if (isComplete(needs)) {
      clear(draft);
      store.run('Take wind by the flush rule', setWind({ flush: newFlushWind(editionOf(store.state.doc), needs) }));
    }
    redraw();
  };
  const { speed_mps: speed, mean_roof_height_m: height, building_width_m: width } = NEEDS;
  return group(h('div', { class: 'p-group' }), [
    pairs([
      quantityField(store, {
        name: 'loads-wind-speed', label: 'Basic wind speed', path: 'loads.flush_wind.speed_mps', quantity: 'speed', min: speed.min, max: speed.max,
        hint: '3-second gust at strength level, from the code’s map or the building official.', placeholder: () => 'not known',
        read: read('speed_mps'), commit: commit('speed_mps'),
      }),
      maybeLengthField(store, {
        name: 'loads-wind-height', label: 'Mean roof height', path: 'loads.flush_wind.mean_roof_height_m', minM: height.min, maxM: height.max,
        hint: 'Of the roof’s middle above ground. Past 18.3 m (60 ft) no pressure is given.', placeholder: () => 'not known',
        read: read('mean_roof_height_m'), commit: commit('mean_roof_height_m'),
      }),
      maybeLengthField(store, {
        name: 'loads-wind-width', label: 'Smaller side of the building', path: 'loads.flush_wind.building_width_m', minM: width.min, maxM: width.max,
        hint: 'In plan. It sets how wide the roof’s edge zones are.', placeholder: () => 'not known',
        read: read('building_width_m'), commit: commit('building_width_m'),
      }),
    ]),
    note('loads-wind-drawn', (state) => (draft.kind === 'flush' ? drawnWords(flushNeeds(state, { ...draft, flush: {} })) : '')),
    note('loads-wind-missing', (state) =>
      draft.kind === 'flush' ? missingWords(Object.entries(NEEDS).filter(([name]) => !(name in flushNeeds(state, draft))).map(([, need]) => `the ${need.word}`)) : '', 'problem'),
    flushFactors(context, () => draft.kind === ''),
  ], (state) => kindOf(state, draft) === 'flush');
}

/** @param {Partial<Record<FlushNeed, number>>} drawn @returns {string} */
function drawnWords(drawn) {
  const words = ['mean_roof_height_m', 'building_width_m'].filter((name) => name in drawn).map((name) => NEEDS[/** @type {FlushNeed} */ (name)].word);
  return words.length === 0 ? '' : `Measured in the drawing, overhangs included: ${words.join(' and ')}. Check ${words.length === 1 ? 'it' : 'them'}.`;
}

/** @param {FlushWind} wind @returns {string} the line that opens the factors */
export function windFactorsLine(wind) {
  return `Factors: exposure ${wind.exposure.toUpperCase()}, Kd ${wind.direction_kd}, Kzt ${wind.hill_kzt}, Ke ${wind.elevation_ke}, coefficients ${wind.gcp.length > 0 ? 'typed' : 'from the table'}`;
}

/** @type {readonly Choice[]} */
const EXPOSURES = Object.freeze([
  ['b', 'B: suburbs and woods'],
  ['c', 'C: open country (default)'],
  ['d', 'D: flat, by open water'],
]);

/** @param {Context} context @param {() => boolean} kept whether the rule is in the document @returns {Field} */
function flushFactors(context, kept) {
  const { store } = context;
  /** @param {string} label @param {Partial<FlushWind>} patch */
  const change = (label, patch) => store.run(label, setFlushWind({ patch }));
  /** @param {string} name @param {string} label @param {'direction_kd'|'hill_kzt'|'elevation_ke'} member @param {number} min @param {number} max @param {string} hint */
  const factor = (name, label, member, min, max, hint) => plainField({
    name: `loads-wind-${name}`, label, hint, path: `loads.flush_wind.${member}`, min, max,
    read: ({ doc }) => doc.loads.flush_wind?.[member],
    commit: (value) => change(`Change ${label}`, { [member]: value }),
  });
  /** @param {string} name @param {string} label @param {'enclosed'|'low_b_070'|'all_exposed'} member @param {string} hint */
  const check = (name, label, member, hint) => checkField({
    name: `loads-wind-${name}`, label, hint, path: `loads.flush_wind.${member}`,
    read: ({ doc }) => doc.loads.flush_wind?.[member] ?? false,
    commit: (on) => change('Change wind factors', { [member]: on }),
  });
  return folded('loads-wind-factors', ({ doc }) => (doc.loads.flush_wind ? windFactorsLine(doc.loads.flush_wind) : ''), [
    note('loads-wind-memory', () => 'Each condition of the rule is tested; outside it the result says so, and that an engineer is needed. Kd, Kzt, Ke, the exposures and most conditions are from memory of ASCE 7-16 26 and 29.4.4.'),
    selectField({
      name: 'loads-wind-exposure', label: 'Ground around the building', path: 'loads.flush_wind.exposure', wide: true, choices: EXPOSURES,
      read: ({ doc }) => doc.loads.flush_wind?.exposure ?? '',
      commit: (exposure) => change('Change exposure', { exposure: /** @type {FlushWind['exposure']} */ (exposure) }),
    }),
    pairs([
      factor('kd', 'Direction factor Kd', 'direction_kd', 0.85, 1, 'Default 0.85; to 1.'),
      factor('kzt', 'Hill factor Kzt', 'hill_kzt', 1, 3, 'Default 1: no hill; to 3.'),
      factor('ke', 'Ground elevation factor Ke', 'elevation_ke', 0.45, 1.1, 'Default 1; 0.45 to 1.1.'),
      quantityField(store, {
        name: 'loads-wind-least', label: 'Least wind pressure', path: 'loads.flush_wind.least_pa', quantity: 'pressure', min: 0, max: 2000, hint: 'Default 766 Pa (16 psf).',
        read: ({ doc }) => doc.loads.flush_wind?.least_pa,
        commit: (pa) => change('Change least wind', { least_pa: pa ?? 0 }),
      }),
      plainField({
        name: 'loads-wind-tilt', label: 'Modules to roof, angle', unit: '°', path: 'loads.flush_wind.tilt_to_roof_deg', min: 0, max: 90, hint: 'Default 0. The rule holds to 2°.',
        read: ({ doc }) => doc.loads.flush_wind?.tilt_to_roof_deg,
        commit: (deg) => change('Change angle to roof', { tilt_to_roof_deg: deg ?? 0 }),
      }),
      maybeLengthField(store, {
        name: 'loads-wind-above', label: 'Top of modules above the roof', path: 'loads.flush_wind.height_above_roof_m', minM: 0, maxM: 3, hint: 'Default 0.15 m. The rule holds to 0.254 m (10 in).',
        read: ({ doc }) => doc.loads.flush_wind?.height_above_roof_m,
        commit: (m) => change('Change height above roof', { height_above_roof_m: m ?? 0 }),
      }),
    ]),
    check('enclosed', 'The building is enclosed or partially enclosed', 'enclosed', 'A condition of the rule.'),
    check('exposed', 'Every module takes the edge factor', 'all_exposed', 'Otherwise only those near an open side of the array.'),
    check('low', 'Kz of exposure B at least 0.70', 'low_b_070', 'As some procedures of the standard require below 30 ft.'),
    coefficients(context),
  ], ({ doc }) => kept() && doc.loads.flush_wind !== null);
}

/** The most that a typed wind pressure may be, Pa. */
const MOST_WIND_PA = 20000;

/** @param {Context} context @param {Draft} draft @param {() => void} redraw @returns {Field} */
function typedFields({ store }, draft, redraw) {
  /** @param {string} name @param {string} label @param {'up_pa'|'down_pa'} member @param {string} hint */
  const side = (name, label, member, hint) => quantityField(store, {
    name, label, hint, path: `loads.typed_wind.${member}`, quantity: 'pressure', min: 0, max: MOST_WIND_PA, placeholder: () => 'not known',
    read: ({ doc }) => (draft.kind === '' ? doc.loads.typed_wind?.[member] : draft.typed[member]),
    commit(pa) {
      if (pa === null) return;
      const kept = draft.kind === '' ? store.state.doc.loads.typed_wind : null;
      const next = { ...kept, ...draft.typed, [member]: pa };
      if (next.up_pa !== undefined && next.down_pa !== undefined) {
        clear(draft);
        store.run('Change wind pressure', setWind({ typed: { up_pa: next.up_pa, down_pa: next.down_pa } }));
      } else {
        draft.typed = next;
      }
      redraw();
    },
  });
  return group(h('div', { class: 'p-group' }), [
    pairs([
      side('loads-wind-up', 'Suction, lifting', 'up_pa', 'Without sign.'),
      side('loads-wind-down', 'Pressure, pushing', 'down_pa', 'Without sign.'),
    ]),
    note('loads-wind-level', (state) => (isIec(state) ? 'Square to the modules, characteristic values.' : 'Square to the modules, at strength level; 0.6 of it is compared with the rating.')),
    note('loads-wind-typed-missing', () =>
      draft.kind !== 'typed' ? '' : missingWords([...(draft.typed.up_pa === undefined ? ['the suction'] : []), ...(draft.typed.down_pa === undefined ? ['the pressure'] : [])]), 'problem'),
  ], (state) => kindOf(state, draft) === 'typed');
}
