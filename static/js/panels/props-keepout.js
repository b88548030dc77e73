// Properties of one keep-out.

/** @import {State} from '../model/store.js' */
/** @import {KeepOut} from '../model/types.js' */
/** @import {Field} from './field.js' */
/** @import {Context, Form} from './props.js' */

import { setKeepOut } from '../commands/index.js';
import { inRoofPlane } from '../model/geometry.js';
import { parseBearing } from '../model/units.js';
import { h, setText } from './dom.js';
import { radioField, selectField, textField } from './field.js';
import { itemActions } from './item-actions.js';
import { coordinateField, lengthField, parseLabel } from './measures.js';
import { KEEP_OUT_KINDS, SHAPES, keepOutName, trim } from './words.js';

/** @param {Context} context @param {string} id @returns {Form} */
export function keepOutForm(context, id) {
  const { store } = context;
  const first = store.state.doc.keep_outs.find((k) => k.id === id);
  const what = whatFields(context, id);
  const size = sizeFields(context, id, first?.shape);
  const free = freeFields(context, id, first?.kind);
  const actions = itemActions(context, () => [{ type: 'keepout', id }]);
  const measured = h('p', { class: 'p-hint', 'data-testid': 'keepout-measured' });
  const all = [...what, ...size, ...free, actions];
  return {
    title: (state) => {
      const keepOut = keepOutOf(state, id);
      return keepOut ? keepOutName(state.doc, keepOut) : '';
    },
    elements: [
      h('div', { class: 'p-group p-pairs' }, ...what.map((field) => field.element)),
      h('div', { class: 'p-group p-pairs' }, ...size.map((field) => field.element), measured),
      h('div', { class: 'p-group p-pairs' }, ...free.map((field) => field.element)),
      actions.element,
    ],
    update(state) {
      const keepOut = keepOutOf(state, id);
      if (!keepOut) return;
      for (const field of all) field.update(state);
      setText(measured, inRoofPlane(keepOut) ? 'Sizes are measured in the slope of the roof.' : 'Sizes are measured level, as seen from above.');
    },
  };
}

/** @param {State} state @param {string} id @returns {KeepOut|undefined} */
function keepOutOf(state, id) {
  return state.doc.keep_outs.find((keepOut) => keepOut.id === id);
}

/**
 * @param {Context} context
 * @param {string} id
 * @param {string} label of the undo step
 * @param {Partial<Omit<KeepOut, 'id'>>} patch
 */
function change({ store }, id, label, patch) {
  store.run(label, setKeepOut({ id, patch }));
}

/** @param {Context} context @param {string} id @returns {Field[]} */
function whatFields(context, id) {
  return [
    textField({
      name: 'keepout-label', label: 'Name', path: 'keep_outs.label', wide: true,
      read: (state) => keepOutOf(state, id)?.label ?? '',
      commit: (text) => change(context, id, 'Name keep-out', { label: parseLabel(text, 60) }),
    }),
    selectField({
      name: 'keepout-kind', label: 'What it is', path: 'keep_outs.kind', choices: KEEP_OUT_KINDS,
      read: (state) => keepOutOf(state, id)?.kind ?? 'other',
      commit: (kind) => change(context, id, 'Change keep-out', { kind: /** @type {KeepOut['kind']} */ (kind) }),
    }),
    selectField({
      name: 'keepout-shape', label: 'Shape', path: 'keep_outs.shape', choices: SHAPES,
      read: (state) => keepOutOf(state, id)?.shape ?? 'rect',
      commit: (shape) => change(context, id, 'Change shape', { shape: /** @type {KeepOut['shape']} */ (shape) }),
    }),
  ];
}

/** @param {Context} context @param {string} id @param {KeepOut['shape']|undefined} shape @returns {Field[]} */
function sizeFields(context, id, shape) {
  if (shape === 'polygon') return [];
  const centre = centreFields(context, id);
  if (shape === 'circle') return [...circleFields(context, id), ...centre];
  return [...rectFields(context, id), ...centre, turnedField(context, id)];
}

/** @param {Context} context @param {string} id @returns {Field[]} */
function circleFields(context, id) {
  return [
    lengthField(context.store, {
      name: 'keepout-radius', label: 'Radius', path: 'keep_outs.radius_m', minM: 0.005, maxM: 50,
      read: (state) => keepOutOf(state, id)?.radius_m,
      commit: (m) => change(context, id, 'Change radius', { radius_m: m }),
    }),
  ];
}

/** @param {Context} context @param {string} id @returns {Field[]} */
function rectFields(context, id) {
  return [
    lengthField(context.store, {
      name: 'keepout-width', label: 'Width', path: 'keep_outs.width_m', minM: 0.01, maxM: 100,
      read: (state) => keepOutOf(state, id)?.width_m,
      commit: (m) => change(context, id, 'Change width', { width_m: m }),
    }),
    lengthField(context.store, {
      name: 'keepout-depth', label: 'Depth', path: 'keep_outs.depth_m', minM: 0.01, maxM: 100,
      read: (state) => keepOutOf(state, id)?.depth_m,
      commit: (m) => change(context, id, 'Change depth', { depth_m: m }),
    }),
  ];
}

/** @param {Context} context @param {string} id @returns {Field} */
function turnedField(context, id) {
  return textField({
    name: 'keepout-turn', label: 'Turned to', unit: '°', path: 'keep_outs.turn_deg', wide: true,
    hint: 'Clockwise from north; roof windows and shade from straight up the slope.',
    read: (state) => trim(keepOutOf(state, id)?.turn_deg ?? 0, 2),
    commit: (text) => change(context, id, 'Turn keep-out', { turn_deg: parseBearing(text) }),
  });
}

/** @param {Context} context @param {string} id @returns {Field[]} */
function centreFields(context, id) {
  return /** @type {const} */ ([['x_m', 'Centre, east'], ['y_m', 'Centre, north']]).map(([axis, label]) =>
    coordinateField(context.store, {
      name: `keepout-center-${axis[0]}`, label, path: `keep_outs.center.${axis}`, maxM: 5000,
      read: (state) => keepOutOf(state, id)?.center?.[axis],
      commit(m) {
        const center = keepOutOf(context.store.state, id)?.center;
        if (center) change(context, id, 'Move keep-out', { center: { ...center, [axis]: m } });
      },
    }),
  );
}

/** @param {Context} context @param {string} id @param {KeepOut['kind']|undefined} kind @returns {Field[]} */
function freeFields(context, id, kind) {
  const clearance = lengthField(context.store, {
    name: 'keepout-clearance', label: 'Keep free around it', path: 'keep_outs.clearance_m', minM: 0, maxM: 10,
    read: (state) => keepOutOf(state, id)?.clearance_m,
    commit: (m) => change(context, id, 'Change clearance', { clearance_m: m }),
  });
  if (kind === 'shade') return [shadeField(context, id), clearance];
  const height = lengthField(context.store, {
    name: 'keepout-height', label: 'Height above the roof', hint: kind === 'roof_window' ? 'A roof window casts no shade.' : 'Casts shade on the roof from this height; 0 casts none.', path: 'keep_outs.height_m', minM: 0, maxM: 100,
    read: (state) => keepOutOf(state, id)?.height_m,
    commit: (m) => change(context, id, 'Change height', { height_m: m }),
  });
  return [clearance, height];
}

/** @param {Context} context @param {string} id @returns {Field} */
function shadeField(context, id) {
  return radioField({
    name: 'keepout-shade', label: 'Modules in this shade', path: 'keep_outs.shade',
    choices: [['last_resort', 'Last resort: used last and counted apart'], ['off_limits', 'Off limits: none here']],
    read: (state) => keepOutOf(state, id)?.shade ?? '',
    commit: (shade) => change(context, id, 'Change shade', { shade: /** @type {KeepOut['shade']} */ (shade) }),
  });
}
