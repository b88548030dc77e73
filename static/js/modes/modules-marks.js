// What is drawn while places for modules are tried: the modules as they would
// stand, refused ones marked, and the readings beside the pointer.

import { slopeToPlan, toSlope } from '../model/geometry.js';
import { boxOf, handLayoutOf, ringOf, shownCandidate } from '../model/hand.js';
import { whyWords } from '../model/hand-words.js';
import { formatLength } from '../model/units.js';
import { refusedAt } from './modules-trial.js';

/** @import {HandModule, Overlay} from '../model/types.js' */
/** @import {PlaneFrame, Px} from '../model/geometry.js' */
/** @import {BoxSnap} from '../model/hand-snap.js' */
/** @import {State} from '../model/store.js' */
/** @import {Stake} from './modules-trial.js' */

/**
 * @param {State} state
 * @param {{stake: Stake, lifted: HandModule[], frame: PlaneFrame, at: Px, caught: BoxSnap|null}} trial
 * @returns {Partial<Overlay>}
 */
export function trialMarks(state, { stake, lifted, frame, at, caught }) {
  const candidate = shownCandidate(state);
  if (!candidate || lifted.length === 0) return {};
  const refused = refusedAt(state, stake);
  const first = listed(state, stake) - stake.count;
  const bad = new Set(refused.flatMap((r) => [r.index, r.why === 'overlap' && r.with !== '' ? Number(r.with) : -1]));
  const { u_m, v_m } = toSlope(frame, lifted[0]);
  const u = state.doc.site.units;
  return {
    lifted,
    ghosts: lifted.map((m, i) => ({ ring: ringOf(frame, boxOf(frame, candidate, m)), refused: bad.has(first + i) })),
    guides: (caught?.guides ?? []).map((g) => ({ from: slopeToPlan(frame, g.from), to: slopeToPlan(frame, g.to), why: g.why })),
    // A place that is refused has caught nothing worth a word.
    snapWord: refused.length > 0 ? '' : (caught?.words.join(', ') ?? ''),
    tip: {
      at,
      lines: [
        `${formatLength(u_m, u)} along the eave`,
        `${formatLength(v_m, u)} up the slope`,
        ...[...new Set(refused.map((r) => `Not allowed: ${whyWords(state.doc, r)}`))].slice(0, 2),
      ],
      field: null,
    },
  };
}

/** @param {State} state @param {Stake} stake @returns {number} modules in the hand layout that was evaluated last */
function listed(state, { planeId }) {
  const layout = state.resultOf && handLayoutOf(state.resultOf, shownCandidate(state)?.id, planeId);
  return layout?.modules.length ?? 0;
}
