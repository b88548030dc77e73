// The site: where the house is and how its document is read.

/** @import {Site} from '../model/types.js' */
/** @import {Field} from './field.js' */
/** @import {Context} from './props.js' */

import { setSite } from '../commands/index.js';
import { h } from './dom.js';
import { radioField, textField, updateAll } from './field.js';
import { showForm } from './form-dialog.js';
import { numberField, parseLabel, parseSignedLength } from './measures.js';
import { lengthText } from '../model/units.js';

const LOWEST_M = -450;
const HIGHEST_M = 6000;

/** @param {Context} context */
export function openSite(context) {
  const fields = [...placeFields(context), ...conventionFields(context)];
  showForm(context, {
    id: 'site',
    title: 'Site',
    body: [h('div', { class: 'p-group p-pairs' }, ...fields.map((field) => field.element))],
    update: updateAll(fields),
  });
}

/**
 * @param {Context} context
 * @param {string} label of the undo step
 * @param {Partial<Site>} patch
 */
function change({ store }, label, patch) {
  store.run(label, setSite({ patch }));
}

/** @param {Context} context @returns {Field[]} */
function placeFields(context) {
  return [
    textField({
      name: 'site-label', label: 'Name of the project', path: 'site.label', wide: true,
      read: ({ doc }) => doc.site.label,
      commit: (text) => change(context, 'Name project', { label: parseLabel(text, 120, true) }),
    }),
    numberField({
      name: 'site-lat', label: 'Latitude', unit: '° north', path: 'site.lat_deg', hint: 'South is negative.', min: -90, max: 90,
      read: ({ doc }) => doc.site.lat_deg,
      commit: (lat_deg) => change(context, 'Change latitude', { lat_deg }),
    }),
    numberField({
      name: 'site-lon', label: 'Longitude', unit: '° east', path: 'site.lon_deg', hint: 'West is negative.', min: -180, max: 180,
      read: ({ doc }) => doc.site.lon_deg,
      commit: (lon_deg) => change(context, 'Change longitude', { lon_deg }),
    }),
    textField({
      name: 'site-elevation', label: 'Height above sea level', path: 'site.elevation_m',
      read: ({ doc }) => lengthText(doc.site.elevation_m, doc.site.units),
      commit: (text) => change(context, 'Change site height', { elevation_m: parseElevation(context, text) }),
    }),
    numberField({
      name: 'site-utc', label: 'Standard time', unit: 'hours from UTC', path: 'site.utc_offset_h', min: -12, max: 14,
      read: ({ doc }) => doc.site.utc_offset_h,
      commit: (utc_offset_h) => change(context, 'Change time zone', { utc_offset_h }),
    }),
  ];
}

/** @param {Context} context @param {string} text @returns {number} metres */
function parseElevation({ store }, text) {
  const { units } = store.state.doc.site;
  const m = parseSignedLength(text, units, HIGHEST_M);
  if (m < LOWEST_M) throw new Error(`${text.trim()} is out of range: ${lengthText(LOWEST_M, units)} to ${lengthText(HIGHEST_M, units)}.`);
  return m;
}

/** @param {Context} context @returns {Field[]} */
function conventionFields(context) {
  return [
    radioField({
      name: 'site-units', label: 'Lengths are shown in', path: 'site.units',
      choices: [['metric', 'Metres'], ['imperial', 'Feet and inches']],
      read: ({ doc }) => doc.site.units,
      commit: (units) => change(context, 'Change units', { units: /** @type {Site['units']} */ (units) }),
    }),
    radioField({
      name: 'site-family', label: 'Written rules follow', path: 'site.rule_family',
      hint: 'Decides the limits of wiring, the snow and wind standard and the words of the printed page. The code in force at the site governs either way.',
      choices: [['nec', 'NEC, ASCE, IRC (North America)'], ['iec', 'IEC, EN (elsewhere)']],
      read: ({ doc }) => doc.site.rule_family,
      commit: (family) => change(context, 'Change rule family', { rule_family: /** @type {Site['rule_family']} */ (family) }),
    }),
  ];
}
