// The strip under the drawing while the light is looked at: what the tones
// mean, and a moment of the year for shadows. And the line on the drawing that
// says that the light is being worked out.

/** @import {Store, State, LightUi} from '../model/store.js' */
/** @import {LightSync} from '../sync/light.js' */

import { dateOf, dayOf, scaleOf } from '../model/light.js';
import { button, h, setAttribute, setText } from './dom.js';
import { MONTHS, clockWords, legendSteps, legendTitle, lightNote, sunWords } from './light-words.js';

/** Work that takes longer than this is told, with a way to call it off. */
const SLOW_MS = 500;
const DAYS = 365;
/** The clock goes in quarters of an hour over the hours in which there can be sun. */
const CLOCK = Object.freeze({ from: 3, to: 22, step: 0.25 });

/**
 * @param {{strip: HTMLElement, board: HTMLElement, store: Store, light: () => LightSync|undefined}} parts
 * @returns {(state: State) => void} draws the state
 */
export function createLightStrip({ strip, board, store, light }) {
  const legend = legendPart(store);
  const sun = sunPart(store);
  const note = h('p', { class: 'l-note', role: 'status', 'data-testid': 'light-note' });
  strip.replaceChildren(legend.element, sun.element, note);
  const progress = progressLine(light);
  board.append(progress.element);
  return (state) => {
    progress.update(state);
    strip.hidden = !state.ui.light.on;
    if (strip.hidden) return;
    strip.toggleAttribute('data-sun', state.ui.light.sun);
    legend.update(state);
    sun.update(state);
    setText(note, lightNote(state));
    note.hidden = note.textContent === '';
  };
}

/** @param {Store} store */
function legendPart(store) {
  const title = h('span', { class: 'l-title' });
  const steps = h('ol', { class: 'l-steps', 'data-testid': 'light-legend' });
  const by = h('div', { class: 'l-by', role: 'group', 'aria-label': 'The map shows' }, ...byButtons(store));
  let drawn = '';
  const element = h('div', { class: 'l-legend' }, by, h('div', { class: 'l-scale' }, title, steps));
  return {
    element,
    /** @param {State} state */
    update({ ui, light }) {
      element.hidden = !light.map.value;
      setText(title, legendTitle(ui.light.by));
      for (const b of by.children) b.setAttribute('aria-pressed', String(b.getAttribute('data-by') === ui.light.by));
      const scale = light.map.value && scaleOf(light.map.value, ui.light.by);
      const list = scale ? legendSteps(scale) : [];
      const key = JSON.stringify(list);
      if (key === drawn) return;
      drawn = key;
      steps.replaceChildren(...list.map(({ tone, from, share }) =>
        h('li', { class: tone === null ? 'l-end' : null }, h('span', { class: tone === null ? 'l-swatch' : `l-swatch light-${tone}` }), h('span', { class: 'l-value' }, from), share && h('span', { class: 'unit' }, share))));
    },
  };
}

/** @param {Store} store */
function byButtons(store) {
  const ways = /** @type {const} */ ([['kwh', 'kWh/m²'], ['open', '% of open']]);
  return ways.map(([by, label]) => button(label, () => store.setLightUi({ by: /** @type {LightUi['by']} */ (by) }), { class: 'quiet', 'data-by': by, 'data-testid': `light-by-${by}` }));
}

/** @param {Store} store */
function sunPart(store) {
  const on = h('input', { type: 'checkbox', id: 'light-sun', 'data-testid': 'light-sun', onChange: () => store.setLightUi({ sun: on.checked }) });
  /** @param {Partial<LightUi['moment']>} patch */
  const move = (patch) => store.setLightUi({ sun: true, moment: { ...store.state.ui.light.moment, ...patch } });
  const day = slider('light-day', 'Date', 1, DAYS, 1, (value) => move(dateOf(value)));
  const clock = slider('light-clock', 'Standard time', CLOCK.from, CLOCK.to, CLOCK.step, (value) => move({ clock_h: value }));
  const words = h('p', { class: 'l-sun-words', 'aria-live': 'polite', 'data-testid': 'light-sun-words' });
  return {
    element: h('div', { class: 'l-sun' }, h('label', { class: 'l-check', for: 'light-sun' }, on, h('span', {}, 'Shadows')), day.element, clock.element, words),
    /** @param {State} state */
    update({ ui, light }) {
      const { moment, sun } = ui.light;
      on.checked = sun;
      day.update(dayOf(moment), `${moment.day} ${MONTHS[moment.month - 1]}`);
      clock.update(moment.clock_h, clockWords(moment.clock_h));
      const { shadows } = light;
      setText(words, !sun ? '' : shadows.step === 'failed' ? shadows.message : shadows.value ? sunWords(shadows.value) : '');
    },
  };
}

/** @param {string} id @param {string} label @param {number} min @param {number} max @param {number} step @param {(value: number) => void} moved */
function slider(id, label, min, max, step, moved) {
  const input = h('input', { type: 'range', id, min, max, step, 'data-testid': id, onInput: () => moved(Number(input.value)) });
  const said = h('output', { for: id, 'data-testid': `${id}-words` });
  return {
    element: h('div', { class: 'l-slider' }, h('label', { for: id }, label), said, input),
    /** @param {number} value @param {string} words */
    update(value, words) {
      if (Number(input.value) !== value) input.value = String(value);
      setAttribute(input, 'aria-valuetext', words);
      setText(said, words);
    },
  };
}

/** @param {() => LightSync|undefined} light */
function progressLine(light) {
  const words = h('span', {}, 'Working out the light');
  const cancel = button('Cancel', () => light()?.stop(), { 'data-testid': 'light-cancel' });
  const again = button('Work it out', () => light()?.again(), { 'data-testid': 'light-again' });
  const element = h('div', { class: 'light-progress', role: 'status', hidden: true, 'data-testid': 'light-progress' }, h('span', { class: 'l-turning', 'aria-hidden': 'true' }), words, cancel, again);
  let timer = 0;
  let slow = false;
  return {
    element,
    /** @param {State} state */
    update(state) {
      const { step, value } = state.light.map;
      const asking = step === 'asking';
      if (asking && timer === 0) {
        timer = window.setTimeout(() => {
          slow = true;
          this.update(state);
        }, SLOW_MS);
      } else if (!asking) {
        clearTimeout(timer);
        [timer, slow] = [0, false];
      }
      const stopped = step === 'stopped' && (state.ui.light.on || value !== null);
      element.hidden = !(asking && slow) && !stopped;
      element.toggleAttribute('data-stopped', stopped);
      setText(words, stopped ? 'The light is not worked out' : 'Working out the light');
      cancel.hidden = !asking;
      again.hidden = !stopped;
    },
  };
}
