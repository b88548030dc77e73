// Turning modules between portrait and landscape, each rail run as a whole:
// its modules stay at the gap they had, and rows above give way.

import { frameOf, slopeToPlan } from '../model/geometry.js';
import { boxOf, turnedSize } from '../model/hand.js';
import { railRuns } from '../model/hand-rows.js';
import { placeModules } from './hand-modules.js';

/** @import {Candidate, Doc, HandModule, Plane} from '../model/types.js' */
/** @import {Box} from '../model/hand.js' */
/** @import {Picked} from './hand-modules.js' */

/** @typedef {{along: 0|0.5|1, up: 0|0.5|1}} Anchor what stays: 0 the left or lower side, 1 the other, 0.5 the middle */

/** @type {readonly Anchor[]} ways to turn about a place, the middle first */
export const ANCHORS = Object.freeze([{ along: 0.5, up: 0.5 }, { along: 0, up: 0 }, { along: 1, up: 0 }, { along: 0, up: 1 }, { along: 1, up: 1 }]);

/** @param {Picked & {anchor: Anchor}} args @returns {(doc: Doc) => Doc} */
export function turnModules({ anchor, ...args }) {
  return (doc) => {
    const plane = doc.planes.find((p) => p.id === args.planeId);
    const candidate = doc.candidates.find((c) => c.id === args.candidateId);
    if (!plane || !candidate || args.picked.length === 0) return doc;
    return placeModules({ ...args, places: turnedPlaces(doc, plane, candidate, args.picked.map((i) => args.shown[i]), anchor) })(doc);
  };
}

/** @param {Doc} doc @param {Plane} plane @param {Candidate} candidate @param {HandModule[]} modules @param {Anchor} anchor @returns {HandModule[]} */
function turnedPlaces(doc, plane, candidate, modules, anchor) {
  const frame = frameOf(plane);
  const boxes = modules.map((m) => boxOf(frame, candidate, m));
  const turned = modules.map((m) => otherTurn(m.turn));
  const sizes = turned.map((turn) => turnedSize(candidate, turn));
  const runs = railRuns(boxes, doc.rules);
  const levels = levelsOf(runs.map((run) => boxes[run[0]]));
  const tallest = Math.max(...levels) + 1;
  /** @type {HandModule[]} */
  const places = [...modules];
  runs.forEach((run, r) => {
    const [first] = run;
    const wider = sizes[first].w_m - boxes[first].w_m;
    const taller = sizes[first].h_m - boxes[first].h_m;
    run.forEach((i, k) => {
      const u_m = boxes[i].u_m + (k - anchor.along * run.length) * wider;
      const v_m = boxes[i].v_m + (levels[r] - anchor.up * tallest) * taller;
      places[i] = { ...modules[i], ...slopeToPlan(frame, { u_m, v_m }), turn: turned[i] };
    });
  });
  return places;
}

/** @param {HandModule['turn']} turn @returns {HandModule['turn']} */
export function otherTurn(turn) {
  return turn === 'portrait' ? 'landscape' : 'portrait';
}

/** @param {Box[]} rows first module of each run, lowest first @returns {number[]} how many levels lie below each */
function levelsOf(rows) {
  let level = 0;
  return rows.map((row, i) => {
    if (i > 0 && row.v_m >= rows[i - 1].v_m + rows[i - 1].h_m) level++;
    return level;
  });
}
