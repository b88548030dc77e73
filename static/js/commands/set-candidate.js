import { handLayouts } from '../model/hand.js';
import { mapped, patched, spliced, withId } from './edit.js';
import { withoutOrphans } from './hand-layouts.js';

/** @import {Candidate, Doc} from '../model/types.js' */

/** The letters A to E. */
export const CANDIDATES_MAX = 5;

/**
 * A datasheet stays that of its candidate: it takes a new name, and goes where
 * power, size or origin change without it.
 * @param {{id: string, patch: Partial<Omit<Candidate, 'id'>>}} args
 * @returns {(doc: Doc) => Doc}
 */
export function setCandidate({ id, patch }) {
  return (doc) => patched(doc, { candidates: withId(doc.candidates, id, (c) => withDatasheet(patched(c, patch))) });
}

/** @param {Candidate} c @returns {Candidate} */
function withDatasheet(c) {
  const sheet = c.datasheet;
  if (!sheet) return c;
  const same = sheet.id === c.catalog_id && sheet.pmax_w === c.pmax_w && sheet.length_m === c.length_m && sheet.width_m === c.width_m && sheet.invented === c.invented;
  return patched(c, { datasheet: same ? patched(sheet, { label: c.label }) : null });
}

/**
 * Puts another module in a candidate's place; a proposal that was for the old
 * one is for the new one. What was set by hand stays where the new one is of
 * the same size.
 * @param {{id: string, candidate: Candidate}} args
 * @returns {(doc: Doc) => Doc}
 */
export function replaceCandidate({ id, candidate }) {
  return (doc) => {
    const candidates = withId(doc.candidates, id, (c) => (sameCandidate(c, candidate) ? c : candidate));
    const chosen = doc.target.chosen === id && candidates !== doc.candidates ? candidate.id : doc.target.chosen;
    const hand = mapped(handLayouts(doc), (l) => (l.candidate_id === id && sameSize(doc, id, candidate) ? patched(l, { candidate_id: candidate.id }) : l));
    return withoutOrphans(patched(doc, { candidates, target: patched(doc.target, { chosen }), hand: hand.length > 0 ? hand : doc.hand }));
  };
}

/** @param {Doc} doc @param {string} id @param {Candidate} other @returns {boolean} */
function sameSize(doc, id, { length_m, width_m }) {
  return doc.candidates.some((c) => c.id === id && c.length_m === length_m && c.width_m === width_m);
}

/** @param {Candidate} a @param {Candidate} b @returns {boolean} */
function sameCandidate(a, b) {
  return patched(a, b) === a;
}

/** @param {{candidate: Candidate}} args @returns {(doc: Doc) => Doc} the same document when all letters are taken */
export function addCandidate({ candidate }) {
  return (doc) =>
    doc.candidates.length >= CANDIDATES_MAX ? doc : patched(doc, { candidates: [...doc.candidates, candidate] });
}

/** @param {{id: string}} args @returns {(doc: Doc) => Doc} a proposal for it goes back to the first candidate */
export function removeCandidate({ id }) {
  return (doc) => {
    if (!doc.candidates.some((c) => c.id === id)) return doc;
    const target = doc.target.chosen === id ? patched(doc.target, { chosen: '' }) : doc.target;
    return withoutOrphans(patched(doc, { candidates: doc.candidates.filter((c) => c.id !== id), target }));
  };
}

/** @param {{id: string, to: number}} args the place it shall have, 0 for letter A; beyond either end is the end @returns {(doc: Doc) => Doc} */
export function reorderCandidate({ id, to }) {
  return (doc) => {
    const from = doc.candidates.findIndex((c) => c.id === id);
    const place = Math.min(Math.max(to, 0), doc.candidates.length - 1);
    if (from < 0 || place === from) return doc;
    return patched(doc, { candidates: spliced(spliced(doc.candidates, from, 1), place, 0, doc.candidates[from]) });
  };
}
