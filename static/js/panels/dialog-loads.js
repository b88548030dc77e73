// The loads: how modules are held, and what snow and wind the site has.

/** @import {State} from '../model/store.js' */
/** @import {ASCESnow, Loads} from '../model/types.js' */
/** @import {Field} from './field.js' */
/** @import {Context} from './props.js' */

import { editionOf, setEdition, setLoads } from '../commands/index.js';
import { PRESSURE_AND_SPEED_WORDS, WEIGHT_WORDS } from '../model/quantities.js';
import { h } from './dom.js';
import { radioField } from './field.js';
import { showForm } from './form-dialog.js';
import { isIec, snowPart } from './loads-snow.js';
import { windPart } from './loads-wind.js';
import { folded, group, note, pairs, part } from './parts.js';
import { maybeLengthField, plainField, quantityField } from './quantities.js';

/** @param {Context} context */
export function openLoads(context) {
  const parts = [
    basisPart(context), clampPart(context), snowPart(context), windPart(context), railPart(context),
    note('loads-conversions', ({ doc }) => (doc.site.units === 'imperial' ? `${PRESSURE_AND_SPEED_WORDS} ${WEIGHT_WORDS}` : '')),
  ];
  showForm(context, {
    id: 'loads',
    title: 'Loads and rails',
    body: [
      ...parts.map((p) => p.element),
      h('p', { class: 'p-safety' }, 'This checks the module only, not clamps, rafters or roof. A licensed engineer decides. The code in force at the site and the makers’ instructions govern.'),
    ],
    update: (state) => parts.forEach((p) => p.update(state)),
  });
}

/** @param {Context} context @param {string} label of the undo step @param {Partial<Loads>} patch */
function change({ store }, label, patch) {
  store.run(label, setLoads({ patch }));
}

/** @param {State} state @returns {boolean} whether a load is given that has an edition */
const hasEdition = ({ doc }) => doc.loads.asce_snow !== null || doc.loads.flush_wind !== null;

/** @param {Context} context @returns {Field} */
function basisPart({ store }) {
  return group(h('div', { class: 'p-group' }), [
    note('loads-basis', (state) => isIec(state)
      ? 'Snow after EN 1991-1-3, wind typed, combined after EN 1990: the site’s written rules are IEC and EN.'
      : 'Snow and wind after ASCE 7: the site’s written rules are NEC and ASCE.'),
    group(h('div', {}), [
      radioField({
        name: 'loads-edition', label: 'Edition of ASCE 7, for snow and wind together', path: 'loads.asce_snow.edition',
        choices: [['7-16', '7-16: ground snow at allowable level'], ['7-22', '7-22: ground snow and wind at strength level']],
        hint: 'Maps of one edition do not go with the other.',
        read: ({ doc }) => editionOf(doc),
        commit: (edition) => store.run('Change edition', setEdition({ edition: /** @type {ASCESnow['edition']} */ (edition) })),
      }),
    ], (state) => !isIec(state) && hasEdition(state)),
  ]);
}

/** @param {Context} context @returns {Field} */
function clampPart(context) {
  return part('Clamps', [
    radioField({
      name: 'loads-rails', label: 'Rails run, and clamps hold', path: 'loads.rails',
      choices: [
        ['along_eave', 'Along the eave: portrait modules at their long edges, landscape ones at their short edges'],
        ['up_slope', 'Up the slope: portrait modules at their short edges, landscape ones at their long edges'],
      ],
      read: ({ doc }) => doc.loads.rails,
      commit: (rails) => change(context, 'Change rails', { rails: /** @type {Loads['rails']} */ (rails) }),
    }),
    note('loads-rails-note', ({ doc }) => doc.loads.rails === 'up_slope'
      ? 'Such rails lie along the rafters and need a lower layer of rails: no rails are laid out here.'
      : 'Modules are rated for each position of the clamps; the datasheet has both where its maker gives them.'),
  ]);
}

/** @param {Context} context @returns {Field} */
function railPart(context) {
  const { store } = context;
  /** @param {string} name @param {string} label @param {'stick_m'|'end_m'} member @param {number} minM @param {number} maxM @param {string} hint @param {string} step */
  const length = (name, label, member, minM, maxM, hint, step) => maybeLengthField(store, {
    name, label, hint, path: `loads.${member}`, minM, maxM,
    read: ({ doc }) => doc.loads[member],
    commit: (m) => change(context, step, { [member]: m }),
  });
  /** @param {string} name @param {string} label @param {'cantilever_share'|'clamp_inset'} member @param {number} min @param {number} max @param {string} unit @param {string} hint @param {string} step */
  const share = (name, label, member, min, max, unit, hint, step) => plainField({
    name, label, hint, unit, scale: 100, path: `loads.${member}`, min, max,
    read: ({ doc }) => doc.loads[member],
    commit: (value) => change(context, step, { [member]: value }),
  });
  return part('Rails', [
    pairs([
      maybeLengthField(store, {
        name: 'loads-span', label: 'Rail span', path: 'loads.span_m', minM: 0.2, maxM: 5, blank: true, placeholder: () => 'not known',
        hint: 'The most between attachments that the rail maker allows for these loads. Blank: no rails are laid.',
        read: ({ doc }) => doc.loads.span_m,
        commit: (span_m) => change(context, 'Change rail span', { span_m }),
      }),
      length('loads-stick', 'Stick length', 'stick_m', 0.5, 12, 'What rails are sold in. Default 4.2 m.', 'Change stick length'),
      share('loads-cantilever', 'Past the last attachment', 'cantilever_share', 0, 0.4, '% of span', 'At most 40 % of the distance between attachments.', 'Change cantilever'),
    ]),
    note('loads-rails-practice', () => 'Defaults and the 40 %: common practice, no source. Attachments fall on rafters; the rafter spacing belongs to each plane.'),
    folded('loads-more', 'Clamp ends and weights', [
      pairs([
        length('loads-end', 'Rail past the last module', 'end_m', 0, 0.5, 'For the end clamp. Default 0.05 m.', 'Change rail ends'),
        share('loads-inset', 'Rails in from the module’s ends', 'clamp_inset', 0.05, 0.45, '% of side', 'Default 25 %. The datasheet gives the allowed zone.', 'Change clamp place'),
        quantityField(store, {
          name: 'loads-rail-mass', label: 'Weight of rail', path: 'loads.rail_kg_per_m', quantity: 'massPerLength', min: 0, max: 20, hint: 'Default 1 kg/m.',
          read: ({ doc }) => doc.loads.rail_kg_per_m,
          commit: (value) => change(context, 'Change weight of rail', { rail_kg_per_m: value ?? 0 }),
        }),
        quantityField(store, {
          name: 'loads-attachment-mass', label: 'Weight of an attachment', path: 'loads.attachment_kg', quantity: 'mass', min: 0, max: 20, hint: 'With its clamps and splices. Default 0.5 kg.',
          read: ({ doc }) => doc.loads.attachment_kg,
          commit: (value) => change(context, 'Change weight of attachments', { attachment_kg: value ?? 0 }),
        }),
      ]),
    ]),
  ]);
}
