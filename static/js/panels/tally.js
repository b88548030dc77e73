// The tally strip: what each candidate does on the roof, side by side, while
// the roof is drawn.

/** @import {Store, State} from '../model/store.js' */
/** @import {Rules} from '../model/types.js' */
/** @import {Card, Mark, PlanePart, Tally} from './tally-model.js' */
/** @import {DialogName} from './props.js' */

import { setRules } from '../commands/index.js';
import { chip } from './chip.js';
import { button, h, setAttribute, setText } from './dom.js';
import { remarksWords } from './findings.js';
import { FACING_WORDS, spoken, spokenNews, tallyOf } from './tally-model.js';
import { styleWord } from './words.js';

/** How long the counts must rest before they are read out. */
const SPEAK_AFTER_MS = 1000;
/** An answer that takes longer leaves the counts marked as late. */
const LATE_AFTER_MS = 400;

/**
 * @typedef {object} TallyParts
 * @property {HTMLElement} host
 * @property {Store} store
 * @property {(name: DialogName) => void} open
 * @property {HTMLElement} opener opens the properties
 * @property {() => void} openProps shows the roof with its problems and remarks
 */

/**
 * @param {TallyParts} parts
 * @returns {(state: State) => void} draws the state
 */
export function createTally({ host, store, open, opener, openProps }) {
  const asked = h('span', { 'data-testid': 'tally-question-words' });
  const question = h('button', { type: 'button', class: 't-question menu-button', 'data-testid': 'tally-question', title: 'Change what is asked: fill the roof, or meet a size', onClick: () => open('target') }, asked);
  const cards = h('div', { class: 't-cards', role: 'radiogroup', 'aria-label': 'Modules drawn on the roof' });
  const trouble = button('', openProps, { class: 'quiet t-trouble', 'data-testid': 'tally-trouble' });
  const tidy = h('span', {});
  const planes = h('p', { class: 't-planes t-planes-shown', 'data-testid': 'tally-planes-shown' });
  const speech = h('p', { class: 'visually-hidden', role: 'status', 'data-testid': 'tally-spoken' });
  const styles = styleSwitch(store);
  const notes = cardNotes(styles, () => open('site'), 'tally-shown');
  host.replaceChildren(
    h(
      'div',
      { class: 't-ask' },
      question,
      button('Module types', () => open('candidates'), { class: 'quiet', 'data-testid': 'tally-candidates' }),
      button('Counts', () => open('counts'), { class: 'quiet', 'data-testid': 'tally-counts', title: 'How many on which plane, and how that was found' }),
      h('div', { class: 't-more' }, opener, trouble),
    ),
    cards,
    h('p', { class: 't-tidy-shown' }, tidy, ...notes.elements),
    planes,
    speech,
  );

  /** @type {ReturnType<typeof createCard>[]} */ let drawn = [];
  const late = lateness((is) => setAttribute(host, 'data-late', is ? '' : null));
  /** @type {string|null} of the cards drawn; null before the first drawing */ let ids = null;
  const speak = speaker(speech);

  /** @param {Card[]} list */
  function rebuild(list) {
    const key = list.map((card) => card.id).join(' ');
    if (key === ids) return;
    ids = key;
    drawn = list.map((card) => createCard(card, (id) => store.setUi({ shown: id }), styles, () => open('site')));
    const empty = h('p', { class: 't-empty' }, 'No modules to compare yet. ', button('Add one', () => open('candidates')));
    cards.replaceChildren(...(drawn.length > 0 ? drawn.map((card) => card.element) : [empty]));
  }

  return (state) => {
    const tally = tallyOf(state);
    rebuild(tally.cards);
    setText(asked, tally.question);
    setText(trouble, remarksWords(state));
    trouble.hidden = trouble.textContent === '';
    trouble.classList.toggle('problem', state.problems.length > 0);
    setAttribute(host, 'data-stale', tally.stale ? '' : null);
    late.update(tally.stale, state.result);
    const most = tally.cards.length > 3 ? PLANES_SHOWN.narrow : PLANES_SHOWN.wide;
    styles.update(state);
    tally.cards.forEach((card, i) => drawn[i].update(card, tally.late, most));
    const shown = tally.cards.find((card) => card.shown);
    setText(tidy, (shown?.offer.text ? shown.tidyShort : shown?.tidy) ?? '');
    if (shown) notes.update(shown);
    showPlanes(planes, shown?.planes ?? [], Infinity);
    if (!tally.stale && !state.inGesture) speak(tally, state.resultOf);
  };
}

/** @typedef {ReturnType<typeof styleSwitch>} StyleSwitch */

/**
 * Takes most modules, and leads back to the style before, for as long as the
 * page remembers it.
 * @param {Store} store
 */
function styleSwitch(store) {
  /** @type {Rules['style']|''} */ let before = '';
  /** @type {Rules['style']} */ let now = store.state.doc.rules.style;
  return {
    /** @param {State} state */
    update({ doc }) {
      now = doc.rules.style;
      if (now !== 'best') before = now;
    },
    take: () => store.run('Set most modules', setRules({ patch: { style: 'best' } })),
    back: () => before && store.run(`Go back to ${styleWord(before)}`, setRules({ patch: { style: before } })),
    /** @returns {string} words for the way back, '' where there is none */
    backWords: () => (now === 'best' && before ? `Back to ${styleWord(before)}` : ''),
  };
}

/**
 * Reads the counts out once they rest, and after that only what a longer look
 * at the same drawing changes.
 * @param {HTMLElement} place
 */
function speaker(place) {
  /** @type {{tally: Tally, of: State['resultOf']}|null} */ let said = null;
  let timer = 0;
  return (/** @type {Tally} */ tally, /** @type {State['resultOf']} */ of) => {
    clearTimeout(timer);
    timer = window.setTimeout(() => {
      const words = said?.of === of ? spokenNews(said.tally, tally) : spoken(tally);
      said = { tally, of };
      if (words) setText(place, words);
    }, SPEAK_AFTER_MS);
  };
}

/**
 * Tells counts that follow the drawing from counts that stay behind it: while
 * answers keep coming they are live, however fast the drawing changes.
 * @param {(is: boolean) => void} mark
 */
function lateness(mark) {
  /** @type {State['result']} */ let last = null;
  let timer = 0;
  return {
    /** @param {boolean} stale @param {State['result']} result */
    update(stale, result) {
      if (stale && timer !== 0 && result === last) return;
      clearTimeout(timer);
      timer = stale ? window.setTimeout(() => mark(true), LATE_AFTER_MS) : 0;
      if (!stale || result !== last) mark(false);
      last = result;
    },
  };
}

const MARKS = Object.freeze(/** @type {const} */ (['gained', 'known', 'dark', 'tie', 'ridge', 'hand', 'refused']));

/**
 * @param {Card} first gives ID and letter, which do not change
 * @param {(id: string) => void} choose
 * @param {StyleSwitch} styles
 * @param {() => void} openSite
 */
function createCard({ id, letter }, choose, styles, openSite) {
  const test = (/** @type {string} */ part) => ({ 'data-testid': `tally-${letter}-${part}` });
  const radioId = `tally-${letter}`;
  const radio = h('input', { type: 'radio', id: radioId, name: 'shown', value: id, class: 'visually-hidden', onChange: () => choose(id), ...test('radio') });
  // A press on a mark chooses the card too, and its words are the card's.
  const mark = (/** @type {string} */ part, kind = '') => h('label', { for: radioId, class: kind && `t-mark t-${kind}`, ...test(part) });
  const watts = h('span', { class: 't-watts', ...test('watts') });
  const label = h('span', { class: 't-label', ...test('label') });
  const count = h('span', { class: 't-count', ...test('count') });
  const words = h('span', { class: 't-words', ...test('words') });
  const shade = h('span', { class: 't-words t-shade', ...test('shade') });
  const power = h('span', { class: 't-number', ...test('power') });
  const unit = h('span', { class: 'unit' });
  const tidy = h('span', { class: 't-tidy', ...test('tidy') });
  const tidyShort = h('span', { class: 't-tidy-short', 'aria-hidden': 'true' });
  const planes = h('span', { class: 't-planes', ...test('planes') });
  const size = mark('size');
  const marks = MARKS.map((part) => mark(part));
  const looking = mark('looking', 'looking');
  const late = mark('late', 'late');
  const notes = cardNotes(styles, openSite, `tally-${letter}`);
  size.className = 't-size';
  setText(looking, 'still looking');
  const element = h(
    'div',
    { class: `t-card letter-${letter}`, ...test('card') },
    h(
      'div',
      { class: 't-inside' },
      radio,
      h(
        'label',
        { class: 't-choose', for: radioId },
        h('span', { class: 't-head' }, chip(letter, 'tally'), watts, label),
        h(
          'span',
          { class: 't-figures' },
          count,
          h('span', { class: 't-said' }, words),
          shade,
          h('span', { class: 't-power' }, power, unit),
        ),
        tidy,
        tidyShort,
        planes,
      ),
      h('span', { class: 't-marks' }, size, ...marks, looking, late),
      h('span', { class: 't-notes' }, ...notes.elements),
    ),
  );
  return {
    element,
    /** @param {Card} card @param {string} lateWords @param {number} mostPlanes */
    update(card, lateWords, mostPlanes) {
      setText(watts, card.watts);
      setText(label, card.label);
      setAttribute(label, 'title', card.label);
      setText(count, card.count);
      setText(words, card.countWords);
      setText(shade, card.shade);
      setText(power, card.power);
      setText(unit, card.unit);
      setText(size, card.size);
      setText(tidy, wholeParts(card.tidy));
      setText(tidyShort, card.tidyShort);
      setAttribute(tidyShort, 'title', card.tidy);
      MARKS.forEach((part, i) => showMark(marks[i], card[part]));
      setText(late, lateWords);
      notes.update(card);
      showPlanes(planes, card.planes, mostPlanes);
      radio.checked = card.shown;
    },
  };
}

/** @param {string} list parted by commas @returns {string} the same, to be broken after commas alone */
function wholeParts(list) {
  return list.split(', ').map((part) => part.replaceAll(' ', '\u00a0')).join(', ');
}

/**
 * What a limit of blocks does, the way to the site where the facing is missing,
 * the button that takes what most modules add, and the one that leads back.
 * @param {StyleSwitch} styles
 * @param {() => void} openSite
 * @param {string} testId
 */
function cardNotes(styles, openSite, testId) {
  const blocks = h('span', { 'data-testid': `${testId}-blocks` });
  const facing = button(FACING_WORDS, openSite, { class: 'quiet t-offer', 'data-testid': `${testId}-facing`, title: 'Then the planes that face the noon sun best are filled first' });
  const take = button('', styles.take, { class: 'quiet t-offer', 'data-testid': `${testId}-offer` });
  const back = button('', styles.back, { class: 'quiet t-offer', 'data-testid': `${testId}-back`, title: 'For every module type, as undo does right after' });
  return {
    elements: [blocks, facing, take, back],
    /** @param {Card} card */
    update({ blocks: limit, facingMissing, offer, shown }) {
      showMark(blocks, limit);
      facing.hidden = !facingMissing;
      setText(take, offer.text && wholeParts(`Fit ${offer.text}`));
      setAttribute(take, 'title', offer.title || null);
      take.hidden = offer.text === '';
      setText(back, shown ? styles.backWords() : '');
      back.hidden = back.textContent === '';
    },
  };
}

/** @param {HTMLElement} element @param {Mark} mark */
function showMark(element, { kind, text, title }) {
  setText(element, text);
  setAttribute(element, 'class', `t-mark${kind && ` t-${kind}`}`);
  setAttribute(element, 'title', title || null);
  element.hidden = kind === '';
}

/** More planes than this, in cards of three and in narrower ones, are cut to one less and a number; the counts dialog lists them all. */
const PLANES_SHOWN = Object.freeze({ wide: 4, narrow: 2 });

/**
 * @param {HTMLElement} element
 * @param {PlanePart[]} parts
 * @param {number} most
 */
function showPlanes(element, parts, most) {
  const words = parts.map(({ name, count }) => `${name} ${count}`).join(', ');
  const listed = parts.length > most ? parts.slice(0, most - 1) : parts;
  const more = parts.length - listed.length;
  if (element.title === words && element.dataset.more === String(more)) return;
  element.title = words;
  element.dataset.more = String(more);
  element.replaceChildren(
    ...listed.map(({ name, count }) => h('span', { class: 't-plane' }, h('span', { class: 't-plane-name' }, name), ' ', h('b', {}, String(count)))),
    ...(more > 0 ? [h('span', {}, `and ${more} more`)] : []),
  );
}
