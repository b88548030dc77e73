// What the tally strip says, worked out from the state. Pure.

/** @import {State} from '../model/store.js' */
/** @import {Candidate, CandidateResult, Doc, LayoutResult, Result, SizeResult} from '../model/types.js' */

import { kilowatts, letterOf, planeName, powerUnit, shadeWords } from './words.js';

/** @typedef {{name: string, count: number}} PlanePart */
/**
 * @typedef {object} Card
 * @property {string} id candidate ID
 * @property {string} letter
 * @property {string} label
 * @property {string} watts '320 W'
 * @property {string} count '19', or a dash while there is none
 * @property {string} countWords 'modules'
 * @property {string} shade '4 of them in shade', '' for none
 * @property {string} power '5.70', or a dash
 * @property {string} unit of the power
 * @property {string} size 'needs 19, 17 fit'; '' unless a size is to be met
 * @property {boolean} proved no other arrangement of these modules holds more
 * @property {string} tie 'tie with B'; '' for none
 * @property {PlanePart[]} planes the planes that hold some
 * @property {boolean} shown its modules are drawn on the roof
 */
/**
 * @typedef {object} Tally
 * @property {string} question what the counts answer
 * @property {boolean} stale the drawing has changed since the counts were made
 * @property {Card[]} cards
 */

const NONE = '–';

/**
 * @param {State} state
 * @returns {Tally}
 */
export function tallyOf(state) {
  const { doc, result } = state;
  const ties = tiesOf(doc, result);
  return {
    question: questionOf(doc),
    stale: result !== null && state.resultOf !== doc,
    cards: doc.candidates.map((candidate, index) => cardOf(state, candidate, index, ties)),
  };
}

/** @param {Doc} doc */
export function questionOf({ target, site }) {
  return target.mode === 'size' ? `Meet ${kilowatts(target.size_w)} ${powerUnit(site)}` : 'Fill the roof';
}

/**
 * The candidate whose modules are drawn: the chosen one, or the first.
 * @param {State} state
 * @returns {string} '' when there is none
 */
export function shownId({ doc, ui }) {
  return (doc.candidates.find((c) => c.id === ui.shown) ?? doc.candidates[0])?.id ?? '';
}

/**
 * The layout that answers the question asked of the candidate.
 * @param {CandidateResult|undefined} found
 * @returns {LayoutResult|undefined}
 */
export function layoutOf(found) {
  return found?.size?.layout ?? found?.fill;
}

/**
 * @param {SizeResult} size
 * @returns {string}
 */
export function sizeWords({ need, fits, layout }) {
  return fits ? `needs ${need}, fits` : `needs ${need}, ${layout.count === 1 ? '1 fits' : `${layout.count} fit`}`;
}

/**
 * @param {State} state
 * @param {Candidate} candidate
 * @param {number} index
 * @param {Map<string, string>} ties
 * @returns {Card}
 */
function cardOf(state, candidate, index, ties) {
  const { doc, result } = state;
  const found = result?.candidates.find((c) => c.id === candidate.id);
  const layout = layoutOf(found);
  return {
    id: candidate.id,
    letter: letterOf(index),
    label: candidate.label,
    watts: `${candidate.pmax_w} W`,
    count: layout ? String(layout.count) : NONE,
    countWords: layout ? (layout.count === 1 ? 'module' : 'modules') : 'not counted yet',
    shade: shadeWords(layout?.in_shade ?? 0),
    power: layout ? kilowatts(layout.pdc_w) : NONE,
    unit: powerUnit(doc.site),
    size: found?.size ? sizeWords(found.size) : '',
    proved: found !== undefined && isProved(found),
    tie: ties.get(candidate.id) ?? '',
    planes: layout ? planesOf(doc, layout) : [],
    shown: candidate.id === shownId(state),
  };
}

/**
 * Whether the count that is shown is known to be the most: every plane holds
 * as many as its bound allows. A size that is met needs no such proof.
 * @param {CandidateResult} found
 */
function isProved({ fill, size }) {
  if (size?.fits) return false;
  return fill.count > 0 && fill.by_plane.every((part) => part.proved);
}

/**
 * @param {Doc} doc
 * @param {LayoutResult} layout
 * @returns {PlanePart[]} planes without modules, and those deleted since, are left out
 */
function planesOf(doc, layout) {
  return layout.by_plane.flatMap(({ plane_id, count }) => {
    const plane = doc.planes.find((p) => p.id === plane_id);
    return plane && count > 0 ? [{ name: planeName(doc, plane), count }] : [];
  });
}

/**
 * Which candidates hold as many modules as another one. Asked for a size the
 * counts follow from the wattage, so that a tie says nothing.
 * @param {Doc} doc
 * @param {Result|null} result
 * @returns {Map<string, string>} words by candidate ID
 */
function tiesOf(doc, result) {
  const counts = doc.candidates.map(({ id }, index) => {
    const found = result?.candidates.find((c) => c.id === id);
    return { id, letter: letterOf(index), count: found && !found.size ? found.fill.count : 0 };
  });
  const ties = new Map();
  for (const { id, count } of counts) {
    const same = counts.filter((other) => other.id !== id && other.count === count).map((other) => other.letter);
    if (count > 0 && same.length > 0) ties.set(id, `tie with ${same.join(' and ')}`);
  }
  return ties;
}

/**
 * The counts in one sentence, for people who hear the page.
 * @param {Tally} tally
 * @returns {string}
 */
export function spoken({ question, cards }) {
  const parts = cards.map((card) => `${card.letter}: ${card.count} ${card.countWords}${card.shade && `, ${card.shade}`}, ${card.power} ${card.unit}${card.size && `, ${card.size}`}`);
  return `${question}. ${parts.join('. ')}.`;
}

