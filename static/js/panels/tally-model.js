// What the tally strip says, worked out from the state. Pure.

/** @import {State} from '../model/store.js' */
/** @import {Candidate, CandidateResult, Doc, LayoutResult, PlaneLayoutResult, Result, SizeResult, Tidiness} from '../model/types.js' */

import { whyWords } from '../model/hand-words.js';
import { handLayoutOf } from '../model/hand.js';
import { isLit, isWidened } from '../model/outcome.js';
import { isUnset } from '../model/station.js';
import { handWords, kilowatts, letterOf, offerWords, planeName, plural, powerUnit, shadeWords, styleWord, tidyWords, trim } from './words.js';

/** @typedef {{name: string, count: number}} PlanePart */
/** @typedef {{kind: string, text: string, title: string}} Mark all '' for none */
/**
 * @typedef {object} Card
 * @property {string} id candidate ID
 * @property {string} letter
 * @property {string} label
 * @property {string} watts '400 W'
 * @property {string} count '19', or a dash while there is none
 * @property {string} countWords 'modules'
 * @property {string} shade '4 of them in shade', '' for none
 * @property {string} power '5.70', or a dash
 * @property {string} unit of the power
 * @property {string} size 'needs 19, 17 fit'; '' unless a size is to be met
 * @property {Mark} known how sure the count is, or what holds it down
 * @property {Mark} tie what it shares with another candidate
 * @property {Mark} ridge that the wider strip along the ridge is kept
 * @property {Mark} blocks what a limit of blocks costs, or that it cannot be kept
 * @property {boolean} facingMissing a size is met without knowing which planes face the sun
 * @property {Mark} gained what looking longer has found
 * @property {Mark} dark what a limit of light leaves out
 * @property {Mark} hand planes whose modules a person placed
 * @property {Mark} refused modules placed by hand that the roof does not allow
 * @property {string} tidy '9 rail runs, 3 blocks, one orientation'
 * @property {string} tidyShort the same where there is little room
 * @property {{text: string, title: string}} offer what most modules would add; '' for nothing
 * @property {PlanePart[]} planes the planes that hold some
 * @property {boolean} shown its modules are drawn on the roof
 */
/**
 * @typedef {object} Tally
 * @property {string} question what the counts answer
 * @property {boolean} stale the drawing has changed since the counts were made
 * @property {string} late what to say of the counts when they stay old
 * @property {Card[]} cards
 */

const NONE = '–';
/** @type {Readonly<Mark>} */
const NO_MARK = Object.freeze({ kind: '', text: '', title: '' });

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
    late: lateWords(state),
    cards: doc.candidates.map((candidate, index) => cardOf(state, candidate, index, ties)),
  };
}

/** @param {State} state @returns {string} */
function lateWords({ problems, save }) {
  if (problems.length > 0) return 'earlier counts';
  return save.state === 'offline' ? 'counted before' : 'counting';
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
 * @param {Map<string, Mark>} ties
 * @returns {Card}
 */
function cardOf(state, candidate, index, ties) {
  const { doc, result } = state;
  const found = result?.candidates.find((c) => c.id === candidate.id);
  const layout = layoutOf(found);
  const counted = state.resultOf ?? doc;
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
    known: found ? knownOf(counted, found) : NO_MARK,
    tie: ties.get(candidate.id) ?? NO_MARK,
    ridge: found && isWidened(found) ? { kind: 'ridge', text: 'ridge strip widened', title: `For ${ridgeWords([{ letter: letterOf(index), result: found }])}` } : NO_MARK,
    blocks: found?.size ? blocksOf(counted, found.size, found.fill) : NO_MARK,
    facingMissing: found?.size ? facingMissing(counted) && !isLit(result) : false,
    gained: gainedOf(layout),
    dark: darkOf(counted, layout),
    hand: handOf(counted, layout),
    refused: refusedOf(counted, layout && withoutTrials(state, candidate.id, layout)),
    tidy: layout ? tidyWords(layout.tidiness) : '',
    tidyShort: layout ? tidyShort(layout.tidiness) : '',
    offer: offerOf(counted, found),
    planes: layout ? planesOf(doc, layout) : [],
    shown: candidate.id === shownId(state),
  };
}

/**
 * Whether a plane's own limit, and not the roof, ends its count.
 * @param {Doc} doc
 * @param {PlaneLayoutResult} part
 * @returns {number|null} the limit, null where the roof ends the count
 */
export function limitOf(doc, { plane_id, count, bound }) {
  const limit = doc.planes.find((p) => p.id === plane_id)?.module_limit ?? null;
  return limit !== null && count === limit && limit < bound ? limit : null;
}

/**
 * Proved: every plane holds as many as its bound allows. Limited: a plane is
 * kept below what it might hold, so that the proof says nothing of the roof.
 * A size that is met needs neither.
 * @param {Doc} doc
 * @param {CandidateResult} found
 * @returns {Mark}
 */
function knownOf(doc, { fill, size }) {
  if (size?.fits) return NO_MARK;
  const held = fill.by_plane.flatMap((part) => {
    const limit = limitOf(doc, part);
    const plane = doc.planes.find((p) => p.id === part.plane_id);
    return limit === null || !plane ? [] : [`${planeName(doc, plane)} is held at its limit of ${plural(limit, 'module')}`];
  });
  if (held.length > 0) return { kind: 'limited', text: 'limited', title: held.join('. ') };
  if (fill.count === 0 || !fill.by_plane.every((part) => part.proved)) return NO_MARK;
  return { kind: 'proved', text: 'proved', title: 'No other arrangement square to the eaves holds more of these modules' };
}

/** @param {Tidiness} tidiness */
function tidyShort({ rail_runs: runs, blocks }) {
  return runs === 0 ? '' : `${plural(runs, 'run')}, ${plural(blocks, 'block')}`;
}

/**
 * What the limit of blocks does to a size: it cannot be kept, or keeping it
 * puts modules in shade though the filled roof has places enough outside it.
 * @param {Doc} doc that was counted
 * @param {SizeResult} size
 * @param {LayoutResult} fill
 * @returns {Mark}
 */
export function blocksOf({ target }, { need, layout }, fill) {
  const most = target.max_blocks;
  const { blocks } = layout.tidiness;
  if (most === 0) return NO_MARK;
  if (blocks > most) {
    return { kind: 'blocks', text: `${plural(most, 'block')} asked, ${blocks} needed`, title: `No layout found holds ${plural(layout.count, 'module')} in fewer than ${plural(blocks, 'block')}` };
  }
  if (layout.in_shade === 0 || fill.count - fill.in_shade < need) return NO_MARK;
  return { kind: 'blocks', text: `${layout.in_shade} in shade to keep to ${plural(most, 'block')}`, title: 'The roof has places enough outside shade, in more blocks' };
}

/**
 * Whether planes in use face different ways while nobody has said where the
 * house stands, so that none counts as sunnier than another.
 * @param {Doc} doc
 */
export function facingMissing({ site, planes, target }) {
  if (target.mode !== 'size' || !isUnset(site)) return false;
  const used = planes.filter((plane) => plane.use);
  return used.some((plane) => plane.azimuth_deg !== used[0].azimuth_deg);
}

/** What to do where the facing is missing. */
export const FACING_WORDS = 'facing not counted: give the site’s latitude';

/** @param {LayoutResult|undefined} layout @returns {Mark} */
function gainedOf(layout) {
  const more = layout?.gained ?? 0;
  if (more === 0) return NO_MARK;
  return { kind: 'gained', text: `+${more} found`, title: `Looking longer than while the drawing moves has found ${plural(more, 'module')} more` };
}

/** @param {Doc} doc that was counted @param {LayoutResult|undefined} layout @returns {Mark} */
function darkOf({ target }, layout) {
  const count = layout?.left_dark ?? 0;
  if (count === 0) return NO_MARK;
  return { kind: 'dark', text: `${count} left out as dark`, title: `Without the limit of ${trim(target.min_access_pct, 1)} % of open light there would be ${plural(count, 'module')} more` };
}

/**
 * A layout without what is refused of modules that are only held over a place:
 * nobody has placed them there yet, and the pointer says what is wrong with it.
 * @param {State} state
 * @param {string} candidateId
 * @param {LayoutResult} layout
 * @returns {LayoutResult} layout itself where nothing is held
 */
function withoutTrials(state, candidateId, layout) {
  if (!state.gestureOf) return layout;
  return { ...layout, by_plane: layout.by_plane.map((part) => ({ ...part, refused: placed(state, candidateId, part) })) };
}

/**
 * What the roof does not allow of the modules that a person has placed.
 * @param {State} state
 * @param {string|undefined} candidateId
 * @param {PlaneLayoutResult} part
 * @returns {PlaneLayoutResult['refused']}
 */
export function placed({ gestureOf, resultOf }, candidateId, part) {
  const counted = resultOf && handLayoutOf(resultOf, candidateId, part.plane_id);
  if (!gestureOf || !counted) return part.refused;
  const before = new Set(handLayoutOf(gestureOf, candidateId, part.plane_id)?.modules);
  return part.refused.filter(({ index }) => before.has(counted.modules[index]));
}

/** @param {Doc} doc that was counted @param {LayoutResult|undefined} layout @returns {Mark} */
function handOf(doc, layout) {
  const parts = onPlanes(doc, layout, (part) => {
    const words = handWords(part);
    return words ? [words] : [];
  });
  return parts.length > 0 ? { kind: 'hand', text: 'by hand', title: parts.join('. ') } : NO_MARK;
}

/** @param {Doc} doc that was counted @param {LayoutResult|undefined} layout @returns {Mark} */
function refusedOf(doc, layout) {
  const parts = refusals(doc, layout);
  return parts.length > 0 ? { kind: 'refused', text: `${parts.length} not allowed`, title: parts.join('. ') } : NO_MARK;
}

/**
 * The modules that a person placed where the roof does not allow them.
 * @param {Doc} doc that was counted
 * @param {LayoutResult|undefined} layout
 * @returns {string[]} 'South: module 3 of those placed by hand, within a setback'
 */
export function refusals(doc, layout) {
  return onPlanes(doc, layout, ({ refused }) => refused.map((one) => `module ${one.index + 1} of those placed by hand, ${whyWords(doc, one, true)}`));
}

/**
 * @param {Doc} doc
 * @param {LayoutResult|undefined} layout
 * @param {(part: PlaneLayoutResult) => string[]} say
 * @returns {string[]} with the plane's name in front
 */
function onPlanes(doc, layout, say) {
  return (layout?.by_plane ?? []).flatMap((part) => {
    const plane = doc.planes.find((p) => p.id === part.plane_id);
    return plane ? say(part).map((words) => `${planeName(doc, plane)}: ${words}`) : [];
  });
}

/** @param {Doc} doc that was counted @param {CandidateResult|undefined} found */
function offerOf(doc, found) {
  const layout = layoutOf(found);
  if (!found?.offer || !layout) return { text: '', title: '' };
  const { offer } = found;
  const after = tidyWords({
    rail_runs: layout.tidiness.rail_runs + offer.rail_runs, blocks: layout.tidiness.blocks + offer.blocks, turns: offer.turns,
  });
  return {
    text: offerWords(offer, layout.tidiness.turns),
    title: `Set the style from ${styleWord(doc.rules.style)} to most modules, for every module type. Here that makes ${plural(layout.count + offer.more, 'module')} and ${kilowatts(offer.pdc_w)} ${powerUnit(doc.site)} in ${after}`,
  };
}

/**
 * Why the wider strip along the ridge is kept, from the letters on.
 * @param {{letter: string, result: CandidateResult}[]} kept with the wider strip, at least one
 */
export function ridgeWords(kept) {
  const letters = kept.map(({ letter }) => letter).join(', ');
  if (kept[0].result.size) return `${letters}: so many modules pass the rule set’s limit of covered roof.`;
  const parts = kept.map(({ result }) => `${trim(result.coverage * 100, 1)} %`).join(', ');
  return `${letters}: with the narrow strip the modules would cover ${parts} of the roof in plan, more than the rule set allows with it, so the roof was packed again.`;
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
 * What candidates share, in the word for just that: equal counts of unlike
 * wattage are no tie of what is sold. Asked for a size the counts follow from
 * the wattage, so that being equal says nothing.
 * @param {Doc} doc
 * @param {Result|null} result
 * @returns {Map<string, Mark>} by candidate ID
 */
function tiesOf(doc, result) {
  const fills = doc.candidates.flatMap(({ id }, index) => {
    const found = result?.candidates.find((c) => c.id === id);
    return found && !found.size && found.fill.count > 0 ? [{ id, letter: letterOf(index), count: found.fill.count, watts: found.fill.pdc_w }] : [];
  });
  const unit = powerUnit(doc.site);
  return new Map(
    fills.map((one) => {
      const others = fills.filter((other) => other !== one);
      const count = others.filter((o) => o.count === one.count && o.watts !== one.watts).map((o) => o.letter);
      const power = others.filter((o) => o.watts === one.watts && o.count !== one.count).map((o) => o.letter);
      const both = others.filter((o) => o.watts === one.watts && o.count === one.count).map((o) => o.letter);
      return [one.id, tieMark(unit, { both, power, count })];
    }),
  );
}

/**
 * @param {string} unit of the power
 * @param {{both: string[], power: string[], count: string[]}} same letters of the others
 * @returns {Mark} the strongest that can be said
 */
function tieMark(unit, { both, power, count }) {
  if (both.length > 0) return { kind: 'tie', text: `tie with ${both.join(' and ')}`, title: `As many modules and as many ${unit} as ${both.join(' and ')}` };
  if (power.length > 0) return { kind: 'tie', text: `same ${unit} as ${power.join(' and ')}`, title: `As many ${unit} as ${power.join(' and ')}, with another number of modules` };
  if (count.length > 0) return { kind: 'tie', text: `same count as ${count.join(' and ')}`, title: `As many modules as ${count.join(' and ')}, of another wattage` };
  return NO_MARK;
}

/**
 * The counts in one sentence, for people who hear the page.
 * @param {Tally} tally
 * @returns {string}
 */
export function spoken({ question, cards }) {
  return `${question}. ${cards.map(spokenCard).join('. ')}.`;
}

/**
 * What a longer look at the same drawing has changed, for people who hear the
 * page.
 * @param {Tally} before
 * @param {Tally} now
 * @returns {string} '' for nothing
 */
export function spokenNews(before, now) {
  const news = now.cards.filter((card, i) => {
    const was = before.cards[i];
    return !was || was.count !== card.count || was.known.text !== card.known.text || was.offer.text !== card.offer.text;
  });
  return news.map((card) => `${spokenCard(card)}.`).join(' ');
}

/** @param {Card} card */
function spokenCard(card) {
  const marks = [card.size, card.blocks.text, card.facingMissing && FACING_WORDS, card.gained.text, card.known.text, card.dark.text, card.tie.text, card.ridge.text, card.hand.text, card.refused.text, card.offer.text && `most modules: ${card.offer.text}`];
  return `${card.letter}: ${card.count} ${card.countWords}${card.shade && `, ${card.shade}`}, ${card.power} ${card.unit}${marks.filter(Boolean).map((words) => `, ${words}`).join('')}`;
}
