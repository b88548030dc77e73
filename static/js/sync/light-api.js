// The server's answers on light, shadows, yield and worth, and the import of
// weather files.

/** @import {Doc, Moment, ShadeArea, Shadows, Sunlight, WeatherFile, Worth, YieldResult} from '../model/types.js' */

/** @import {Budget} from './evaluate.js' */

import { Refused } from './asker.js';

/** Longest wait for an answer. */
const TIMEOUT_MS = 120000;

/**
 * @typedef {object} LightApi all reject with Refused where the server says why it cannot answer
 * @property {(doc: Doc, signal: AbortSignal) => Promise<Sunlight>} light
 * @property {(doc: Doc, moment: Moment, signal: AbortSignal) => Promise<Shadows>} shadows
 * @property {(doc: Doc, budget: Budget, signal: AbortSignal) => Promise<YieldResult>} yields of the layouts counted within a budget
 * @property {(doc: Doc, budget: Budget, candidate: string, signal: AbortSignal) => Promise<Worth[]>} worths for one candidate's modules
 * @property {(doc: Doc, pct: number) => Promise<ShadeArea[]>} shade places under a share of open light
 * @property {(file: Blob, name: string) => Promise<WeatherFile>} importWeather
 */

/** @param {typeof globalThis.fetch} fetch @returns {LightApi} */
export function createLightApi(fetch) {
  /** @param {string} path @param {unknown} body @param {AbortSignal} [signal] */
  async function post(path, body, signal) {
    const limit = AbortSignal.timeout(TIMEOUT_MS);
    return answerOf(fetch(path, {
      method: 'POST',
      headers: { 'Content-Type': 'application/json' },
      body: JSON.stringify(body),
      signal: signal ? AbortSignal.any([signal, limit]) : limit,
    }));
  }
  return {
    async light(document, signal) {
      const { key, words, warnings, planes, why } = await post('/api/light', { document }, signal);
      if (why) throw new Refused(why);
      return { key, words, warnings, planes };
    },
    shadows: (document, { month, day, clock_h }, signal) => post('/api/shadows', { document, month, day, clock_h }, signal),
    yields: (document, budget, signal) => post(`/api/yield?budget=${budget}`, { document }, signal),
    worths: async (document, budget, candidate, signal) => (await post(`/api/worths?budget=${budget}`, { document, candidate }, signal)).worths,
    shade: async (document, min_access_pct) => (min_access_pct > 0 ? (await post('/api/light', { document, min_access_pct })).shade_areas : []),
    async importWeather(file, name) {
      return answerOf(fetch('/api/weather-files', {
        method: 'POST',
        headers: { 'Content-Type': 'application/octet-stream', 'X-File-Name': encodeURIComponent(name) },
        body: file,
        signal: AbortSignal.timeout(TIMEOUT_MS),
      }));
    },
  };
}

/** @param {Promise<Response>} asked @returns {Promise<any>} */
async function answerOf(asked) {
  const response = await asked.catch(() => null);
  if (!response) throw new Error('the server does not answer.');
  if (response.ok) return response.json();
  if (response.status >= 500 || response.status === 408 || response.status === 429) throw new Error(`the server answered ${response.status}.`);
  const body = await response.json().catch(() => null);
  const problems = Array.isArray(body?.problems) ? body.problems : [];
  /** @param {{path: string, message: string}} p */
  const words = ({ path, message }) => (path.startsWith('line ') ? `In ${path}: ${message}` : message);
  throw new Refused(problems.map(words).join(' ') || body?.why || `The server did not accept this (answer ${response.status}).`);
}
