// The edges of a plane: what each one is, how long, and which faces the
// street.

/** @import {State} from '../model/store.js' */
/** @import {EdgeResult} from '../model/types.js' */
/** @import {Choice} from './words.js' */
/** @import {Field} from './field.js' */
/** @import {Context} from './props.js' */

import { faceEdge, setEdge } from '../commands/index.js';
import { formatLength } from '../model/units.js';
import { button, h, setAttribute, setText } from './dom.js';
import { checkField, selectField } from './field.js';
import { EDGE_KINDS, edgeWord } from './words.js';

/**
 * @param {Context} context
 * @param {string} id plane
 * @returns {Field}
 */
export function edgesSection(context, id) {
  const ring = context.store.state.doc.planes.find((p) => p.id === id)?.ring ?? [];
  const rows = ring.map((_, index) => edgeRow(context, id, index));
  const street = h('p', { class: 'p-hint' }, 'Street side: fire crews reach the roof from there; the rules keep a path free on it.');
  return {
    element: h(
      'details',
      { class: 'p-group p-edges', open: true },
      h('summary', {}, 'Edges'),
      h('ol', { class: 'p-edge-list' }, ...rows.map((row) => row.element)),
      street,
      h('p', { class: 'p-hint' }, 'Lengths are measured along the slope. A guess follows the drawing; pick a kind to overrule it.'),
    ),
    update(state) {
      street.hidden = !needsStreet(state);
      for (const row of rows) row.update(state);
    },
  };
}

/** @param {State} state */
function needsStreet(state) {
  return state.doc.rules.set === 'irc_r324';
}

/**
 * @param {Context} context
 * @param {string} id plane
 * @param {number} index of the corner the edge leaves
 * @returns {Field}
 */
function edgeRow({ store }, id, index) {
  const number = index + 1;
  /** @param {State} state */
  const plane = (state) => state.doc.planes.find((p) => p.id === id);
  const pick = button(String(number), () => store.setUi({ selection: { items: [{ type: 'plane', id }], corner: null, edge: index } }), {
    class: 'p-edge-number', 'aria-label': `Show edge ${number} on the drawing`, 'data-testid': `edge-${number}-pick`,
  });
  const kind = selectField({
    name: `edge-${number}-kind`, label: `Kind of edge ${number}`, path: `planes.ring[${index}].edge`, bare: true,
    choices: (state) => kindChoices(piecesOf(state, id, index)),
    read: (state) => plane(state)?.ring[index]?.edge ?? '',
    commit: (edge) => store.run('Change edge kind', setEdge({ id, index, patch: { edge } })),
  });
  const street = checkField({
    name: `edge-${number}-street`, label: 'Street side', path: `planes.ring[${index}].street`, bare: true,
    read: (state) => plane(state)?.ring[index]?.street ?? false,
    commit: (on) => store.run('Mark street side', setEdge({ id, index, patch: { street: on } })),
  });
  const eave = button('Faces this way', () => store.run('Change direction', faceEdge({ id, index })), {
    class: 'quiet', 'data-testid': `edge-${number}-face`, title: 'Make this the low edge: the plane falls towards it',
  });
  const length = h('span', { class: 'num', 'data-testid': `edge-${number}-length` });
  const split = h('span', { class: 'p-hint p-edge-split', 'data-testid': `edge-${number}-split` });
  const element = h('li', { class: 'p-edge' }, pick, kind.element, length, split, street.element, eave);
  return {
    element,
    update(state) {
      const pieces = piecesOf(state, id, index);
      const { selection } = state.ui;
      kind.update(state);
      street.update(state);
      street.element.hidden = !needsStreet(state);
      eave.hidden = selection.edge !== index;
      setAttribute(element, 'aria-current', selection.edge === index ? 'true' : null);
      setText(length, lengthWords(pieces, state));
      setText(split, splitWords(pieces, state));
    },
  };
}

/**
 * @param {State} state
 * @param {string} id
 * @param {number} index
 * @returns {EdgeResult[]}
 */
function piecesOf(state, id, index) {
  return state.result?.planes.find((p) => p.id === id)?.edges.filter((edge) => edge.index === index) ?? [];
}

/**
 * @param {EdgeResult[]} pieces
 * @returns {Choice[]}
 */
export function kindChoices(pieces) {
  const guesses = [...new Set(pieces.filter((piece) => piece.guessed).map((piece) => edgeWord(piece.kind)))];
  /** @type {Choice} */
  const guess = ['', guesses.length > 0 ? `${guesses.join(' and ')} (guessed)` : 'guess it'];
  return [guess, ...Object.entries(EDGE_KINDS).map(([kind, gloss]) => /** @type {Choice} */ ([kind, `${edgeWord(kind)}: ${gloss}`]))];
}

/**
 * @param {EdgeResult[]} pieces
 * @param {State} state
 */
function lengthWords(pieces, { doc }) {
  if (pieces.length === 0) return '–';
  return formatLength(pieces.reduce((sum, piece) => sum + piece.length_m, 0), doc.site.units);
}

/**
 * @param {EdgeResult[]} pieces
 * @param {State} state
 * @returns {string} '' for an edge of one piece
 */
function splitWords(pieces, { doc }) {
  if (pieces.length < 2) return '';
  return pieces.map((piece) => `${edgeWord(piece.kind)} ${formatLength(piece.length_m, doc.site.units)}`).join(', ');
}
