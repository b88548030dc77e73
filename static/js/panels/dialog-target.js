// The question asked of every candidate.

/** @import {State} from '../model/store.js' */
/** @import {Result, Target} from '../model/types.js' */
/** @import {Context} from './props.js' */

import { setTarget } from '../commands/index.js';
import { h } from './dom.js';
import { radioField, textField, updateAll } from './field.js';
import { showForm } from './form-dialog.js';
import { parseNumberIn } from './measures.js';
import { kilowattsTyped, parseKilowatts } from './watts.js';
import { letterOf, plural, powerUnit, valueOf } from './words.js';

/** @param {Context} context */
export function openTarget(context) {
  const { store } = context;
  const mode = radioField({
    name: 'target-mode', label: 'Asked of each module type', path: 'target.mode',
    choices: [['fill', 'Fill the roof: how much fits'], ['size', 'Meet a size: how many modules it takes']],
    read: ({ doc }) => doc.target.mode,
    commit: (value) => store.run('Change the question', setTarget({ patch: asked(store.state, /** @type {Target['mode']} */ (value)) })),
  });
  const size = textField({
    name: 'target-size', label: 'Size', path: 'target.size_w', inputmode: 'decimal',
    unit: ({ doc }) => powerUnit(doc.site),
    hint: 'Rated power of all modules together, before losses.',
    read: ({ doc }) => kilowattsTyped(doc.target.size_w),
    commit: (text) => store.run('Change size', setTarget({ patch: { mode: 'size', size_w: parseKilowatts(text) } })),
  });
  const blocks = textField({
    name: 'target-blocks', label: 'At most', unit: 'blocks', path: 'target.max_blocks', inputmode: 'numeric', placeholder: 'no limit',
    hint: 'A block is rows that start and end together. The limit never costs a module: where so few blocks do not do, the fewest that do are used.',
    read: ({ doc }) => String(doc.target.max_blocks || ''),
    commit: (text) => store.run('Limit blocks', setTarget({ patch: { max_blocks: parseBlocks(text) } })),
  });
  const values = h('div', { class: 'p-group', 'data-testid': 'target-values', 'aria-live': 'polite' });
  /** @type {State['result']} */ let drawn = null;
  showForm(context, {
    id: 'target',
    title: 'Fill the roof or meet a size',
    body: [mode.element, h('div', { class: 'p-group p-pairs' }, size.element, blocks.element), values],
    update(state) {
      updateAll([mode, size, blocks])(state);
      const sized = state.doc.target.mode === 'size';
      size.element.hidden = blocks.element.hidden = !sized;
      values.hidden = !sized || valueParts(state.result).length === 0;
      if (state.result === drawn) return;
      drawn = state.result;
      values.replaceChildren(...valueParts(drawn));
    },
  });
}

/**
 * Which places were chosen, and whether others would be worth more.
 * @param {Result|null} result
 * @returns {HTMLElement[]}
 */
function valueParts(result) {
  const rows = (result?.candidates ?? []).flatMap(({ size }, i) => {
    const worth = size && valueOf(size);
    return worth ? [{ ...worth, letter: letterOf(i), blocks: plural(size.layout.tidiness.blocks, 'block') }] : [];
  });
  if (rows.length === 0) return [];
  return [
    h('p', {}, 'Of all places for so many modules, those worth the most together are taken:'),
    h('ul', {}, ...rows.map((row) => h('li', {}, h('b', {}, row.letter), ` worth ${row.value}, ${row.known}; ${row.blocks}`))),
    h('p', { class: 'p-hint' }, `Worth is counted in ${rows[0].words}.`),
  ];
}

/** The most that a limit of blocks can be, as the project file has it. */
const MOST_BLOCKS = 100;

/**
 * @param {string} text
 * @returns {number} 0, no limit, for nothing typed
 */
export function parseBlocks(text) {
  return text.trim() === '' ? 0 : parseNumberIn(text, { min: 0, max: MOST_BLOCKS, whole: true });
}

/** What is first proposed where no module fits yet: a usual size of a small house, common practice, no source. */
const FIRST_SIZE_W = 5000;

/**
 * The change of question. A size never typed starts at the largest whole
 * kilowatt that some candidate reaches on the roof.
 * @param {State} state
 * @param {Target['mode']} mode
 * @returns {Partial<Target>}
 */
export function asked({ doc, result }, mode) {
  if (mode !== 'size' || doc.target.size_w > 0) return { mode };
  const mostW = Math.max(0, ...(result?.candidates.map((c) => c.fill.pdc_w) ?? []));
  return { mode, size_w: Math.floor(mostW / 1000) * 1000 || FIRST_SIZE_W };
}
