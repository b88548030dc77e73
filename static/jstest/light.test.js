import assert from 'node:assert/strict';
import { test } from 'node:test';
import { addTree, setTarget } from '../js/commands/index.js';
import { frameOf, slopeToPlan } from '../js/model/geometry.js';
import { ringOf } from '../js/model/hand.js';
import { cellCorner, dateOf, dayOf, isLightStale, lightFrame, ringKWh, sameLight, scaleOf, stepOf, tonesOf } from '../js/model/light.js';
import { Store } from '../js/model/store.js';
import { stepLitModule, toggleLight } from '../js/modes/light.js';
import { clockWords, legendSteps, lightNote, litOf, monthsNote, sunWords, worthWords } from '../js/panels/light-words.js';
import { Refused, createAsker } from '../js/sync/asker.js';
import { createLightApi } from '../js/sync/light-api.js';
import { followLight } from '../js/sync/light.js';
import { keepOutline, keptOutline } from '../js/sync/outline.js';
import { Driver, gable, plane, points } from './drawing.fakes.js';
import { fakeClock, settle } from './sync.fakes.js';

/** Light on the south plane of the gable, 10 x 4.6 m in the slope, in cells of a metre: dark in the two columns at its left. @returns {any} */
function sunlight(key = 'k') {
  const south = plane('south', [[0, 0], [10, 0], [10, 4], [0, 4]]);
  const frame = frameOf(/** @type {any} */ (south));
  return {
    key, words: 'nearest station', warnings: [],
    planes: [{
      plane_id: 'south', origin_x_m: frame.origin.x_m, origin_y_m: frame.origin.y_m, azimuth_deg: 180, pitch_deg: 30, u_m: 0, v_m: 0, step_m: 1,
      columns: 10, rows: 5, open_kwh_m2: 1500, kwh_m2: Array.from({ length: 50 }, (_, i) => (i % 10 < 2 ? 600 : 1200)),
    }],
  };
}

test('a module has the mean of the cells under it, weighted by area, and cells off the plane do not count', () => {
  const light = sunlight().planes[0];
  const frame = lightFrame(light);
  /** @param {number} u @param {number} v @param {number} w @param {number} h */
  const at = (u, v, w, h) => ringKWh(light, ringOf(frame, { u_m: u, v_m: v, w_m: w, h_m: h }));
  /** @param {number|null} got @param {number} want */
  const close = (got, want) => assert.ok(Math.abs((got ?? NaN) - want) < 1e-6, `${got} instead of ${want}`);
  close(at(0, 0, 1, 1), 600);
  close(at(4.5, 1.2, 1.1, 1.8), 1200);
  close(at(1.5, 0, 1, 1), 900);
  assert.equal(at(-5, 0, 2, 2), null, 'off the plane');
  const holed = { ...light, kwh_m2: light.kwh_m2.map((/** @type {number} */ k, /** @type {number} */ i) => (i % 10 === 3 ? -1 : k)) };
  close(ringKWh(holed, ringOf(frame, { u_m: 2, v_m: 0, w_m: 2, h_m: 1 })), 1200);
});

test('cells lie where the plane has them, on any plane', () => {
  for (const azimuth_deg of [0, 90, 180, 217]) {
    const p = /** @type {any} */ (plane('p', [[0, 0], [10, 0], [10, 4], [0, 4]], { azimuth_deg, pitch_deg: 40 }));
    const frame = frameOf(p);
    const light = { ...sunlight().planes[0], origin_x_m: frame.origin.x_m, origin_y_m: frame.origin.y_m, azimuth_deg, pitch_deg: 40 };
    const got = cellCorner(light, lightFrame(light), 3, 2);
    const want = slopeToPlan(frame, { u_m: 3, v_m: 2 });
    assert.ok(Math.hypot(got.x_m - want.x_m, got.y_m - want.y_m) < 1e-9, `${azimuth_deg}`);
  }
});

test('steps of the map are round, few and in order, and the ruler ends with what there is', () => {
  const scale = scaleOf(sunlight(), 'kwh');
  assert.ok(scale);
  assert.deepEqual(scale.limits, [700, 800, 900, 1000, 1100]);
  assert.equal(stepOf(scale, 600), 0);
  assert.equal(stepOf(scale, 700), 1);
  assert.equal(stepOf(scale, 1200), 5);
  assert.deepEqual(tonesOf(scale), [0, 2, 5, 7, 9, 14], '58 % of the most light is not black, and the most is the palest');
  assert.deepEqual(legendSteps(scale).map((s) => [s.from, s.share]), [['600', '50 %'], ['700', '58 %'], ['800', '67 %'], ['900', '75 %'], ['1\u202f000', '83 %'], ['1\u202f100', '92 %'], ['1\u202f200', '100 %']]);
  const open = scaleOf(sunlight(), 'open');
  assert.ok(open);
  const shares = tonesOf(open);
  assert.ok(shares.every((tone, i) => i === 0 || tone > shares[i - 1]) && shares[0] >= 0, `${shares}`);
  assert.deepEqual([open.least, open.most], [40, 80]);
  assert.deepEqual(legendSteps(open).map((s) => s.from), ['40', '50', '60', '70', '80']);
  const spot = sunlight();
  spot.planes[0].kwh_m2 = spot.planes[0].kwh_m2.map((/** @type {number} */ k, /** @type {number} */ i) => (i === 0 ? 17 : k === 600 ? 1100 : k));
  const spotted = scaleOf(spot, 'kwh');
  assert.ok(spotted);
  assert.deepEqual(legendSteps(spotted).map((s) => s.from), ['17', '1\u202f125', '1\u202f150', '1\u202f175', '1\u202f200'], 'one dark spot does not take the tones');
  const flat = scaleOf({ ...sunlight(), planes: [{ ...sunlight().planes[0], kwh_m2: Array(50).fill(1234) }] }, 'kwh');
  assert.ok(flat);
  assert.deepEqual([flat.steps, tonesOf(flat)], [1, [14]]);
  assert.equal(scaleOf({ key: '', words: '', warnings: [], planes: [] }, 'kwh'), null);
});

test('light depends on the roof and what is around it, not on modules or the question', () => {
  const doc = { ...gable(), surroundings: { trees: [], buildings: [], horizon: [] } };
  assert.ok(sameLight(doc, setTarget({ patch: { mode: 'size' } })(doc)));
  assert.ok(sameLight(doc, { ...doc, candidates: [] }));
  assert.ok(sameLight(doc, { ...doc, site: { ...doc.site, label: 'Another name', units: 'imperial' } }));
  assert.ok(!sameLight(doc, { ...doc, site: { ...doc.site, lat_deg: 1 } }));
  assert.ok(!sameLight(doc, { ...doc, planes: [...doc.planes] }));
  assert.ok(!sameLight(doc, addTree({ tree: /** @type {any} */ ({ id: 't' }) })(doc)));
  assert.ok(!sameLight(null, doc));
});

test('days of the year there and back', () => {
  for (const [day, month, of] of [[1, 1, 1], [31, 1, 31], [32, 2, 1], [59, 2, 28], [60, 3, 1], [172, 6, 21], [365, 12, 31]]) {
    assert.deepEqual(dateOf(day), { month, day: of });
    assert.equal(dayOf({ month, day: of }), day);
  }
});

test('words of sun, clock and worth', () => {
  assert.equal(clockWords(9.25), '09:15');
  assert.equal(clockWords(22), '22:00');
  const noon = { sun: { azimuth_deg: 180, elevation_deg: 70.2 }, day: /** @type {const} */ ('ordinary'), rises_h: 4.4, noon_h: 12, sets_h: 19.75, dark: false, behind_planes: [], outlines: [] };
  assert.equal(sunWords(noon), 'Sun from 180° S, 70° high. It rises 04:24, sets 19:45.');
  assert.equal(sunWords({ ...noon, sun: { azimuth_deg: 10, elevation_deg: -3 }, day: 'polar_night' }), 'The sun is down.');
  assert.match(sunWords({ ...noon, dark: true }), /behind the horizon/);
  const worth = { id: 't', label: 'Tree 1', kind: 'tree', removed_kwh: 120.4, trimmed_to_m: 6.5, trimmed_kwh: 40 };
  assert.equal(worthWords(worth, 4000, 'metric'), 'Tree 1 removed: +120 kWh a year (3 %); cut to 6.5 m +40 kWh a year (1 %)');
  assert.equal(worthWords({ ...worth, trimmed_kwh: 0 }, 0, 'metric'), 'Tree 1 removed: +120 kWh a year');
});

/** @param {any} doc */
function withModules(doc) {
  const d = new Driver(doc);
  /** @param {number} x */
  const module = (x) => ({ u_m: x, v_m: 1, w_m: 1.1, h_m: 1.8, plan: [[x, 1], [x + 1.1, 1], [x + 1.1, 2.5], [x, 2.5]], in_shade: false, turn: 'portrait', hand: false, locked: false });
  /** @type {any} */
  const result = {
    planes: [], findings: [], keep_outs: [], sunlight_key: '',
    candidates: [{ id: 'a', letter: 'A', fill: { count: 2, by_plane: [{ plane_id: 'south', count: 2, modules: [module(0.5), module(6)], refused: [], hand: '' }] }, size: null }],
  };
  d.store.setResult(d.doc, result, []);
  return d;
}

test('a click on a module asks for its light while the light is looked at, and the keyboard goes through them', () => {
  const d = withModules(gable());
  d.click([6.5, 2]);
  assert.equal(d.ui.light.module, null, 'without the light a click selects the plane');
  assert.equal(d.ui.selection.items[0].id, 'south');
  toggleLight(d.app);
  d.store.setLight('map', { value: sunlight(), of: d.doc });
  d.click([6.5, 2]);
  assert.deepEqual(d.ui.selection.items, []);
  const lit = litOf(d.store.state);
  assert.equal(lit?.title, 'south, module 2');
  assert.equal(Math.round(lit?.openPct ?? 0), 80);
  stepLitModule(d.app, 1);
  const dark = litOf(d.store.state);
  assert.equal(dark?.title, 'south, module 1');
  assert.ok((dark?.openPct ?? 99) < 60);
  d.key('Escape');
  assert.equal(litOf(d.store.state), null);
  d.store.setLightUi({ proposal: [] });
  toggleLight(d.app);
  assert.equal(d.ui.light.proposal, null, 'a proposal goes with the view');
});

test('a lit module has the months of its own place, and says why it has none', () => {
  const d = withModules(gable());
  toggleLight(d.app);
  d.click([6.5, 2]);
  assert.equal(litOf(d.store.state)?.found, null);
  d.store.setLight('yields', { step: 'asking' });
  assert.equal(monthsNote(d.store.state), 'Working out the months.');
  const months = Array(12).fill(0.8);
  /** @type {any} */
  const value = { why: '', candidates: [{ id: 'a', letter: 'A', why: '', count: 2, total: { ac_year: 1 }, modules: [{ plane_id: 'south', index: 0 }, { plane_id: 'south', index: 1, access: 0.8, monthly_access: months, ac_kwh: 300 }] }] };
  d.store.setLight('yields', { step: 'idle', value, of: d.doc });
  assert.equal(litOf(d.store.state)?.found?.ac_kwh, 300);
  assert.equal(monthsNote(d.store.state), '');
  d.store.setLight('yields', { value: { ...value, candidates: [{ ...value.candidates[0], count: 3 }] } });
  assert.equal(litOf(d.store.state)?.found, null, 'counted otherwise, the places may be others');
  d.store.setLight('yields', { value: { why: 'No datasheet.', candidates: [] } });
  assert.equal(monthsNote(d.store.state), 'No datasheet.');
});

// ---- asking ----

/** An asker whose questions are answered by hand. @param {boolean} [isPatient] */
function byHand(isPatient = false) {
  const clock = fakeClock();
  /** @type {{question: number, answer: (v: string) => void, fail: (e: Error) => void, signal: AbortSignal}[]} */ const sent = [];
  /** @type {any[]} */ const steps = [];
  const asker = createAsker({
    clock, restMs: 400, isPatient,
    send: (/** @type {any} */ _, /** @type {number} */ question, signal) => new Promise((resolve, reject) => sent.push({ question, answer: resolve, fail: reject, signal })),
    onStep: (patch) => steps.push(patch),
  });
  /** @type {any} */
  const doc = {};
  return { clock, sent, steps, asker, doc, want: (/** @type {number} */ q) => asker.want(doc, q) };
}

test('a wish rests before it is asked, and a newer one calls the older off', async () => {
  const a = byHand();
  a.want(1);
  await a.clock.pass(300);
  a.want(2);
  await a.clock.pass(300);
  assert.equal(a.sent.length, 0);
  await a.clock.pass(100);
  assert.deepEqual(a.sent.map((s) => s.question), [2]);
  a.want(3);
  assert.ok(a.sent[0].signal.aborted);
  a.sent[0].answer('late');
  await settle();
  assert.ok(!a.steps.some((s) => s.value), 'a late answer is not taken');
  await a.clock.pass(400);
  a.sent[1].answer('three');
  await settle();
  assert.deepEqual(a.steps.at(-1), { value: 'three', of: a.doc, step: 'idle', message: '' });
});

test('the patient one lets a question end and then asks the newest only', async () => {
  const a = byHand(true);
  a.want(1);
  await a.clock.pass(400);
  [2, 3, 4].forEach(a.want);
  assert.ok(!a.sent[0].signal.aborted);
  a.sent[0].answer('one');
  await settle();
  assert.deepEqual(a.sent.map((s) => s.question), [1, 4]);
});

test('without an answer it asks again; a refusal and a person end it', async () => {
  const a = byHand();
  a.want(1);
  await a.clock.pass(400);
  a.sent[0].fail(new Error('no line'));
  await settle();
  assert.equal(a.steps.at(-1).step, 'failed');
  await a.clock.pass(1000);
  assert.equal(a.sent.length, 2);
  a.sent[1].fail(new Refused('no station'));
  await settle();
  assert.deepEqual(a.steps.at(-1), { value: null, of: a.doc, step: 'failed', message: 'no station' });
  await a.clock.pass(60000);
  assert.equal(a.sent.length, 2, 'a refusal is not asked again');
  a.want(2);
  await a.clock.pass(400);
  a.asker.stop();
  assert.ok(a.sent[2].signal.aborted);
  assert.equal(a.steps.at(-1).step, 'stopped');
});

/** The store with a server answered by hand. */
function followed(doc = /** @type {any} */ ({ ...gable(), site: { ...gable().site, lat_deg: 43 } })) {
  const store = new Store(doc, 1);
  const clock = fakeClock();
  /** @type {{what: string, doc: any, more: any, answer: (v: any) => void, signal: AbortSignal}[]} */ const sent = [];
  /** @param {string} what @returns {(doc: any, ...more: any[]) => Promise<any>} */
  const ask = (what) => (asked, ...more) => new Promise((answer) => sent.push({ what, doc: asked, more: more[0], answer, signal: more[more.length - 1] }));
  /** @type {any} */
  const api = { light: ask('light'), shadows: ask('shadows'), yields: ask('yields'), worths: ask('worths') };
  return { store, clock, sent, light: followLight({ store, api, clock }) };
}

test('the map follows the drawing once it rests, and not the question asked of it', async () => {
  const f = followed();
  await f.clock.pass(400);
  assert.deepEqual(f.sent.map((s) => s.what), ['light']);
  f.sent[0].answer(sunlight());
  await settle();
  assert.equal(isLightStale(f.store.state), false);
  f.store.run('Question', setTarget({ patch: { mode: 'size' } }));
  await f.clock.pass(5000);
  assert.equal(f.sent.length, 1);
  f.store.begin('Move');
  f.store.preview((doc) => ({ ...doc, planes: [...doc.planes] }));
  await f.clock.pass(5000);
  assert.equal(f.sent.length, 1, 'not while the pointer is down');
  assert.ok(isLightStale(f.store.state));
  f.store.keep();
  await f.clock.pass(400);
  assert.equal(f.sent.length, 2);
  f.store.undo();
  await settle();
  assert.ok(f.sent[1].signal.aborted, 'what is known again is not asked for');
  await f.clock.pass(5000);
  assert.equal(f.sent.length, 2);
  assert.equal(f.store.state.light.map.step, 'idle');
});

test('called off by a person the map stays away until it is wanted or the drawing changes', async () => {
  const f = followed();
  await f.clock.pass(400);
  f.light.stop();
  assert.ok(f.sent[0].signal.aborted);
  assert.equal(lightNote(f.store.state), 'The light was not worked out.');
  await f.clock.pass(60000);
  assert.equal(f.sent.length, 1);
  f.store.begin('Add module');
  f.store.preview((doc) => ({ ...doc, hand: [] }));
  f.store.keep();
  await f.clock.pass(60000);
  assert.equal(f.sent.length, 1, 'modules do not change the light');
  f.light.again();
  await f.clock.pass(400);
  assert.equal(f.sent.length, 2);
});

test('shadows are asked for while they are shown, one moment after the other', async () => {
  const f = followed();
  await f.clock.pass(400);
  f.store.setLightUi({ on: true });
  await f.clock.pass(1000);
  assert.deepEqual(f.sent.map((s) => s.what), ['light']);
  for (const clock_h of [9, 10, 11]) f.store.setLightUi({ sun: true, moment: { month: 6, day: 21, clock_h } });
  await f.clock.pass(100);
  const shadows = () => f.sent.filter((s) => s.what === 'shadows');
  assert.deepEqual(shadows().map((s) => s.more.clock_h), [11]);
  for (const clock_h of [12, 13]) f.store.setLightUi({ moment: { month: 6, day: 21, clock_h } });
  await f.clock.pass(100);
  assert.equal(shadows().length, 1);
  shadows()[0].answer({ sun: { azimuth_deg: 1, elevation_deg: 2 }, outlines: [] });
  await settle();
  assert.deepEqual(shadows().map((s) => s.more.clock_h), [11, 13]);
});

test('the yield is asked for when a module is lit, the worth when a person asks', async () => {
  const f = followed();
  await f.clock.pass(400);
  f.store.setLightUi({ on: true });
  await f.clock.pass(1000);
  assert.ok(!f.sent.some((s) => s.what === 'yields'));
  f.store.setLightUi({ module: { plane: 'south', place: { x_m: 1, y_m: 1, turn: 'portrait' } } });
  await f.clock.pass(400);
  assert.ok(!f.sent.some((s) => s.what === 'yields'), 'not before the modules are counted');
  /** @param {number} x @returns {any} */
  const counted = (x) => ({ candidates: [{ id: 'a', letter: 'A', size: null, fill: { by_plane: [{ plane_id: 'south', modules: [{ plan: [[x, 1]], turn: 'portrait' }] }] } }] });
  f.store.setResult(f.store.state.doc, counted(1), []);
  await f.clock.pass(400);
  assert.equal(f.sent.filter((s) => s.what === 'yields').length, 1);
  f.store.setLightUi({ module: { plane: 'south', place: { x_m: 3, y_m: 1, turn: 'portrait' } } });
  await f.clock.pass(4000);
  assert.equal(f.sent.filter((s) => s.what === 'yields').length, 1, 'one answer has all modules');
  f.store.setResult(f.store.state.doc, counted(1), [], 'deep');
  await f.clock.pass(4000);
  assert.equal(f.sent.filter((s) => s.what === 'yields').length, 1, 'the longer search has left them where they were');
  f.store.setResult(f.store.state.doc, counted(2), [], 'deep');
  await f.clock.pass(4000);
  assert.deepEqual(f.sent.filter((s) => s.what === 'yields').map((s) => s.more), ['drag', 'deep']);
  f.light.askWorths();
  await f.clock.pass(1);
  const asked = f.sent.find((s) => s.what === 'worths');
  f.light.stopWorths();
  assert.ok(asked?.signal.aborted);
});

test('what the server refuses is told in its words, what it fails at is tried again', async () => {
  /** @param {number} status @param {any} body */
  const api = (status, body) => createLightApi(/** @type {any} */ (async () => new Response(JSON.stringify(body), { status })));
  const doc = /** @type {any} */ ({});
  const signal = new AbortController().signal;
  await assert.rejects(api(422, { problems: [{ path: 'weather', message: 'The file is gone.' }] }).light(doc, signal), (e) => e instanceof Refused && e.message === 'The file is gone.');
  const offline = createLightApi(/** @type {any} */ (async () => { throw new TypeError('Failed to fetch'); }));
  await assert.rejects(offline.light(doc, signal), /the server does not answer/);
  await assert.rejects(api(422, { problems: [{ path: 'line 9, dry bulb', message: 'is “warm”.' }] }).importWeather(new Blob(), 'x.epw'), /In line 9, dry bulb: is “warm”/);
  await assert.rejects(api(503, {}).light(doc, signal), (e) => e instanceof Error && !(e instanceof Refused));
  assert.deepEqual(await api(200, sunlight()).light(doc, signal), sunlight());
});

// ---- an outline that is not closed yet ----

test('an outline that is not closed yet survives a reload, and goes once it is closed or given up', () => {
  /** @type {Map<string, string>} */
  const kept = new Map();
  /** @type {any} */
  const storage = { getItem: (/** @type {string} */ k) => kept.get(k) ?? null, setItem: (/** @type {string} */ k, /** @type {string} */ v) => kept.set(k, v), removeItem: (/** @type {string} */ k) => kept.delete(k) };
  const d = new Driver(gable());
  keepOutline(d.store, 'p', () => storage);
  d.run('draw-plane').click([-8, -6]).click([-4, -6]).moveTo([-4, -3]);
  assert.deepEqual(keptOutline('p', () => storage), { mode: 'draw-plane', points: points([[-8, -6], [-4, -6]]) });
  assert.equal(keptOutline('other', () => storage), null);
  d.click([-4, -3]).key('Enter');
  assert.equal(kept.size, 0);
  d.run('mark-shade').click([1, 1]);
  assert.equal(kept.size, 1);
  d.key('Escape');
  assert.equal(kept.size, 0);
  kept.set('rooftally-outline p', '{"mode":"draw-plane","points":[{"x_m":"no"}]}');
  assert.equal(keptOutline('p', () => storage), null, 'what is broken is not taken up');
  assert.equal(keptOutline('p', () => { throw new Error('forbidden'); }), null);
});

test('without a place nothing is asked, and what is missing is said', async () => {
  const f = followed(/** @type {any} */ (gable()));
  await f.clock.pass(60000);
  assert.equal(f.sent.length, 0);
  assert.match(lightNote(f.store.state), /latitude/);
  f.store.run('Place', (doc) => ({ ...doc, site: { ...doc.site, lat_deg: 43 } }));
  await f.clock.pass(400);
  assert.equal(f.sent.length, 1);
  f.sent[0].answer(sunlight());
  await settle();
  assert.equal(lightNote(f.store.state), '');
});

test('a drawing with something to put right is not sent', async () => {
  const f = followed();
  f.store.setResult(f.store.state.doc, null, [{ path: 'planes[0]', message: 'crosses itself' }]);
  await f.clock.pass(400);
  assert.equal(f.sent.length, 0);
  assert.match(lightNote(f.store.state), /put right/);
});
