// What can be done with any selection: turn it, duplicate it, delete it.

/** @import {Doc, Item, Point} from '../model/types.js' */
/** @import {Field} from './field.js' */
/** @import {Context} from './props.js' */

import { deleteItems, duplicateItems, turnItems } from '../commands/index.js';
import { boundsOf, midpoint } from '../model/geometry.js';
import { outlineOf } from '../model/selection.js';
import { NOTHING } from '../model/store.js';
import { parseTurn } from '../model/units.js';
import { copiesOf } from '../modes/edits.js';
import { button, h } from './dom.js';
import { textField } from './field.js';

/** How far a copy lies from its original, so that both can be seen. */
const COPY_OFFSET_M = 0.5;

/**
 * @param {Context} context
 * @param {() => Item[]} items
 * @param {boolean} [turns] they can be turned; a tree looks the same all round
 * @returns {Field}
 */
export function itemActions(context, items, turns = true) {
  const turn = turnField(context, 'selection-turn', 'Turn by', items);
  return {
    element: h(
      'div',
      { class: 'p-group p-actions' },
      turns && turn.element,
      h(
        'div',
        { class: 'p-buttons' },
        button('Duplicate', () => duplicate(context, items()), { 'data-testid': 'selection-duplicate' }),
        button('Delete', () => remove(context, items()), { class: 'danger', 'data-testid': 'selection-delete' }),
      ),
    ),
    update: turn.update,
  };
}

/**
 * @param {Context} context
 * @param {string} name
 * @param {string} label
 * @param {() => Item[]} items
 * @returns {Field} empty again once the turn is made
 */
export function turnField({ store }, name, label, items) {
  return textField({
    name, label, unit: '°', hint: 'Clockwise seen from above; negative turns the other way.',
    read: () => '',
    commit(text) {
      const deltaDeg = parseTurn(text);
      const list = items();
      const about = centreOf(store.state.doc, list);
      if (about) store.run('Turn', turnItems({ items: list, deltaDeg, about }));
    },
  });
}

/**
 * @param {Doc} doc
 * @param {Item[]} items
 * @returns {Point|null} middle of what they cover; null when there is nothing
 */
export function centreOf(doc, items) {
  const points = items.flatMap((item) => outlineOf(doc, item));
  if (points.length === 0) return null;
  const { min, max } = boundsOf(points);
  return midpoint(min, max);
}

/**
 * @param {Context} context
 * @param {Item[]} items
 */
function duplicate({ store }, items) {
  const { doc } = store.state;
  const copies = copiesOf(doc, items);
  store.run('Duplicate', duplicateItems({ items, ids: copies.map((c) => c.id), by: { x_m: COPY_OFFSET_M, y_m: -COPY_OFFSET_M } }));
  store.setUi({ selection: { items: copies, corner: null, edge: null } });
}

/**
 * @param {Context} context
 * @param {Item[]} items
 */
function remove({ store }, items) {
  store.setUi({ selection: NOTHING });
  store.run('Delete', deleteItems({ items }));
}
