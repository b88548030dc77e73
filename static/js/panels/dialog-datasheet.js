// The question before a module loses its datasheet.

/** @import {Candidate, Site} from '../model/types.js' */
/** @import {Retyped} from './catalog.js' */
/** @import {Context} from './props.js' */

import { lengthText } from '../model/units.js';
import { button, h } from './dom.js';
import { showDialog } from './dialog.js';

/** @typedef {Pick<Candidate, 'pmax_w'|'length_m'|'width_m'>} Figures */

/**
 * @param {Figures} candidate
 * @param {Site['units']} units
 * @returns {string} '400 W, 1.722 m × 1.134 m'
 */
function figuresWords({ pmax_w: watts, length_m: length, width_m: width }, units) {
  return `${watts} W, ${lengthText(length, units)} × ${lengthText(width, units)}`;
}

/**
 * @param {string} letter
 * @param {Candidate} candidate
 * @param {Retyped} patch
 * @param {Site['units']} units
 * @returns {string[]} what the change does
 */
export function questionWords(letter, candidate, patch, units) {
  return [
    `The datasheet of ${letter} is of ${candidate.label}: ${figuresWords(candidate, units)}. With ${figuresWords({ ...candidate, ...patch }, units)} it is another module, and no other figure of the datasheet can be trusted for it.`,
    `Without a datasheet ${letter} is counted and laid out, but its wiring, loads, warranty and price are not worked out. A module with all its figures can be entered in the catalog instead.`,
  ];
}

/**
 * @param {Context} context
 * @param {{letter: string, candidate: Candidate, patch: Retyped, take: () => void}} change take makes it
 */
export function askDatasheet({ store, dialogs }, { letter, candidate, patch, take }) {
  const change = button('Change without datasheet', () => {
    shown.close();
    take();
  }, { 'data-testid': 'datasheet-drop' });
  const shown = showDialog(dialogs, {
    id: 'datasheet',
    title: 'This takes the datasheet away',
    body: questionWords(letter, candidate, patch, store.state.doc.site.units).map((text) => h('p', {}, text)),
    actions: [change],
    closeLabel: 'Keep the datasheet',
  });
}
