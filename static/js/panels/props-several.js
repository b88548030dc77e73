// What can be done with several shapes at once.

/** @import {Context, Form} from './props.js' */

import { liveSelection, nameOf } from '../model/selection.js';
import { h, setText } from './dom.js';
import { itemActions } from './item-actions.js';

/** @param {Context} context @returns {Form} */
export function severalForm(context) {
  const items = () => liveSelection(context.store.state).items;
  const actions = itemActions(context, items);
  const names = h('p', { 'data-testid': 'selection-names' });
  return {
    title: () => `${items().length} selected`,
    elements: [names, actions.element],
    update(state) {
      setText(names, items().map((item) => nameOf(state.doc, item)).join(', '));
      actions.update(state);
    },
  };
}
