// Keeps the light on the roof in step with the drawing: the map always, since
// counts are made with it; shadows, yield and worth while they are looked at.

/** @import {Store, State, LightState} from '../model/store.js' */
/** @import {Doc} from '../model/types.js' */
/** @import {Clock} from './clock.js' */
/** @import {LightApi} from './light-api.js' */

import { shownCandidate, shownLayout } from '../model/hand.js';
import { sameLight } from '../model/light.js';
import { isUnset } from '../model/station.js';
import { Refused, createAsker } from './asker.js';

const NO_PLACE = 'Where the house stands is not known yet. Give the site its latitude and longitude.';
const NOT_SOUND = 'The drawing has something to put right first.';

/** How long a drawing rests before its light is asked for: longer than the pause between two pulls. */
const REST_MS = 400;
/** A slider that moves asks for one moment after the other. */
const SLIDER_MS = 30;

/**
 * @typedef {object} LightSync what a person can do about it
 * @property {() => void} stop calls the work on the map off
 * @property {() => void} again works the map out after all
 * @property {() => void} askWorths
 * @property {() => void} stopWorths
 * @property {() => void} retryNow
 */

/**
 * @param {{store: Store, api: LightApi, clock: Clock}} parts
 * @returns {LightSync}
 */
export function followLight({ store, api, clock }) {
  /** @template {keyof LightState} K @param {K} what @returns {(patch: Partial<LightState[K]>) => void} */
  const into = (what) => (patch) => store.setLight(what, patch);
  const map = createAsker({ send: (doc, _, signal) => (isSound(store.state, doc) ? api.light(doc, signal) : Promise.reject(new Refused(NOT_SOUND))), onStep: into('map'), clock, restMs: REST_MS });
  const shadows = createAsker({ send: (doc, moment, signal) => api.shadows(doc, moment, signal), onStep: into('shadows'), clock, restMs: SLIDER_MS, isPatient: true });
  const yields = createAsker({ send: (doc, /** @type {State['budget']} */ budget, signal) => api.yields(doc, budget, signal), onStep: into('yields'), clock, restMs: REST_MS });
  const worths = createAsker({ send: (doc, /** @type {{budget: State['budget'], candidate: string}} */ { budget, candidate }, signal) => api.worths(doc, budget, candidate, signal), onStep: into('worths'), clock, restMs: 0 });

  /** @param {State} state */
  const askMap = (state) => {
    if (state.doc.planes.length === 0) return map.drop();
    if (isUnset(state.doc.site)) return map.refuse(state.doc, NO_PLACE);
    map.want(state.doc, null);
  };
  /** @type {Doc|null} the last one outside a gesture */
  let settled = null;
  /** @param {State} now */
  const followMap = (now) => {
    if (now.inGesture) return;
    const same = sameLight(settled, now.doc);
    settled = now.doc;
    if (same) return;
    const { value, of, step } = now.light.map;
    if (!value || !sameLight(of, now.doc)) askMap(now);
    else if (step !== 'idle') map.drop();
  };
  /** @param {State} now @param {State|null} before */
  const followShadows = (now, before) => {
    const { on, sun, moment } = now.ui.light;
    if (!on || !sun || now.inGesture || isUnset(now.doc.site)) return;
    const was = before?.ui.light;
    const changed = !was?.on || !was.sun || was.moment !== moment || before?.inGesture || !before || !sameLight(before.doc, now.doc);
    if (changed) shadows.want(now.doc, moment);
  };
  /** @type {{doc: Doc|null, places: string}} whose yield was asked for last */
  let asked = { doc: null, places: '' };
  /** @param {State} now */
  const followYields = (now) => {
    const { ui, doc, resultOf, inGesture } = now;
    if (!ui.light.on || !ui.light.module || inGesture || resultOf !== doc) return;
    // The longer search mostly leaves the modules where they were.
    const places = placesOf(now);
    if (asked.doc === doc && asked.places === places) return;
    asked = { doc, places };
    yields.want(doc, now.budget);
  };

  store.subscribe((now, before) => {
    if (now.doc === before.doc && now.ui.light === before.ui.light && now.inGesture === before.inGesture && now.result === before.result) return;
    followMap(now);
    followShadows(now, before);
    followYields(now);
  });
  followMap(store.state);
  return {
    stop: map.stop,
    again: () => askMap(store.state),
    askWorths: () => worths.want(store.state.doc, { budget: store.state.budget, candidate: shownCandidate(store.state)?.id ?? '' }),
    stopWorths: worths.drop,
    retryNow() {
      for (const asker of [map, shadows, yields, worths]) asker.retryNow();
    },
  };
}

/** @param {State} state @returns {string} where the modules that are shown lie */
function placesOf(state) {
  const parts = shownLayout(state)?.layout.by_plane ?? [];
  return JSON.stringify([shownCandidate(state)?.id, parts.map((p) => p.modules.map(({ plan, turn }) => [plan[0], turn]))]);
}

/** @param {State} state @param {Doc} doc @returns {boolean} nothing is known against the drawing */
function isSound(state, doc) {
  return state.doc !== doc || state.problems.length === 0;
}
