// What things cost beside the prices of the datasheets.

/** @import {State} from '../model/store.js' */
/** @import {Cost, Product} from '../model/types.js' */
/** @import {Facts} from './parts.js' */
/** @import {Context} from './props.js' */

import { setCost } from '../commands/index.js';
import { h } from './dom.js';
import { textField } from './field.js';
import { showForm } from './form-dialog.js';
import { facts, pairs, part } from './parts.js';
import { figure } from './product-words.js';
import { named, plainField } from './quantities.js';
import { letterOf, trim } from './words.js';

const CURRENCY_CHARACTERS = 12;
const MOST = 1e9;

/** @param {Context} context */
export function openCost(context) {
  const { store } = context;
  /** @param {string} label @param {Partial<Cost>} patch */
  const change = (label, patch) => store.run(label, setCost({ patch }));
  /** @param {string} name @param {string} label @param {'rest_per_module'|'rest_fixed'} member @param {string} hint */
  const amount = (name, label, member, hint) => plainField({
    name, label, hint, path: `cost.${member}`, min: 0, max: MOST, digits: 2, blank: true, placeholder: () => 'not known',
    read: ({ doc }) => doc.cost[member],
    commit: (value) => change('Change cost', { [member]: value }),
  });
  const parts = [
    pairs([
      textField({
        name: 'cost-currency', label: 'Currency', path: 'cost.currency', placeholder: 'none',
        hint: 'Shown after every amount, such as EUR or dollars.',
        read: ({ doc }) => doc.cost.currency,
        commit: named('Currency', (text) => change('Change currency', { currency: parseCurrency(text) })),
      }),
    ]),
    pairs([
      amount('cost-module', 'Other cost of each module', 'rest_per_module', 'Rails, clamps, work: all that grows with their number.'),
      amount('cost-fixed', 'Other cost of the project', 'rest_fixed', 'Permit, scaffold, travel: all that does not.'),
    ]),
    part('Prices in this project, from the catalog', [facts('cost-prices', priceFacts, '')]),
  ];
  showForm(context, {
    id: 'cost',
    title: 'Cost',
    body: [
      h('p', { class: 'p-hint' }, 'All amounts in one currency, your own. Blank means not known: a total then says what it leaves out.'),
      ...parts.map((p) => p.element),
    ],
    update: (state) => parts.forEach((p) => p.update(state)),
  });
}

/** @param {State} state @returns {Facts} the prices of the modules and of the products that the kind of wiring uses */
export function priceFacts({ doc }) {
  const { kind, inverter, micro, optimiser } = doc.wiring;
  /** @type {Record<string, (Product|null)[]>} */
  const used = { string: [inverter], micro: [micro], optimiser: [inverter, optimiser] };
  /** @param {Product|null} product @param {string} without */
  const words = (product, without) => {
    const price = product ? figure(product, 'price') : 0;
    if (price) return [trim(price, 2), doc.cost.currency].filter(Boolean).join(' ');
    return product ? 'not given' : without;
  };
  return [
    ...doc.candidates.map((c, i) => /** @type {const} */ ([`${letterOf(i)} ${c.label}`, words(c.datasheet, 'no datasheet')])),
    ...(used[kind] ?? []).flatMap((product) => (product ? [/** @type {const} */ ([product.label, words(product, '')])] : [])),
  ];
}

/** @param {string} text @returns {string} */
export function parseCurrency(text) {
  const word = text.trim();
  const length = [...word].length;
  if (length > CURRENCY_CHARACTERS) throw new Error(`“${word}” has ${length} characters; 0 to ${CURRENCY_CHARACTERS} are allowed.`);
  return word;
}
