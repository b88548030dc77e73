// Modules and refusals in words.

import { handLayoutOf, shownCandidate } from './hand.js';

/** @import {Doc, HandLayout, KeepOut, RefusedModule} from './types.js' */
/** @import {State} from './store.js' */

/** @param {number} n @returns {string} '3 modules' */
export function modulesWord(n) {
  return `${n} ${n === 1 ? 'module' : 'modules'}`;
}

/** @param {string} verb @param {number} n @returns {string} 'Move 3 modules', 'Move module': what undo names */
export function stepLabel(verb, n) {
  return `${verb} ${n === 1 ? 'module' : `${n} modules`}`;
}

/** @type {Record<KeepOut['kind'], string>} keep-outs without a name of their own */
const KINDS = { chimney: 'the chimney', vent: 'the vent', pipe: 'the pipe', roof_window: 'the roof window', shade: 'the shade area', other: 'the obstruction' };

/** @param {Doc} doc @param {string} id @param {string} fallback @returns {string} */
function keepOutLabel(doc, id, fallback) {
  const k = doc.keep_outs.find((q) => q.id === id);
  return k ? k.label || KINDS[k.kind] : fallback;
}

/**
 * @param {Doc} doc
 * @param {RefusedModule} refused
 * @param {boolean} [numbers] say the number of a module that is in the way: what is kept in the document has one
 * @returns {string} why the roof does not allow a module, such as 'within a setback'
 */
export function whyWords(doc, { why, with: other }, numbers = false) {
  switch (why) {
    case 'outside': return 'beyond the edge of the plane';
    case 'setback': return 'within a setback';
    case 'path': return 'within an access path';
    case 'keep_out': return `on ${keepOutLabel(doc, other, 'a keep-out')} or its clearance`;
    case 'shade_off_limits': return keepOutLabel(doc, other, '') ? `on ${keepOutLabel(doc, other, '')}, which is off limits` : 'on shade that is off limits';
    case 'end': return 'no room for clamp and rail at its end';
    case 'overlap': return numbers && other ? `on or too close to module ${Number(other) + 1}` : 'on or too close to another module';
    case 'limit': return 'over the module limit of the plane';
  }
}

/**
 * Several refusals in one sentence.
 * @param {Doc} doc @param {RefusedModule[]} refused at least one @param {number} of how many modules were tried
 * @param {string} [misfit] what to say of them instead of how many are not allowed, such as 'The turned row does not fit there'
 * @returns {string} 'Not allowed there: on Chimney or its clearance.'
 */
export function refusalWords(doc, refused, of, misfit = '') {
  const words = [...new Set(refused.map((r) => whyWords(doc, r)))].join('; ');
  if (misfit) return `${misfit}: ${words}.`;
  return of === 1 ? `Not allowed there: ${words}.` : `${Math.min(refused.length, of)} of ${modulesWord(of)} not allowed there: ${words}.`;
}

/** @param {number} n how many modules are turned @param {boolean} row they are one row @returns {string} 'The turned row does not fit there' */
export function turnMisfit(n, row) {
  return n === 1 ? 'The turned module does not fit there' : `The turned ${row ? 'row does' : 'modules do'} not fit there`;
}

/** @param {HandLayout} before @returns {string} what became of the modules placed by hand when the rest was filled */
export function filledWords({ modules }) {
  const locked = modules.filter((m) => m.locked).length;
  const anew = modules.length - locked;
  const done = anew > 0 ? `${anew} unlocked ${anew === 1 ? 'module was' : 'modules were'} set anew` : `The rest was filled around ${locked} locked ${locked === 1 ? 'module' : 'modules'}`;
  return `${done}. Undo leads back.`;
}

/** @param {HandLayout} before @returns {string} what became of the modules placed by hand when the plane went back to automatic */
export function resetWords({ modules }) {
  const locked = modules.filter((m) => m.locked).length;
  const gone = modules.length === 0 ? '' : ` in place of ${modules.length} placed by hand${locked > 0 ? ` (${locked} locked)` : ''}`;
  return `The program sets the modules of this plane${gone}. Undo leads back.`;
}

/** @param {State} state @param {string} planeId @returns {string} who set the modules that are shown on a plane */
export function whoSet(state, planeId) {
  const candidate = shownCandidate(state);
  const letter = letterOf(state.doc, candidate?.id);
  const layout = handLayoutOf(state.doc, candidate?.id, planeId);
  if (!layout) return `Set by the program for module ${letter}.`;
  const locked = layout.modules.filter((m) => m.locked).length;
  if (layout.fill) return `Filled by the program around ${locked} locked ${locked === 1 ? 'module' : 'modules'}, for module ${letter}.`;
  return `Set by hand for module ${letter}: ${modulesWord(layout.modules.length)}${locked > 0 ? `, ${locked} of them locked` : ''}.`;
}

/** @param {Doc} doc @param {string|undefined} candidateId @returns {string} A to E */
export function letterOf(doc, candidateId) {
  return 'ABCDE'[doc.candidates.findIndex((c) => c.id === candidateId)] ?? '?';
}
