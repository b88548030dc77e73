// Properties of a tree and of a neighbouring building.

/** @import {State} from '../model/store.js' */
/** @import {Building, Tree} from '../model/types.js' */
/** @import {Field} from './field.js' */
/** @import {Context, Form} from './props.js' */
/** @import {Choice} from './words.js' */

import { setBuilding, setTree } from '../commands/index.js';
import { CROWN_M, buildingOf, treeOf } from '../model/around.js';
import { formatLength } from '../model/units.js';
import { h } from './dom.js';
import { checkField, selectField, textField } from './field.js';
import { itemActions } from './item-actions.js';
import { coordinateField, lengthField, parseLabel, parseNumberIn } from './measures.js';
import { trim } from './words.js';

/** Heights that a document may hold. */
const BASE_MOST_M = 100;
const TOP_MOST_M = 150;
const LEAST_M = 0.01;

/** @type {readonly Choice[]} */
const CROWNS = Object.freeze([
  ['round', 'Round'],
  ['column', 'Column'],
]);

const HEIGHT_HINT = 'Heights are measured from the same ground as the eave height of the planes. From below, with a ruler held out or from drawings; the seller stays on the ground.';

/** @param {Context} context @param {string} id @returns {Form} */
export function treeForm(context, id) {
  /** @param {State} state */
  const read = (state) => treeOf(state.doc, id);
  const groups = [whatTree(context, id, read), heights(context, read, 'Crown begins at', 'Top', (label, patch) => change(context, id, label, patch)), leaves(context, id, read)];
  return formOf(context, { type: 'tree', id }, groups, read);
}

/** @param {Context} context @param {string} id @returns {Form} */
export function buildingForm(context, id) {
  /** @param {State} state */
  const read = (state) => buildingOf(state.doc, id);
  const name = textField({
    name: 'building-label', label: 'Name', path: 'surroundings.buildings.label', wide: true,
    read: (state) => read(state)?.label ?? '',
    commit: (text) => context.store.run('Name building', setBuilding({ id, patch: { label: parseLabel(text, 60) } })),
  });
  const high = heights(context, read, 'Begins at', 'Top', (label, patch) => context.store.run(label, setBuilding({ id, patch })));
  return formOf(context, { type: 'building', id }, [[name], high], read);
}

/**
 * @param {Context} context
 * @param {import('../model/types.js').Item} item
 * @param {Field[][]} groups
 * @param {(state: State) => {label: string}|undefined} read
 * @returns {Form}
 */
function formOf(context, item, groups, read) {
  const actions = itemActions(context, () => [item], item.type !== 'tree');
  const all = [...groups.flat(), actions];
  return {
    title: (state) => read(state)?.label || (item.type === 'tree' ? 'Tree' : 'Building'),
    elements: [
      ...groups.map((fields) => h('div', { class: 'p-group p-pairs' }, ...fields.map((f) => f.element))),
      h('p', { class: 'p-hint' }, HEIGHT_HINT),
      actions.element,
    ],
    update(state) {
      if (read(state)) for (const field of all) field.update(state);
    },
  };
}

/** @param {Context} context @param {string} id @param {string} label of the undo step @param {Partial<Omit<Tree, 'id'>>} patch */
function change({ store }, id, label, patch) {
  store.run(label, setTree({ id, patch }));
}

/** @param {Context} context @param {string} id @param {(state: State) => Tree|undefined} read @returns {Field[]} */
function whatTree(context, id, read) {
  const place = /** @type {const} */ ([['x_m', 'Middle, east'], ['y_m', 'Middle, north']]).map(([axis, label]) =>
    coordinateField(context.store, {
      name: `tree-${axis[0]}`, label, path: `surroundings.trees.${axis}`, maxM: 5000,
      read: (state) => read(state)?.[axis],
      commit: (m) => change(context, id, 'Move tree', { [axis]: m }),
    }),
  );
  return [
    textField({
      name: 'tree-label', label: 'Name', path: 'surroundings.trees.label', wide: true,
      read: (state) => read(state)?.label ?? '',
      commit: (text) => change(context, id, 'Name tree', { label: parseLabel(text, 60) }),
    }),
    lengthField(context.store, {
      name: 'tree-across', label: 'Crown across', path: 'surroundings.trees.radius_m', minM: 2 * CROWN_M.min, maxM: 2 * CROWN_M.max,
      read: (state) => (read(state)?.radius_m ?? 0) * 2,
      commit: (m) => change(context, id, 'Change crown', { radius_m: m / 2 }),
    }),
    selectField({
      name: 'tree-crown', label: 'Form', path: 'surroundings.trees.crown', choices: CROWNS,
      read: (state) => read(state)?.crown ?? 'round',
      commit: (crown) => change(context, id, 'Change crown', { crown: /** @type {Tree['crown']} */ (crown) }),
    }),
    ...place,
  ];
}

/**
 * @param {Context} context
 * @param {(state: State) => Tree|Building|undefined} read
 * @param {string} low
 * @param {string} high
 * @param {(label: string, patch: {base_m: number}|{top_m: number}) => void} take
 * @returns {Field[]}
 */
function heights({ store }, read, low, high, take) {
  return [
    lengthField(store, {
      name: 'around-base', label: low, path: 'surroundings.base_m', minM: 0, maxM: BASE_MOST_M,
      read: (state) => read(state)?.base_m,
      commit(m) {
        const top = read(store.state)?.top_m ?? TOP_MOST_M;
        if (m > top - LEAST_M) throw new Error(`It must begin below its top, which is at ${formatLength(top, store.state.doc.site.units)}.`);
        take('Change height', { base_m: m });
      },
    }),
    lengthField(store, {
      name: 'around-top', label: high, path: 'surroundings.top_m', minM: 0, maxM: TOP_MOST_M,
      read: (state) => read(state)?.top_m,
      commit(m) {
        const base = read(store.state)?.base_m ?? 0;
        if (m < base + LEAST_M) throw new Error(`The top must lie above where it begins, which is at ${formatLength(base, store.state.doc.site.units)}.`);
        take('Change height', { top_m: m });
      },
    }),
  ];
}

/** @param {Context} context @param {string} id @param {(state: State) => Tree|undefined} read @returns {Field[]} */
function leaves(context, id, read) {
  /** @param {'leaf_on_pass'|'leaf_off_pass'} part @param {string} name @param {string} label @param {string} hint */
  const share = (part, name, label, hint) =>
    textField({
      name, label, unit: '%', hint, path: `surroundings.trees.${part}`, inputmode: 'decimal',
      read: (state) => trim((read(state)?.[part] ?? 0) * 100, 1),
      commit: (text) => change(context, id, 'Change leaves', { [part]: parseNumberIn(text, { min: 0, max: 100 }) / 100 }),
    });
  const off = share('leaf_off_pass', 'tree-leaf-off', 'Light through, bare', 'Usual: 60 %.');
  return [
    checkField({
      name: 'tree-evergreen', label: 'Keeps its leaves or needles all year', path: 'surroundings.trees.evergreen',
      read: (state) => read(state)?.evergreen ?? false,
      commit: (evergreen) => change(context, id, 'Change leaves', { evergreen }),
    }),
    share('leaf_on_pass', 'tree-leaf-on', 'Light through, in leaf', 'Usual: 20 %.'),
    {
      element: off.element,
      update(state) {
        off.element.hidden = read(state)?.evergreen ?? false;
        off.update(state);
      },
    },
  ];
}
