// Modules and refusals in words.

import { handLayoutOf, shownCandidate } from './hand.js';

/** @import {Doc, KeepOut, RefusedModule} from './types.js' */
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

/** @param {Doc} doc @param {RefusedModule} refused @returns {string} why the roof does not allow a module, such as 'within a setback' */
export function whyWords(doc, { why, with: other }) {
  switch (why) {
    case 'outside': return 'beyond the edge of the plane';
    case 'setback': return 'within a setback';
    case 'path': return 'within an access path';
    case 'keep_out': return `on ${keepOutLabel(doc, other, 'a keep-out')} or its clearance`;
    case 'shade_off_limits': return `on ${keepOutLabel(doc, other, 'shade')}, which is off limits`;
    case 'end': return 'no room for clamp and rail at its end';
    case 'overlap': return 'on or too close to another module';
    case 'limit': return 'over the module limit of the plane';
  }
}

/**
 * Several refusals in one sentence.
 * @param {Doc} doc @param {RefusedModule[]} refused at least one @param {number} of how many modules were tried
 * @returns {string} 'Not allowed there: on Chimney or its clearance.'
 */
export function refusalWords(doc, refused, of) {
  const words = [...new Set(refused.map((r) => whyWords(doc, r)))].join('; ');
  return of === 1 ? `Not allowed there: ${words}.` : `${Math.min(refused.length, of)} of ${modulesWord(of)} not allowed there: ${words}.`;
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
