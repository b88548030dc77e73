// The modules under comparison: at most five, each a copy of a catalog entry
// or typed.

/** @import {State} from '../model/store.js' */
/** @import {Candidate} from '../model/types.js' */
/** @import {CatalogModule, Retyped} from './catalog.js' */
/** @import {Field} from './field.js' */
/** @import {Context} from './props.js' */

import { CANDIDATES_MAX, addCandidate, removeCandidate, setCandidate } from '../commands/index.js';
import { newIds } from '../model/ids.js';
import { candidateFrom, catalogWords, differsFromCatalog, losesDatasheet, sizeFault, typedFrom, withDatasheet } from './catalog.js';
import { chip } from './chip.js';
import { askDatasheet } from './dialog-datasheet.js';
import { button, h, setText } from './dom.js';
import { textField, selectField } from './field.js';
import { showForm } from './form-dialog.js';
import { lengthField, numberField, parseLabel } from './measures.js';
import { facts, folded, note } from './parts.js';
import { datasheetFacts, datasheetLine } from './product-words.js';
import { named } from './quantities.js';
import { letterOf } from './words.js';

/**
 * @param {Context} context
 * @param {readonly CatalogModule[]} catalog
 */
export function openCandidates(context, catalog) {
  const { store } = context;
  const list = h('ol', { class: 'c-list' });
  const add = button('Add a module', () => {
    const { doc } = store.state;
    const unused = catalog.find((module) => !doc.candidates.some((c) => c.catalog_id === module.id)) ?? catalog[0];
    store.run('Add module', addCandidate({ candidate: candidateFrom(unused, newIds(doc, 'module')[0]) }));
  }, { 'data-testid': 'candidates-add' });
  /** @type {Field[]} */ let rows = [];
  let ids = '';
  showForm(context, {
    id: 'candidates',
    title: 'Modules to compare',
    actions: [add],
    body: [h('p', { class: 'p-hint' }, 'Each one is a copy kept with this project: a later change of the catalog changes nothing here.'), list],
    update(state) {
      const key = state.doc.candidates.map((c) => c.id).join(' ');
      if (key !== ids) {
        ids = key;
        rows = state.doc.candidates.map(({ id }, index) => candidateRow(context, catalog, id, index));
        list.replaceChildren(...rows.map((row) => row.element));
      }
      for (const row of rows) row.update(state);
      add.disabled = state.doc.candidates.length >= CANDIDATES_MAX || catalog.length === 0;
    },
  });
}

/**
 * @param {Context} context
 * @param {readonly CatalogModule[]} catalog
 * @param {string} id
 * @param {number} index
 * @returns {Field}
 */
function candidateRow(context, catalog, id, index) {
  const { store } = context;
  const letter = letterOf(index);
  const fields = [catalogField(context, catalog, id, letter), ...typedFields(context, id, index)];
  const origin = h('p', { class: 'p-hint', 'data-testid': `candidate-${letter}-origin` });
  const sheet = datasheetPart(context, catalog, id, letter);
  const remove = button('Remove', () => store.run('Remove module', removeCandidate({ id })), {
    class: 'quiet', 'aria-label': `Remove module ${letter}`, 'data-testid': `candidate-${letter}-remove`,
  });
  return {
    element: h(
      'li',
      { class: `c-row letter-${letter}`, 'aria-label': `Module ${letter}` },
      h('div', { class: 'c-head' }, chip(letter, 'dialog'), fields[0].element, remove),
      origin,
      h('div', { class: 'c-fields' }, ...fields.slice(1).map((field) => field.element)),
      ...sheet.map((field) => field.element),
    ),
    update(state) {
      const candidate = candidateOf(state, id);
      if (!candidate) return;
      for (const field of [...fields, ...sheet]) field.update(state);
      setText(origin, originWords(candidate, catalog));
    },
  };
}

/**
 * The datasheet, folded; what it means where there is none, and the way to it.
 * @param {Context} context
 * @param {readonly CatalogModule[]} catalog
 * @param {string} id
 * @param {string} letter
 * @returns {Field[]}
 */
function datasheetPart({ store }, catalog, id, letter) {
  /** @param {State} state */
  const own = (state) => candidateOf(state, id)?.datasheet ?? null;
  /** @param {State} state */
  const entry = (state) => {
    const candidate = candidateOf(state, id);
    return candidate && differsFromCatalog(candidate, catalog) ? catalog.find((m) => m.id === candidate.catalog_id) : undefined;
  };
  const again = button('Copy it from the catalog again', () => {
    const module = entry(store.state);
    if (module) store.run('Copy module again', setCandidate({ id, patch: candidateFrom(module, id) }));
  }, { class: 'quiet d-back', 'data-testid': `candidate-${letter}-again` });
  return [
    note(`candidate-${letter}-typed`, (state) => (own(state) ? '' : 'No datasheet: modules are counted and laid out, but wiring, loads, warranty and price are not worked out.')),
    folded(`candidate-${letter}-sheet`, (state) => datasheetLine(own(state) ?? { id: '', label: '' }), [
      facts(`candidate-${letter}-figures`, (state) => {
        const sheet = own(state);
        return sheet ? datasheetFacts(sheet, state.doc.site.units) : [];
      }),
    ], (state) => own(state) !== null),
    {
      element: again,
      update(state) {
        again.hidden = !entry(state);
      },
    },
  ];
}

/** @param {State} state @param {string} id @returns {Candidate|undefined} */
function candidateOf(state, id) {
  return state.doc.candidates.find((c) => c.id === id);
}

/**
 * @param {Candidate} candidate
 * @param {readonly CatalogModule[]} catalog
 * @returns {string}
 */
export function originWords(candidate, catalog) {
  const invented = candidate.invented ? 'Invented module, for trying out' : '';
  const edited = candidate.catalog_id === '' ? 'typed here' : differsFromCatalog(candidate, catalog) ? 'edited copy' : '';
  const words = [invented, edited].filter(Boolean).join(', ');
  return words && `${words[0].toUpperCase()}${words.slice(1)}.`;
}

/**
 * @param {Context} context
 * @param {readonly CatalogModule[]} catalog
 * @param {string} id
 * @param {string} letter
 * @returns {Field}
 */
function catalogField({ store }, catalog, id, letter) {
  return selectField({
    name: `candidate-${letter}-catalog`, label: `Module ${letter} from the catalog`, bare: true,
    choices: [['', 'Typed below, without a datasheet'], ...catalog.map((m) => /** @type {[string, string]} */ ([m.id, catalogWords(m)]))],
    read: (state) => candidateOf(state, id)?.catalog_id ?? '',
    commit(catalogId) {
      const module = catalog.find((m) => m.id === catalogId);
      const candidate = candidateOf(store.state, id);
      if (candidate) store.run('Pick module', setCandidate({ id, patch: module ? candidateFrom(module, id) : typedFrom(candidate) }));
    },
  });
}

/**
 * @param {Context} context
 * @param {string} id
 * @param {number} index
 * @returns {Field[]}
 */
function typedFields(context, id, index) {
  const { store } = context;
  const letter = letterOf(index);
  /** @param {string} label @param {Retyped} patch */
  function change(label, patch) {
    const candidate = candidateOf(store.state, id);
    if (!candidate) return;
    const fault = sizeFault({ ...candidate, ...patch }, store.state.doc.site.units);
    if (fault) throw new Error(fault);
    const take = () => store.run(label, setCandidate({ id, patch: withDatasheet(candidate, patch) }));
    if (losesDatasheet(candidate, patch)) askDatasheet(context, { letter, candidate, patch, take });
    else take();
  }
  return [
    textField({
      name: `candidate-${letter}-label`, label: 'Name', path: `candidates[${index}].label`, wide: true,
      read: (state) => candidateOf(state, id)?.label ?? '',
      commit: named('Name', (text) => change('Name module', { label: parseModuleName(text, candidateOf(store.state, id)?.datasheet !== null) })),
    }),
    numberField({
      name: `candidate-${letter}-pmax`, label: 'Rated power', unit: 'W', path: `candidates[${index}].pmax_w`, min: 1, max: 2000, whole: true,
      read: (state) => candidateOf(state, id)?.pmax_w,
      commit: (pmax_w) => change('Change rated power', { pmax_w }),
    }),
    lengthField(store, {
      name: `candidate-${letter}-length`, label: 'Long side', path: `candidates[${index}].length_m`, minM: 0.2, maxM: 5,
      read: (state) => candidateOf(state, id)?.length_m,
      commit: (length_m) => change('Change long side', { length_m }),
    }),
    lengthField(store, {
      name: `candidate-${letter}-width`, label: 'Short side', path: `candidates[${index}].width_m`, minM: 0.2, maxM: 5,
      read: (state) => candidateOf(state, id)?.width_m,
      commit: (width_m) => change('Change short side', { width_m }),
    }),
  ];
}

/** The longest name of a module, as the catalog and the project file have it. */
const NAME_CHARACTERS = 80;

/**
 * @param {string} text
 * @param {boolean} onSheet a datasheet's name cannot be blank and begins with a letter or digit
 * @returns {string}
 */
export function parseModuleName(text, onSheet) {
  const name = parseLabel(text, NAME_CHARACTERS, onSheet);
  if (onSheet && !/^[\p{L}\p{Nd}]/u.test(name)) throw new Error(`“${name}” must begin with a letter or a digit.`);
  return name;
}
