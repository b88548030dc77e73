// Which typical year the light and the yield are reckoned with, and the losses
// on the way from light to current.

/** @import {State} from '../model/store.js' */
/** @import {Doc, LossLine, Site, Weather, WeatherFile} from '../model/types.js' */
/** @import {Field} from './field.js' */
/** @import {Facts} from './parts.js' */
/** @import {Context} from './props.js' */

import { setLoss, setWeather, setYield, takeWeatherFile } from '../commands/index.js';
import { isUnset } from '../model/station.js';
import { button, h, setText } from './dom.js';
import { radioField, textField } from './field.js';
import { showForm } from './form-dialog.js';
import { parseNumberIn } from './measures.js';
import { facts, folded, note, notes, part } from './parts.js';
import { bothUnits, yearWarnings } from './station-words.js';
import { trim } from './words.js';

/** @param {Context} context */
export function openWeather(context) {
  const parts = [sourcePart(context), filePart(context), lossPart(context)];
  const page = h('a', { class: 'link', href: `/projects/${encodeURIComponent(context.id)}/weather`, 'data-testid': 'weather-page' }, 'Weather page: monthly values, typed or read');
  showForm(context, {
    id: 'weather',
    title: 'Weather and losses',
    body: [
      h('p', { class: 'p-hint' }, 'Yields are reckoned for a typical year: an estimate for design, no promise for any one year.'),
      ...parts.map((p) => p.element),
      page,
    ],
    update: (state) => parts.forEach((p) => p.update(state)),
  });
}

/** @param {Context} context @returns {Field} */
function sourcePart(context) {
  const { store } = context;
  const source = radioField({
    name: 'weather-source', label: 'Typical year', path: 'weather.source',
    choices: [['station', 'The nearest station of the table'], ['monthly', 'Monthly values, typed on the weather page'], ['file', 'An imported file of hours']],
    read: ({ doc }) => doc.weather.source,
    commit(value) {
      const why = missing(store.state.doc, /** @type {Weather['source']} */ (value));
      if (!why) store.run('Change weather', setWeather({ patch: { source: /** @type {Weather['source']} */ (value) } }));
      setText(said, why);
      source.update(store.state);
    },
  });
  const said = h('p', { class: 'p-error problem', 'aria-live': 'polite', 'data-testid': 'weather-missing' });
  const words = note('weather-words', (state) => sourceWords(state), '');
  const site = button('Open the site', () => context.open('site'), { 'data-testid': 'weather-site' });
  const field = part('Weather', [source, said, words, notes('weather-warnings', yearWarnings, 'd-warnings'), site]);
  return {
    element: field.element,
    update(state) {
      field.update(state);
      site.hidden = !isUnset(state.doc.site);
    },
  };
}

/** @param {Doc} doc @param {Weather['source']} source @returns {string} '' or what it takes first */
export function missing({ weather }, source) {
  if (source === 'file' && !weather.file) return 'No file was imported yet. Choose one below.';
  if (source === 'monthly' && !weather.monthly) return 'No monthly values were typed yet. The weather page, below, takes them.';
  return '';
}

/** @param {State} state @returns {string} where the light on the roof is from */
export function sourceWords({ doc, light }) {
  if (isUnset(doc.site) && doc.weather.source === 'station') return 'Where the house stands is not known yet, so there is no nearest station.';
  const { map } = light;
  if (map.step === 'failed') return map.message;
  return map.value && map.of && map.of.weather === doc.weather && isSamePlace(map.of.site, doc.site) ? bothUnits(map.value.words, doc.site.units) : 'Being looked up.';
}

/** @param {Site} a @param {Site} b @returns {boolean} */
function isSamePlace(a, b) {
  return a.lat_deg === b.lat_deg && a.lon_deg === b.lon_deg && a.elevation_m === b.elevation_m;
}

/** @param {Context} context @returns {Field} */
function filePart(context) {
  const said = h('p', { class: 'p-hint', 'aria-live': 'polite', 'data-testid': 'weather-import-note' });
  const input = h('input', {
    type: 'file', id: 'weather-file', accept: '.epw,.csv,.tm3,.txt', 'data-testid': 'weather-file',
    onChange: () => void take(),
  });
  async function take() {
    const file = input.files?.[0];
    if (!file) return;
    said.className = 'p-hint';
    setText(said, `Reading ${file.name}.`);
    try {
      const read = await context.importWeather(file, file.name);
      context.store.run('Import weather file', takeWeatherFile({ file: read }));
      setText(said, `${file.name} is in use. Undo takes it back.`);
    } catch (fault) {
      said.className = 'p-error problem';
      setText(said, `${file.name} was not taken. ${fault instanceof Error ? fault.message : fault}`);
    }
    input.value = '';
  }
  return part('File of hours', [
    facts('weather-file-facts', ({ doc }) => fileFacts(doc.weather.file)),
    notes('weather-file-notes', ({ doc }) => doc.weather.file?.notes ?? [], 'p-notes'),
    h('div', { class: 'field' }, h('label', { for: 'weather-file' }, 'Import an EPW or TMY3 file'), input),
    said,
  ]);
}

/** @param {WeatherFile|null} file @returns {Facts} */
export function fileFacts(file) {
  if (!file) return [];
  return [
    ['File', file.name],
    ['Place', file.label || 'not named'],
    ['At', `${trim(Math.abs(file.lat_deg), 2)}° ${file.lat_deg < 0 ? 'south' : 'north'}, ${trim(Math.abs(file.lon_deg), 2)}° ${file.lon_deg < 0 ? 'west' : 'east'}`],
    ['Hours', `${file.hours}, ${file.format === 'epw' ? 'EPW' : 'TMY3'}`],
  ];
}

/** @param {Context} context @returns {Field} */
function lossPart(context) {
  const { store } = context;
  const lines = store.state.doc.yield.losses.map((line) => lossField(context, line));
  const albedo = textField({
    name: 'yield-albedo', label: 'Ground reflects', unit: '%', path: 'yield.albedo', inputmode: 'decimal', hint: 'Grass 20, snow 60 to 80.',
    read: ({ doc }) => trim(doc.yield.albedo * 100, 1),
    commit: (text) => store.run('Change ground', setYield({ patch: { albedo: parseNumberIn(text, { min: 0, max: 100 }) / 100 } })),
  });
  return folded('yield-losses', ({ doc }) => `Losses: ${trim(togetherPct(doc.yield.losses), 1)} % together`, [
    h('p', { class: 'p-hint' }, 'Besides shade, heat and the inverter, which are reckoned. A value typed here holds for every month.'),
    ...lines, albedo,
  ]);
}

/** @param {Context} context @param {LossLine} line @returns {Field} */
function lossField({ store }, { id, label }) {
  /** @param {State} state */
  const read = (state) => state.doc.yield.losses.find((l) => l.id === id);
  return textField({
    name: `loss-${id}`, label, path: `yield.losses.${id}`, inputmode: 'decimal',
    unit: (state) => (isEven(read(state)) ? '%' : '% on average, differs by month'),
    read: (state) => trim(meanPct(read(state)), 2),
    commit: (text) => store.run('Change loss', setLoss({ id, pct: parseNumberIn(text, { min: -10, max: 100 }) })),
  });
}

/** @param {LossLine|undefined} line @returns {boolean} the same every month */
function isEven(line) {
  return line?.monthly_pct.every((p) => p === line.monthly_pct[0]) ?? true;
}

/** @param {LossLine|undefined} line @returns {number} */
function meanPct(line) {
  return line ? line.monthly_pct.reduce((sum, p) => sum + p, 0) / line.monthly_pct.length : 0;
}

/** @param {LossLine[]} lines @returns {number} what they take one after the other, of their yearly means */
export function togetherPct(lines) {
  return 100 * (1 - lines.reduce((left, line) => left * (1 - meanPct(line) / 100), 1));
}
