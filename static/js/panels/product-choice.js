// Choosing a product from the catalog. The choice is a copy kept with the
// project; a later change of the catalog changes nothing until it is picked
// again.

/** @import {Product} from '../model/types.js' */
/** @import {State} from '../model/store.js' */
/** @import {Field} from './field.js' */
/** @import {Facts} from './parts.js' */
/** @import {ProductList} from './products.js' */
/** @import {Context} from './props.js' */

import { sameFigures } from './catalog.js';
import { button, h } from './dom.js';
import { selectField } from './field.js';
import { facts, group, note } from './parts.js';

/** The choice that stands for a copy the catalog has no longer, or has otherwise. */
const KEPT = 'kept copy';

/**
 * @param {Product|null} chosen
 * @param {readonly Product[]} list of the catalog
 * @returns {{value: string, choices: [string, string][]}} what a list of choices shows
 */
export function productChoices(chosen, list) {
  const listed = chosen && list.some((p) => p.id === chosen.id && sameFigures(p, chosen));
  /** @type {[string, string][]} */
  const kept = chosen && !listed ? [[KEPT, `${chosen.label} (copy in this project)`]] : [];
  return {
    value: chosen === null ? '' : listed ? chosen.id : KEPT,
    choices: [['', 'Not chosen'], ...kept, ...list.map((p) => /** @type {[string, string]} */ ([p.id, p.label]))],
  };
}

/**
 * @param {Product|null} chosen
 * @param {readonly Product[]} list
 * @returns {string} '' while the copy is the catalog's
 */
export function copyWords(chosen, list) {
  if (!chosen || list.some((p) => p.id === chosen.id && sameFigures(p, chosen))) return '';
  return list.some((p) => p.id === chosen.id)
    ? 'The catalog has other figures for it now. The copy in this project holds until it is picked again.'
    : 'The catalog has it no longer. The copy in this project holds.';
}

/**
 * @param {Context} context
 * @param {{name: string, label: string, path: string, list: ProductList, read: (state: State) => Product|null,
 *   commit: (product: Product|null) => void, words: (product: Product) => Facts, when: (state: State) => boolean}} parts
 * @returns {Field} the choice with the figures that matter
 */
export function productField(context, { name, label, path, list: kind, read, commit, words, when }) {
  const { store, products } = context;
  /** @type {Product[]|null} */ let list = null;
  let fault = '';
  let asked = false;
  const select = selectField({
    name, label, path, wide: true,
    choices: (state) => productChoices(read(state), list ?? []).choices,
    read: (state) => productChoices(read(state), list ?? []).value,
    commit(id) {
      if (id !== KEPT) commit(list?.find((p) => p.id === id) ?? null);
    },
  });
  const again = button('Ask again', ask, { class: 'quiet d-back', 'data-testid': `${name}-again` });
  const trouble = h('p', { class: 'problem d-trouble', 'data-testid': `${name}-fault`, 'aria-live': 'polite' });
  const whole = group(h('div', { class: 'p-group' }), [
    select, trouble, again,
    note(`${name}-copy`, (state) => (list ? copyWords(read(state), list) : '')),
    note(`${name}-invented`, (state) => (read(state)?.invented === true ? 'Invented product, for trying out.' : '')),
    facts(`${name}-figures`, (state) => {
      const product = read(state);
      return product ? words(product) : [];
    }),
  ], when);

  async function ask() {
    asked = true;
    fault = '';
    try {
      list = await products.list(kind);
    } catch (err) {
      fault = err instanceof Error ? err.message : String(err);
    }
    draw(store.state);
  }

  /** @param {State} state */
  function draw(state) {
    whole.update(state);
    trouble.textContent = fault;
    again.hidden = fault === '';
  }

  return {
    element: whole.element,
    update(state) {
      if (!asked && when(state)) void ask();
      draw(state);
    },
  };
}
