// The server's answers, turned into values. No answer, a broken answer and a
// server failure all reject: the caller tries again. Everything the server
// decided comes back as a value.

/** @import {Doc, Result, Finding} from '../model/types.js' */
/** @import {Budget, Evaluation} from './evaluate.js' */

/** Longest wait for an answer; after it the request counts as unanswered. */
const TIMEOUT_MS = 20000;

/** The document on the server when a save came too late. */
/** @typedef {{version: number, doc: Doc, savedAt: string}} Stored `savedAt` is '' when unknown */
/**
 * @typedef {{kind: 'saved', version: number}
 *   | {kind: 'stale', theirs: Stored}
 *   | {kind: 'refused', problems: Finding[]}
 *   | {kind: 'gone'}} SaveAnswer
 */
/**
 * @typedef {object} Api
 * @property {(version: number, text: string) => Promise<SaveAnswer>} save
 * @property {(doc: Doc, budget: Budget, lit: boolean, signal?: AbortSignal) => Promise<Evaluation>} evaluate lit: with the light on the roof; a signal takes the place of the usual limit
 * @property {(doc: Doc) => Promise<string>} uploadCopy the address of the new project
 */

/**
 * @param {typeof globalThis.fetch} fetch
 * @param {string} id project
 * @returns {Api}
 */
export function createApi(fetch, id) {
  const limit = () => AbortSignal.timeout(TIMEOUT_MS);
  const json = { 'Content-Type': 'application/json' };
  return {
    async save(version, text) {
      const response = await fetch(`/api/projects/${encodeURIComponent(id)}`, {
        method: 'PUT',
        headers: json,
        body: `{"version":${version},"doc":${text}}`,
        signal: limit(),
      });
      return saveAnswer(response);
    },
    async evaluate(doc, budget, lit, signal = limit()) {
      const response = await fetch(`/api/evaluate?budget=${budget}${lit ? '&light=1' : ''}`, {
        method: 'POST',
        headers: json,
        body: JSON.stringify(doc),
        signal,
      });
      if (response.ok) return { result: /** @type {Result} */ (await response.json()), problems: [] };
      return { result: null, problems: await problemsOf(response) };
    },
    async uploadCopy(doc) {
      const form = new FormData();
      form.set('file', new Blob([JSON.stringify(doc)], { type: 'application/json' }), 'project.json');
      const response = await fetch('/projects/upload', { method: 'POST', body: form, signal: limit() });
      if (!response.ok) throw new Error(`upload answered ${response.status}`);
      return response.url;
    },
  };
}

/**
 * @param {Response} response
 * @returns {Promise<SaveAnswer>}
 */
async function saveAnswer(response) {
  if (response.ok) {
    const { version } = await response.json();
    if (!Number.isInteger(version)) throw new Error('saved without a version');
    return { kind: 'saved', version };
  }
  if (response.status === 409) {
    const { version, doc, saved_at: savedAt = '' } = await response.json();
    if (!Number.isInteger(version) || !doc) throw new Error('conflict without the other version');
    return { kind: 'stale', theirs: { version, doc, savedAt } };
  }
  if (response.status === 404) return { kind: 'gone' };
  return { kind: 'refused', problems: await problemsOf(response) };
}

/**
 * @param {Response} response
 * @returns {Promise<Finding[]>}
 */
async function problemsOf(response) {
  if (response.status >= 500 || response.status === 408 || response.status === 429) {
    throw new Error(`the server answered ${response.status}`);
  }
  const body = await response.json().catch(() => null);
  if (Array.isArray(body?.problems) && body.problems.length > 0) return body.problems;
  return [{ path: '', message: `The server did not accept this (answer ${response.status}).` }];
}
