// The question asked of every candidate.

/** @import {State} from '../model/store.js' */
/** @import {Target} from '../model/types.js' */
/** @import {Context} from './props.js' */

import { setTarget } from '../commands/index.js';
import { h } from './dom.js';
import { radioField, textField, updateAll } from './field.js';
import { showForm } from './form-dialog.js';
import { kilowattsTyped, parseKilowatts } from './watts.js';
import { powerUnit } from './words.js';

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
  showForm(context, {
    id: 'target',
    title: 'Fill the roof or meet a size',
    body: [mode.element, h('div', { class: 'p-group' }, size.element)],
    update(state) {
      updateAll([mode, size])(state);
      size.element.hidden = state.doc.target.mode !== 'size';
    },
  });
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
