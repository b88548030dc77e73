// The rules: how far modules stay from edges and from each other.

/** @import {State} from '../model/store.js' */
/** @import {Distances, Rules} from '../model/types.js' */
/** @import {Choice} from './words.js' */
/** @import {Field} from './field.js' */
/** @import {Context} from './props.js' */

import { setRules } from '../commands/index.js';
import { button, h } from './dom.js';
import { radioField, updateAll } from './field.js';
import { showForm } from './form-dialog.js';
import { lengthField, numberField } from './measures.js';
import { EDGE_KINDS, STYLES, edgeWord } from './words.js';

/** Common practice, no source. */
const PRESET_M = 0.3;

/** @type {readonly Choice[]} */
const SETS = Object.freeze([
  ['none', 'No setbacks'],
  ['distances', 'Distances typed below'],
  ['irc_r324', 'Fire access paths, after IRC R324.6'],
]);

/** @param {Context} context */
export function openRules(context) {
  const { store } = context;
  const set = radioField({
    name: 'rules-set', label: 'Free strips along the edges', path: 'rules.set', choices: SETS,
    read: ({ doc }) => doc.rules.set,
    commit: (value) => store.run('Change rule set', setRules({ patch: { set: value } })),
  });
  const notes = h('ul', { class: 'p-notes', 'data-testid': 'rules-notes' });
  const distances = distanceFields(context);
  const group = h(
    'fieldset',
    { class: 'p-group p-fieldset', 'data-testid': 'rules-distances' },
    h('legend', {}, 'Distance from each kind of edge, along the slope'),
    h('div', { class: 'p-buttons' }, button('300 mm all round', () => store.run('Set 300 mm all round', setRules({ distances: allRound(PRESET_M) })), { 'data-testid': 'rules-preset', title: 'Common practice, no source' })),
    h('div', { class: 'p-pairs' }, ...distances.map((field) => field.element)),
  );
  const style = styleField(context);
  const cost = tidyCostField(context);
  const spacing = spacingFields(context);
  showForm(context, {
    id: 'rules',
    title: 'Rules',
    body: [
      set.element,
      notes,
      group,
      style.element,
      h('div', { class: 'p-group p-pairs' }, cost.element),
      h('div', { class: 'p-group p-pairs' }, ...spacing.map((field) => field.element)),
    ],
    update(state) {
      updateAll([set, ...distances, style, cost, ...spacing])(state);
      group.hidden = state.doc.rules.set !== 'distances';
      drawNotes(notes, state);
    },
  });
}

/**
 * @param {HTMLElement} list
 * @param {State} state
 */
function drawNotes(list, { doc, result }) {
  const notes = result && result.rules.id === doc.rules.set ? result.rules.notes : ['The code in force at the site governs.'];
  const own = doc.rules.set === 'irc_r324' ? ['Mark the street side on the edges of a plane: the paths depend on it.'] : [];
  const texts = [...notes, ...own];
  if (list.textContent !== texts.join('')) list.replaceChildren(...texts.map((text) => h('li', {}, text)));
}

/** @param {number} m @returns {Distances} */
export function allRound(m) {
  return { eave_m: m, ridge_m: m, rake_m: m, hip_m: m, valley_m: m, break_m: m, wall_m: m, party_wall_m: m };
}

/** @param {Context} context @returns {Field[]} */
function distanceFields({ store }) {
  return Object.entries(EDGE_KINDS).map(([kind, gloss]) => {
    const member = /** @type {keyof Distances} */ (`${kind}_m`);
    const word = edgeWord(kind);
    return lengthField(store, {
      name: `rules-${kind}`, label: word[0].toUpperCase() + word.slice(1), path: `rules.distances.${member}`, hint: gloss, minM: 0, maxM: 10,
      read: ({ doc }) => doc.rules.distances[member],
      commit: (m) => store.run(`Change ${word} distance`, setRules({ distances: { [member]: m } })),
    });
  });
}

/** @param {Context} context @returns {Field} */
function styleField({ store }) {
  return radioField({
    name: 'rules-style', label: 'Modules are set in', path: 'rules.style', choices: STYLES,
    read: ({ doc }) => doc.rules.style,
    commit: (style) => store.run('Change style', setRules({ patch: { style: /** @type {Rules['style']} */ (style) } })),
  });
}

/** The most modules that tidiness may cost, as the project file has it. */
const MOST_TIDY_COST = 100;

/** @param {Context} context @returns {Field} */
function tidyCostField({ store }) {
  const field = numberField({
    name: 'rules-tidy-cost', label: 'Tidiness may cost', unit: 'modules', path: 'rules.tidy_cost_modules', min: 0, max: MOST_TIDY_COST, whole: true,
    hint: 'With most modules: so many of the whole roof may be left out for fewer blocks and rail runs.',
    read: ({ doc }) => doc.rules.tidy_cost_modules,
    commit: (count) => store.run('Change cost of tidiness', setRules({ patch: { tidy_cost_modules: count } })),
  });
  const input = field.element.querySelector('input');
  return {
    element: field.element,
    update(state) {
      field.update(state);
      if (input) input.disabled = state.doc.rules.style !== 'best';
    },
  };
}

/** @param {Context} context @returns {Field[]} */
function spacingFields({ store }) {
  /** @param {string} label @param {Partial<Rules>} patch */
  const change = (label, patch) => store.run(label, setRules({ patch }));
  return [
    lengthField(store, {
      name: 'rules-gap-eave', label: 'Gap along the eave', path: 'rules.gap_eave_m', minM: 0, maxM: 1,
      read: ({ doc }) => doc.rules.gap_eave_m,
      commit: (m) => change('Change gap', { gap_eave_m: m }),
    }),
    lengthField(store, {
      name: 'rules-gap-slope', label: 'Gap up the slope', path: 'rules.gap_slope_m', minM: 0, maxM: 1,
      read: ({ doc }) => doc.rules.gap_slope_m,
      commit: (m) => change('Change gap', { gap_slope_m: m }),
    }),
    lengthField(store, {
      name: 'rules-end', label: 'Free at the ends', path: 'rules.end_allowance_m', minM: 0, maxM: 1,
      hint: 'Room for clamp and rail beyond the outer modules.',
      read: ({ doc }) => doc.rules.end_allowance_m,
      commit: (m) => change('Change end allowance', { end_allowance_m: m }),
    }),
  ];
}
