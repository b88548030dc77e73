// The wiring: how modules are connected, with which products, and what the
// site demands of it.

/** @import {State} from '../model/store.js' */
/** @import {Wiring} from '../model/types.js' */
/** @import {Choice} from './words.js' */
/** @import {Field} from './field.js' */
/** @import {Context} from './props.js' */

import { setWiring } from '../commands/index.js';
import { quantityText } from '../model/quantities.js';
import { isUnset } from '../model/station.js';
import { button, h } from './dom.js';
import { checkField, radioField } from './field.js';
import { showForm } from './form-dialog.js';
import { facts, group, note, notes, pairs, part } from './parts.js';
import { productField } from './product-choice.js';
import { inverterFacts, microFacts, optimiserFacts, figure } from './product-words.js';
import { plainField, quantityField } from './quantities.js';
import { stationFacts, stationWarnings, temperatureWords } from './station-words.js';

/** @type {readonly Choice[]} */
const KINDS = Object.freeze([
  ['', 'Not chosen yet'],
  ['string', 'Strings on one inverter'],
  ['micro', 'A micro-inverter behind each module'],
  ['optimiser', 'Strings on one inverter, an optimiser behind each module'],
]);

/** @type {readonly Choice[]} */
const PLACES = Object.freeze([
  ['dwelling', 'On a one- or two-family dwelling'],
  ['building', 'On another building'],
  ['ground', 'On the ground'],
]);

/** How much warmer than the air cells get in full sun, K; common practice, no source. */
const RISE_K = Object.freeze({ flush: 35, open_rack: 30 });

/** @param {Context} context */
export function openWiring(context) {
  const parts = [kindPart(context), temperaturePart(context), cellPart(context), codePart(context), acPart(context)];
  showForm(context, {
    id: 'wiring',
    title: 'Wiring',
    body: [
      h('p', { class: 'p-hint' }, 'What the wiring plan is worked out from. Products are copied from the catalog into this project.'),
      ...parts.map((p) => p.element),
      h('p', { class: 'p-safety' }, 'A plan, not an instruction. Strings on a roof carry dangerous voltage whenever there is light. A licensed electrician decides and connects; the code in force and the makers’ instructions govern.'),
    ],
    update: (state) => parts.forEach((p) => p.update(state)),
  });
}

/** @param {Context} context @param {string} label of the undo step @param {Partial<Wiring>} patch */
function change({ store }, label, patch) {
  store.run(label, setWiring({ patch }));
}

/** @param {...Wiring['kind']} kinds @returns {(state: State) => boolean} */
const ofKind = (...kinds) => ({ doc }) => kinds.includes(doc.wiring.kind);

/** @param {State} state */
const isNec = ({ doc }) => doc.site.rule_family === 'nec';

/** @param {Context} context @returns {Field} */
function kindPart(context) {
  const { store } = context;
  return part('Products', [
    radioField({
      name: 'wiring-kind', label: 'Modules are wired as', path: 'wiring.kind', choices: KINDS,
      read: ({ doc }) => doc.wiring.kind,
      commit: (kind) => change(context, 'Change kind of wiring', { kind: /** @type {Wiring['kind']} */ (kind) }),
    }),
    productField(context, {
      name: 'wiring-inverter', label: 'Inverter', path: 'wiring.inverter', list: 'inverters', words: inverterFacts, when: ofKind('string', 'optimiser'),
      read: ({ doc }) => doc.wiring.inverter,
      commit: (inverter) => change(context, 'Pick inverter', { inverter }),
    }),
    productField(context, {
      name: 'wiring-optimiser', label: 'Optimiser', path: 'wiring.optimiser', list: 'optimisers', words: optimiserFacts, when: ofKind('optimiser'),
      read: ({ doc }) => doc.wiring.optimiser,
      commit: (optimiser) => change(context, 'Pick optimiser', { optimiser }),
    }),
    productField(context, {
      name: 'wiring-micro', label: 'Micro-inverter', path: 'wiring.micro', list: 'micro-inverters', words: microFacts, when: ofKind('micro'),
      read: ({ doc }) => doc.wiring.micro,
      commit: (micro) => change(context, 'Pick micro-inverter', { micro }),
    }),
    pairs([
      plainField({
        name: 'wiring-branch', label: 'Breaker of each AC branch', unit: 'A', path: 'wiring.branch_breaker_a', min: 5, max: 100, blank: true,
        hint: 'Blank takes that of the datasheet.',
        placeholder: ({ doc }) => (doc.wiring.micro ? String(figure(doc.wiring.micro, 'branch_breaker_a')) : ''),
        read: ({ doc }) => doc.wiring.branch_breaker_a,
        commit: (branch_breaker_a) => change(context, 'Change branch breaker', { branch_breaker_a }),
      }),
    ], ofKind('micro')),
    group(h('div', {}), [
      checkField({
        name: 'wiring-mix', label: 'Parallel strings may face different ways', path: 'wiring.mix_parallel',
        hint: 'On one tracker. The plan then shows the estimated loss. The modules of one string always share their facing.',
        read: ({ doc }) => doc.wiring.mix_parallel,
        commit: (on) => store.run(on ? 'Allow mixed strings' : 'Keep strings apart', setWiring({ patch: { mix_parallel: on } })),
      }),
    ], ofKind('string')),
  ]);
}

/** @param {Context} context @returns {Field} */
function temperaturePart(context) {
  const { store, products } = context;
  let asking = false;
  let fault = '';
  const ask = button('Nearest station', take, { 'data-testid': 'wiring-station' });
  const site = button('Site', () => context.open('site'), { 'data-testid': 'wiring-site' });
  const trouble = h('p', { class: 'problem d-trouble', 'data-testid': 'wiring-station-fault', 'aria-live': 'polite' });
  const whole = part('Design temperatures of the air', [
    h('div', { class: 'p-buttons' }, ask, site), trouble,
    note('wiring-unset', ({ doc }) => (isUnset(doc.site) ? 'The site has no latitude and longitude yet. Type them there first, or type both temperatures here.' : '')),
    facts('wiring-station-figures', ({ doc }) => stationFacts(doc.wiring, doc.site.units)),
    notes('wiring-station-warnings', ({ doc }) => stationWarnings(doc), 'd-warnings'),
    pairs([temperature(context, 'cold'), temperature(context, 'hot')]),
    note('wiring-source', ({ doc }) => doc.wiring.station?.source ?? ''),
  ]);

  async function take() {
    if (asking) return;
    asking = true;
    fault = '';
    draw(store.state);
    try {
      const station = await products.station(store.state.doc.site);
      change(context, 'Take nearest station', { station });
    } catch (err) {
      fault = err instanceof Error ? err.message : String(err);
    }
    asking = false;
    draw(store.state);
  }

  /** @param {State} state */
  function draw(state) {
    whole.update(state);
    ask.disabled = asking || isUnset(state.doc.site);
    site.hidden = !isUnset(state.doc.site);
    trouble.textContent = fault;
  }

  return { element: whole.element, update: draw };
}

/** @type {Record<'cold'|'hot', {label: string, min: number, max: number, member: 'cold_c'|'hot_air_c', step: string}>} */
const TEMPERATURES = {
  cold: { label: 'Coldest to be expected', min: -60, max: 40, member: 'cold_c', step: 'Change cold temperature' },
  hot: { label: 'Hot design temperature', min: -40, max: 60, member: 'hot_air_c', step: 'Change hot temperature' },
};

/** @param {Context} context @param {'cold'|'hot'} which @returns {Field} typed over, or given back to the station */
function temperature(context, which) {
  const { label, min, max, member, step } = TEMPERATURES[which];
  const name = `wiring-${which}`;
  /** @param {State} state @returns {number|null} */
  const ofStation = ({ doc: { wiring } }) => (wiring.station?.usable ? wiring.station[`${which}_c`] : null);
  const back = button('Give back to the station', () => change(context, step, { [member]: null }), { class: 'quiet d-back', 'data-testid': `${name}-back` });
  const whole = group(h('div', { class: 'd-stack' }), [
    quantityField(context.store, {
      name, label, path: `wiring.${member}`, quantity: 'temperature', min, max, blank: true,
      placeholder: (state) => {
        const own = ofStation(state);
        return own === null ? 'not known' : quantityText('temperature', own, state.doc.site.units);
      },
      read: ({ doc }) => doc.wiring[member],
      commit: (value) => change(context, step, { [member]: value }),
    }),
    note(`${name}-basis`, ({ doc }) => temperatureWords(doc.wiring[member], doc.wiring.station, which, doc.site.units)),
    back,
  ]);
  return {
    element: whole.element,
    update(state) {
      whole.update(state);
      back.hidden = state.doc.wiring[member] === null || ofStation(state) === null;
    },
  };
}

/** @param {Context} context @returns {Field} */
function cellPart(context) {
  return part('Cells', [
    radioField({
      name: 'wiring-mounting', label: 'Modules lie', path: 'wiring.mounting',
      choices: [['flush', 'Flush on the roof'], ['open_rack', 'On an open rack, air on both sides']],
      read: ({ doc }) => doc.wiring.mounting,
      commit: (mounting) => change(context, 'Change mounting', { mounting: /** @type {Wiring['mounting']} */ (mounting) }),
    }),
    pairs([
      plainField({
        name: 'wiring-rise', label: 'Cells warmer than the air by', unit: 'K', path: 'wiring.cell_rise_k', min: 0, max: 60, blank: true,
        placeholder: ({ doc }) => String(RISE_K[doc.wiring.mounting]),
        read: ({ doc }) => doc.wiring.cell_rise_k,
        commit: (cell_rise_k) => change(context, 'Change cell rise', { cell_rise_k }),
      }),
      note('wiring-rise-basis', ({ doc }) =>
        doc.wiring.cell_rise_k === null ? `Blank takes ${RISE_K[doc.wiring.mounting]} K in full sun: common practice, no source.` : 'Typed. Leave it blank to take the default again.'),
    ]),
  ]);
}

/** Highest DC voltage by rule family and place, as package electrical has it. @type {Record<string, Record<Wiring['place'], number>>} */
const CODE_LIMIT_V = { nec: { dwelling: 600, building: 1000, ground: 1500 }, iec: { dwelling: 1000, building: 1000, ground: 1500 } };

/**
 * @param {'nec'|'iec'} family
 * @param {Wiring['place']} place
 * @returns {string} the code limit with its source
 */
export function codeLimitWords(family, place) {
  const source = family === 'nec' ? 'NEC 690.7 (2017 and later editions)' : 'IEC 62548 and national rules, from memory; check yours';
  return `Highest DC voltage allowed by code there: ${CODE_LIMIT_V[family][place]} V. ${source}.`;
}

/** @param {Context} context @returns {Field} */
function codePart(context) {
  /** @param {string} name @param {'module_shutdown'|'hazard_control'|'arc_fault'} member @param {string} label @param {string} hint */
  const planned = (name, member, label, hint) => checkField({
    name, label, hint, path: `wiring.${member}`,
    read: ({ doc }) => doc.wiring[member],
    commit: (on) => change(context, on ? `Plan ${stepWord[member]}` : `Plan no ${stepWord[member]}`, { [member]: on }),
  });
  const stepWord = { module_shutdown: 'module shutdown', hazard_control: 'hazard control', arc_fault: 'arc-fault protection' };
  return part('Place and protection', [
    radioField({
      name: 'wiring-place', label: 'The array stands', path: 'wiring.place', choices: PLACES,
      read: ({ doc }) => doc.wiring.place,
      commit: (place) => change(context, 'Change place', { place: /** @type {Wiring['place']} */ (place) }),
    }),
    note('wiring-code', ({ doc }) => codeLimitWords(doc.site.rule_family, doc.wiring.place)),
    note('wiring-micro-stop', (state) => (marked(state) && state.doc.wiring.kind === 'micro' ? 'Rapid shutdown: micro-inverters stop with the AC supply, and no DC leaves the modules (NEC 690.12, from memory).' : '')),
    group(h('div', {}), [
      planned('wiring-shutdown', 'module_shutdown', 'Each module gets listed shutdown equipment', 'Rapid shutdown, NEC 690.12 (2017 and later), from memory. An optimiser that is listed for it counts by itself.'),
      planned('wiring-hazard', 'hazard_control', 'The array is listed as hazard control equipment', 'The other way to meet rapid shutdown.'),
      planned('wiring-arc', 'arc_fault', 'Listed DC arc-fault protection is added', 'NEC 690.11, from memory. An inverter that has it counts by itself.'),
      h('p', { class: 'p-hint' }, 'A plan without what the code asks for is marked, its parts are put on the bill of materials, and it is never shown as complete.'),
    ], (state) => marked(state) && state.doc.wiring.kind !== 'micro'),
  ]);
}

/** @param {State} state @returns {boolean} whether rapid shutdown and arc-fault protection are asked for there */
function marked(state) {
  return isNec(state) && state.doc.wiring.place !== 'ground';
}

/** @param {Context} context @returns {Field} */
function acPart(context) {
  /** @param {string} name @param {string} label @param {'main_breaker_a'|'busbar_a'|'phase_limit_a'} member @param {number} min @param {string} step */
  const amps = (name, label, member, min, step) => plainField({
    name, label, unit: 'A', path: `wiring.${member}`, min, max: 10000, blank: true, placeholder: () => 'not known',
    read: ({ doc }) => doc.wiring[member],
    commit: (value) => change(context, step, { [member]: value }),
  });
  return part('AC side', [
    radioField({
      name: 'wiring-phases', label: 'The supply has', path: 'wiring.supply_phases',
      choices: [['1', 'One phase, split phase too'], ['3', 'Three phases']],
      read: ({ doc }) => String(doc.wiring.supply_phases),
      commit: (n) => change(context, 'Change supply', { supply_phases: n === '3' ? 3 : 1 }),
    }),
    group(h('div', { class: 'p-group' }), [
      pairs([
        amps('wiring-main', 'Main breaker of the panel board', 'main_breaker_a', 15, 'Change main breaker'),
        amps('wiring-busbar', 'Rating of its busbar', 'busbar_a', 15, 'Change busbar'),
      ]),
      h('p', { class: 'p-hint' }, 'Checked as 1.25 × inverter current + main breaker ≤ 1.2 × busbar (NEC 705.12; the clause differs by edition, from memory). Blank: not checked.'),
    ], isNec),
    group(h('div', { class: 'p-group' }), [
      pairs([amps('wiring-phase-limit', 'Most current of one phase', 'phase_limit_a', 0.1, 'Change phase limit')]),
      h('p', { class: 'p-hint' }, 'As the network operator allows it. Blank: not checked.'),
    ], (state) => !isNec(state)),
  ]);
}
