// Stand-ins for the parts that sync works with: a clock moved by hand, a
// server that keeps one project, and the browser's database as a map.

/** @import {Doc} from '../js/model/types.js' */
/** @import {Api, SaveAnswer} from '../js/sync/api.js' */
/** @import {Kept, Local} from '../js/sync/local.js' */
/** @import {Clock} from '../js/sync/clock.js' */

/** Lets everything that is already promised happen. */
export async function settle() {
  for (let i = 0; i < 20; i++) await Promise.resolve();
}

/** @returns {Clock & {pass: (ms: number) => Promise<void>}} */
export function fakeClock() {
  let now = 1_000_000;
  /** @type {{at: number, run: () => void}[]} */ let timers = [];
  return {
    now: () => now,
    after(ms, run) {
      const timer = { at: now + ms, run };
      timers.push(timer);
      return () => {
        timers = timers.filter((t) => t !== timer);
      };
    },
    async pass(ms) {
      const end = now + ms;
      for (;;) {
        await settle();
        const next = timers.filter((t) => t.at <= end).sort((a, b) => a.at - b.at)[0];
        if (!next) break;
        timers = timers.filter((t) => t !== next);
        now = next.at;
        next.run();
      }
      now = end;
      await settle();
    },
  };
}

/**
 * A server with the rules of PUT /api/projects/{id}: saving what is stored
 * already answers with the stored version, anything else needs its version.
 * @param {Doc} doc
 * @param {number} version
 */
export function fakeServer(doc, version) {
  const server = {
    doc,
    version,
    /** 'up', 'down' (nothing arrives) or 'mute' (it arrives, the answer is lost) */
    line: 'up',
    /** @type {((doc: Doc) => {path: string, message: string}[])} */
    problemsOf: () => [],
    gone: false,
    /** @type {string[]} labels in the order they arrived */
    saves: [],
    /** when its version was saved */
    savedAt: '2026-03-01T09:30:00Z',
    /** @type {Doc[]} */
    uploads: [],
    /** @type {(() => void)[]|null} answers held back while it is a list */
    held: null,
  };
  /** @param {number} base @param {string} text @returns {SaveAnswer} */
  function decide(base, text) {
    const sent = /** @type {Doc} */ (JSON.parse(text));
    server.saves.push(sent.site.label);
    if (server.gone) return { kind: 'gone' };
    const problems = server.problemsOf(sent);
    if (problems.length > 0) return { kind: 'refused', problems };
    if (text === JSON.stringify(server.doc)) return { kind: 'saved', version: server.version };
    if (base !== server.version) return { kind: 'stale', theirs: { version: server.version, doc: server.doc, savedAt: server.savedAt } };
    server.doc = sent;
    server.version += 1;
    return { kind: 'saved', version: server.version };
  }
  /** @type {Api} */
  const api = {
    async save(base, text) {
      if (server.line === 'down') throw new Error('no line');
      const answer = decide(base, text);
      if (server.held) await new Promise((resolve) => server.held?.push(() => resolve(undefined)));
      if (server.line === 'mute') throw new Error('no answer');
      return answer;
    },
    evaluate: () => Promise.reject(new Error('not asked here')),
    async uploadCopy(copy) {
      if (server.line !== 'up') throw new Error('no line');
      server.uploads.push(copy);
      return '/projects/copy';
    },
  };
  return { server, api };
}

/** @returns {Local & {records: Map<string, Kept>, broken: boolean}} */
export function fakeLocal() {
  const local = {
    /** @type {Map<string, Kept>} */
    records: new Map(),
    broken: false,
    check() {
      if (local.broken) throw new Error('no database');
    },
    /** @param {Kept} kept */
    async put(kept) {
      local.check();
      local.records.set(`${kept.project} ${kept.writer}`, structuredClone(kept));
    },
    /** @param {string} project @param {string} writer @param {string} text */
    async remove(project, writer, text) {
      local.check();
      const key = `${project} ${writer}`;
      if (local.records.get(key)?.text === text) local.records.delete(key);
    },
    /** @param {string} project */
    async list(project) {
      local.check();
      return [...local.records.values()].filter((kept) => kept.project === project).sort((a, b) => b.time - a.time);
    },
  };
  return local;
}

/**
 * @param {string} label
 * @returns {Doc}
 */
export function docNamed(label) {
  return {
    schema: 3,
    site: { label, lat_deg: 0, lon_deg: 0, elevation_m: 0, utc_offset_h: 0, units: 'metric', rule_family: 'nec', invented: true },
    planes: [],
    keep_outs: [],
    rules: {
      set: 'distances',
      distances: { eave_m: 0.3, ridge_m: 0.3, rake_m: 0.3, hip_m: 0.3, valley_m: 0.3, break_m: 0.3, wall_m: 0.3, party_wall_m: 0.3 },
      style: 'rows', tidy_cost_modules: 0, gap_eave_m: 0.02, gap_slope_m: 0.02, end_allowance_m: 0.04,
    },
    candidates: [],
    target: { mode: 'fill', size_w: 1000, max_blocks: 0, min_access_pct: 0, chosen: '' },
    hand: [],
  };
}

/**
 * @param {string} label
 * @returns {(doc: Doc) => Doc}
 */
export const relabel = (label) => (doc) => ({ ...doc, site: { ...doc.site, label } });
