// Properties of one corner of an outline.

/** @import {Doc, Item, Point} from '../model/types.js' */
/** @import {Context, Form} from './props.js' */

import { deleteCorner, moveCorner } from '../commands/index.js';
import { nameOf, outlineOf } from '../model/selection.js';
import { button, h } from './dom.js';
import { coordinateField } from './measures.js';

/** @param {Context} context @param {Item} item @param {number} index @returns {Form} */
export function cornerForm({ store }, item, index) {
  const fields = /** @type {const} */ ([['x_m', 'East'], ['y_m', 'North']]).map(([axis, label]) =>
    coordinateField(store, {
      name: `corner-${axis[0]}`, label, path: `corner.${axis}`, maxM: 5000,
      read: (state) => cornerOf(state.doc, item, index)?.[axis],
      commit(m) {
        const at = cornerOf(store.state.doc, item, index);
        if (at) store.run('Move corner', moveCorner({ ...item, index, to: { x_m: at.x_m, y_m: at.y_m, [axis]: m } }));
      },
    }),
  );
  const whole = () => store.setUi({ selection: { items: [item], corner: null, edge: null } });
  const remove = button('Delete corner', () => {
    whole();
    store.run('Delete corner', deleteCorner({ ...item, index }));
  }, { class: 'danger', 'data-testid': 'corner-delete' });
  return {
    title: (state) => `Corner ${index + 1} of ${nameOf(state.doc, item)}`,
    elements: [
      h('p', { class: 'p-hint' }, 'From the origin of the drawing. Corners of other planes on the same spot move along.'),
      h('div', { class: 'p-group p-pairs' }, ...fields.map((field) => field.element)),
      h('div', { class: 'p-group p-buttons' }, button('The whole shape', whole, { 'data-testid': 'corner-whole' }), remove),
    ],
    update(state) {
      for (const field of fields) field.update(state);
      remove.disabled = ringOf(state.doc, item).length <= 3;
    },
  };
}

/** @param {Doc} doc @param {Item} item @returns {Point[]} */
function ringOf(doc, item) {
  if (item.type === 'keepout') return doc.keep_outs.find((k) => k.id === item.id)?.points ?? [];
  return outlineOf(doc, item);
}

/** @param {Doc} doc @param {Item} item @param {number} index @returns {Point|undefined} */
export function cornerOf(doc, item, index) {
  return ringOf(doc, item)[index];
}
