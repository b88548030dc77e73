// Properties of one roof plane.

/** @import {State} from '../model/store.js' */
/** @import {Plane, PlaneResult} from '../model/types.js' */
/** @import {Field} from './field.js' */
/** @import {Context, Form} from './props.js' */

import { setPlane } from '../commands/index.js';
import { compassPoint, degToRiseIn12, formatArea, formatLength, parseBearing, parsePitch } from '../model/units.js';
import { button, h } from './dom.js';
import { edgesSection } from './edges.js';
import { checkField, fact, selectField, textField } from './field.js';
import { itemActions } from './item-actions.js';
import { lengthField, parseLabel, parseNumberIn } from './measures.js';
import { COVERINGS, FLAT_UNDER_DEG, TURNS, planeName, trim } from './words.js';

/**
 * @param {Context} context
 * @param {string} id
 * @returns {Form}
 */
export function planeForm(context, id) {
  const edges = edgesSection(context, id);
  const groups = [nameFields(context, id), slopeFields(context, id), moduleFields(context, id), buildFields(context, id)];
  const areas = areaFacts(id);
  const actions = itemActions(context, () => [{ type: 'plane', id }]);
  const flat = h('p', { class: 'p-hint', 'data-testid': 'plane-flat' }, 'Nearly flat: the direction only turns the rows.');
  const [names, slope, modules, build] = groups.map((fields) => fields.map((field) => field.element));
  const eave = button('Pick the eave edge', context.pickEave, { class: 'p-wide', 'data-testid': 'plane-pick-eave' });
  return {
    title: (state) => {
      const plane = planeOf(state, id);
      return plane ? planeName(state.doc, plane) : '';
    },
    elements: [
      h('div', { class: 'p-group' }, ...names),
      h('div', { class: 'p-group p-pairs' }, ...slope, flat, eave),
      h('dl', { class: 'p-facts' }, ...areas.map((field) => field.element)),
      h('div', { class: 'p-group p-pairs' }, ...modules),
      edges.element,
      h('div', { class: 'p-group p-pairs' }, ...build),
      actions.element,
    ],
    update(state) {
      const plane = planeOf(state, id);
      if (!plane) return;
      for (const field of [...groups.flat(), ...areas, edges, actions]) field.update(state);
      flat.hidden = plane.pitch_deg >= FLAT_UNDER_DEG;
    },
  };
}

/**
 * @param {State} state
 * @param {string} id
 * @returns {Plane|undefined}
 */
export function planeOf(state, id) {
  return state.doc.planes.find((plane) => plane.id === id);
}

/**
 * @param {Context} context
 * @param {string} id
 * @param {string} label of the undo step
 * @param {Partial<Omit<Plane, 'id'>>} patch
 */
function change({ store }, id, label, patch) {
  store.run(label, setPlane({ id, patch }));
}

/**
 * @param {Context} context
 * @param {string} id
 * @returns {Field[]}
 */
function nameFields(context, id) {
  return [
    textField({
      name: 'plane-label', label: 'Name', path: 'planes.label', wide: true,
      read: (state) => planeOf(state, id)?.label ?? '',
      commit: (text) => change(context, id, 'Name plane', { label: parseLabel(text, 60) }),
    }),
    checkField({
      name: 'plane-use', label: 'Put modules on this plane', path: 'planes.use',
      read: (state) => planeOf(state, id)?.use ?? false,
      commit: (use) => change(context, id, use ? 'Use plane' : 'Leave plane out', { use }),
    }),
  ];
}

/**
 * @param {Context} context
 * @param {string} id
 * @returns {Field[]}
 */
function slopeFields(context, id) {
  /** @param {State} state */
  const pitch = (state) => planeOf(state, id)?.pitch_deg ?? 0;
  return [
    textField({
      name: 'plane-pitch', label: 'Pitch', unit: '°', path: 'planes.pitch_deg', inputmode: 'decimal',
      read: (state) => trim(pitch(state), 2),
      commit: (text) => change(context, id, 'Change pitch', { pitch_deg: parsePitch(text) }),
    }),
    textField({
      name: 'plane-rise', label: 'or rise', unit: 'in 12', inputmode: 'decimal',
      read: (state) => trim(degToRiseIn12(pitch(state)), 2),
      commit: (text) => change(context, id, 'Change pitch', { pitch_deg: parseRise(text) }),
    }),
    textField({
      name: 'plane-azimuth', label: 'Faces', unit: (state) => `° ${compassPoint(planeOf(state, id)?.azimuth_deg ?? 0)}`, hint: 'From north, clockwise.', path: 'planes.azimuth_deg',
      read: (state) => trim(planeOf(state, id)?.azimuth_deg ?? 0, 2),
      commit: (text) => change(context, id, 'Change direction', { azimuth_deg: parseBearing(text) }),
    }),
    lengthField(context.store, {
      name: 'plane-eave-height', label: 'Eave height', path: 'planes.eave_height_m', minM: 0, maxM: 200,
      read: (state) => planeOf(state, id)?.eave_height_m,
      commit: (m) => change(context, id, 'Change eave height', { eave_height_m: m }),
    }),
  ];
}

/** The rise in 12 at 75 degrees, the steepest pitch. */
const MOST_RISE = 44.78;

/**
 * @param {string} text '6', or '6:12' and the like
 * @returns {number} degrees
 */
export function parseRise(text) {
  if (/12\s*$/.test(text) && /[:/]|in/.test(text)) return parsePitch(text);
  return parsePitch(`${parseNumberIn(text, { min: 0, max: MOST_RISE })}:12`);
}

/**
 * @param {Context} context
 * @param {string} id
 * @returns {Field[]}
 */
function moduleFields(context, id) {
  return [
    selectField({
      name: 'plane-turn', label: 'Modules lie', path: 'planes.turn', choices: TURNS, wide: true,
      read: (state) => planeOf(state, id)?.turn ?? 'portrait',
      commit: (turn) => change(context, id, 'Turn modules', { turn: /** @type {Plane['turn']} */ (turn) }),
    }),
    textField({
      name: 'plane-limit', label: 'At most', unit: 'modules', path: 'planes.module_limit', inputmode: 'numeric', placeholder: 'no limit',
      read: (state) => String(planeOf(state, id)?.module_limit ?? ''),
      commit: (text) => change(context, id, 'Limit modules', { module_limit: parseLimit(text) }),
    }),
  ];
}

/**
 * @param {string} text
 * @returns {number|null} null, no limit, for nothing typed
 */
export function parseLimit(text) {
  return text.trim() === '' ? null : parseNumberIn(text, { min: 0, max: 10000, whole: true });
}

/**
 * @param {Context} context
 * @param {string} id
 * @returns {Field[]}
 */
function buildFields(context, id) {
  return [
    selectField({
      name: 'plane-covering', label: 'Covering', path: 'planes.covering', choices: COVERINGS, wide: true,
      read: (state) => planeOf(state, id)?.covering ?? '',
      commit: (covering) => change(context, id, 'Change covering', { covering }),
    }),
    lengthField(context.store, {
      name: 'plane-rafters', label: 'Rafters apart', path: 'planes.rafter_spacing_m', minM: 0.2, maxM: 2,
      hint: 'Between rafter centres.',
      read: (state) => planeOf(state, id)?.rafter_spacing_m,
      commit: (m) => change(context, id, 'Change rafter spacing', { rafter_spacing_m: m }),
    }),
  ];
}

/**
 * @param {string} id
 * @returns {Field[]}
 */
function areaFacts(id) {
  /**
   * @param {State} state
   * @param {(plane: PlaneResult) => string} say
   */
  const of = (state, say) => {
    const plane = state.result?.planes.find((p) => p.id === id);
    return plane ? say(plane) : '–';
  };
  return [
    fact('plane-slope-area', 'Area of the slope', (state) => of(state, (p) => formatArea(p.slope_area_m2, state.doc.site.units))),
    fact('plane-plan-area', 'Seen from above', (state) => of(state, (p) => formatArea(p.plan_area_m2, state.doc.site.units))),
    fact('plane-usable-area', 'Usable area', (state) => of(state, (p) => formatArea(p.usable_area_m2, state.doc.site.units))),
    fact('plane-ridge-height', 'Highest point', (state) => of(state, (p) => formatLength(p.ridge_height_m, state.doc.site.units))),
  ];
}
