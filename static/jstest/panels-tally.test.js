import assert from 'node:assert/strict';
import { test } from 'node:test';
import { Store } from '../js/model/store.js';
import { centreOf } from '../js/panels/item-actions.js';
import { knownWords, offersWords } from '../js/panels/dialog-counts.js';
import { parseBlocks, parseShare, placesWords } from '../js/panels/dialog-target.js';
import { remarksOf, remarksWords, sentence } from '../js/panels/findings.js';
import { questionOf, shownId, sizeWords, spoken, spokenNews, tallyOf } from '../js/panels/tally-model.js';
import { docNamed } from './sync.fakes.js';

/** @import {CandidateResult, Doc, LayoutResult, Module, OfferResult, Plane, PlaneLayoutResult, Result, SizeResult} from '../js/model/types.js' */

/** @param {string} id @param {string} label @returns {Plane} */
function plane(id, label) {
  return { id, label, use: true, ring: [], pitch_deg: 30, azimuth_deg: 180, eave_height_m: 3, module_limit: null, turn: 'portrait', covering: 'tile', rafter_spacing_m: 0.6 };
}

/** @returns {Doc} two planes and three candidates of 300, 400 and 450 W */
function doc() {
  return {
    ...docNamed('house'),
    planes: [plane('south', 'South'), plane('north', '')],
    candidates: [300, 400, 450].map((pmax_w, i) => ({ id: `m${i}`, catalog_id: '', label: `Invented ${pmax_w}`, pmax_w, length_m: 1.7, width_m: 1.1, invented: true })),
  };
}

/**
 * @param {number} pmaxW
 * @param {[id: string, count: number, bound: number][]} parts
 * @param {number} [inShade]
 * @returns {LayoutResult}
 */
function layout(pmaxW, parts, inShade = 0) {
  const count = parts.reduce((sum, [, n]) => sum + n, 0);
  return {
    count, in_shade: inShade, pdc_w: count * pmaxW, kwdc: (count * pmaxW) / 1000, w_per_m2: 0, free_area_m2: 0,
    tidiness: { rail_runs: count, blocks: 1, turns: Math.min(count, 1) }, gained: 0,
    by_plane: parts.map(([plane_id, n, bound]) => ({
      plane_id, count: n, in_shade: 0, pdc_w: n * pmaxW, kwdc: (n * pmaxW) / 1000, free_area_m2: 0, bound, proved: n === bound, modules: [],
      tidiness: { rail_runs: n, blocks: 1, turns: Math.min(n, 1) }, hand: '', refused: [], gained: 0,
    })),
  };
}

/** @param {number} i @param {LayoutResult} fill @param {CandidateResult['size']} [size] @returns {CandidateResult} */
function candidate(i, fill, size = null) {
  const pmax_w = [300, 400, 450][i];
  return { id: `m${i}`, letter: 'ABC'[i], label: '', pmax_w, module_area_m2: 1.87, fill, size, offer: null, ridge_widened: false, coverage: 0 };
}

/** @param {number} need @param {LayoutResult} of @param {Partial<SizeResult>} [more] @returns {SizeResult} */
function sized(need, of, more = {}) {
  return { need, fits: of.count === need, layout: of, ridge_widened: false, value: 0, value_bound: 0, value_proved: false, value_words: '', ...more };
}

/** @param {CandidateResult[]} candidates @returns {Result} */
function result(candidates) {
  return { planes: [], keep_outs: [], candidates, plan_area_m2: 0, rules: { id: 'none', title: '', notes: [] }, findings: [] };
}

/** @param {Result|null} of @param {Doc} [document] */
function stateWith(of, document = doc()) {
  const store = new Store(document, 1);
  if (of) store.setResult(document, of, []);
  return store;
}

test('before the first answer there are dashes, not zeros', () => {
  const tally = tallyOf(stateWith(null).state);
  assert.equal(tally.stale, false);
  assert.deepEqual(tally.cards.map((c) => [c.letter, c.watts, c.count, c.countWords, c.power]), [
    ['A', '300 W', '–', 'not counted yet', '–'],
    ['B', '400 W', '–', 'not counted yet', '–'],
    ['C', '450 W', '–', 'not counted yet', '–'],
  ]);
});

test('counts, power, shade and planes', () => {
  const { cards } = tallyOf(stateWith(result([
    candidate(0, layout(300, [['south', 15, 16], ['north', 4, 4]], 4)),
    candidate(1, layout(400, [['south', 1, 1], ['north', 0, 0]])),
    candidate(2, layout(450, [['south', 0, 2]])),
  ])).state);
  assert.deepEqual([cards[0].count, cards[0].countWords, cards[0].shade, cards[0].power], ['19', 'modules', '4 of them in shade', '5.70']);
  assert.deepEqual(cards[0].planes, [{ name: 'South', count: 15 }, { name: 'Plane 2', count: 4 }]);
  assert.deepEqual([cards[1].count, cards[1].countWords, cards[1].power], ['1', 'module', '0.40']);
  assert.deepEqual(cards[1].planes, [{ name: 'South', count: 1 }], 'planes without modules are left out');
  assert.deepEqual([cards[2].count, cards[2].power], ['0', '0.00']);
});

test('proved only when every plane reaches its bound', () => {
  const { cards } = tallyOf(stateWith(result([
    candidate(0, layout(300, [['south', 15, 16], ['north', 4, 4]])),
    candidate(1, layout(400, [['south', 12, 12], ['north', 0, 0]])),
    candidate(2, layout(450, [['south', 0, 0]])),
  ])).state);
  assert.deepEqual(cards.map((c) => c.known.text), ['', 'proved', '']);
});

test('a plane held at its own limit is limited, never proved', () => {
  const limited = (/** @type {number|null} */ module_limit, /** @type {[string, number, number][]} */ parts) => {
    const document = { ...doc(), planes: [{ ...plane('south', 'South'), module_limit }, plane('north', '')] };
    return tallyOf(stateWith(result([candidate(0, layout(300, parts))]), document).state).cards[0].known;
  };
  assert.equal(limited(5, [['south', 5, 24], ['north', 4, 4]]).text, 'limited');
  assert.match(limited(5, [['south', 5, 24], ['north', 4, 4]]).title, /South .* 5 modules/);
  assert.equal(limited(0, [['south', 0, 24], ['north', 4, 4]]).text, 'limited');
  assert.equal(limited(24, [['south', 24, 24], ['north', 4, 4]]).text, 'proved', 'the limit is what the roof holds');
  assert.equal(limited(30, [['south', 24, 24], ['north', 4, 4]]).text, 'proved');
  assert.equal(limited(30, [['south', 23, 24], ['north', 4, 4]]).text, '');
  assert.equal(limited(null, [['south', 24, 24], ['north', 4, 4]]).text, 'proved');
});

test('in the counts a plane is proved only at its bound', () => {
  const of = (/** @type {number} */ count, /** @type {boolean} */ proved, /** @type {number|null} */ module_limit = null) =>
    knownWords({ ...doc(), planes: [{ ...plane('south', ''), module_limit }] }, { ...layout(300, [['south', count, 20]]).by_plane[0], proved });
  assert.equal(of(20, true), 'proved');
  assert.equal(of(18, false), 'at most 20');
  assert.equal(of(13, true), 'room for 20', 'a size that is met');
  assert.equal(of(5, true, 5), 'limited');
});

test('what is equal is said in the word for it, zeros are not', () => {
  const tied = (/** @type {number[]} */ counts, watts = [300, 300, 300]) =>
    tallyOf(stateWith(result(counts.map((n, i) => candidate(i, layout(watts[i], [['south', n, n]]))))).state).cards.map((c) => c.tie.text);
  assert.deepEqual(tied([7, 6, 5]), ['', '', '']);
  assert.deepEqual(tied([7, 6, 7]), ['tie with C', '', 'tie with A']);
  assert.deepEqual(tied([7, 7, 7]), ['tie with B and C', 'tie with A and C', 'tie with A and B']);
  assert.deepEqual(tied([0, 0, 1]), ['', '', '']);
  const unlike = [300, 400, 450];
  assert.deepEqual(tied([14, 12, 12], unlike), ['', 'same count as C', 'same count as B'], 'kWdc differ');
  assert.deepEqual(tied([12, 9, 5], unlike), ['same kWdc as B', 'same kWdc as A', '']);
});

test('the wider ridge strip is told with its reason', () => {
  const fill = { ...candidate(0, layout(300, [['south', 19, 20]])), ridge_widened: true, coverage: 0.4125 };
  const { cards } = tallyOf(stateWith(result([fill])).state);
  assert.equal(cards[0].ridge.text, 'ridge strip widened');
  assert.match(cards[0].ridge.title, /^For A: .*41\.3 % of the roof/);
  const small = { ...fill, size: sized(3, layout(300, [['south', 3, 20]])) };
  assert.equal(tallyOf(stateWith(result([small])).state).cards[0].ridge.text, '', 'so few modules leave the strip narrow');
});

test('meeting a size', () => {
  const target = /** @type {const} */ ({ mode: 'size', size_w: 5700, max_blocks: 0, min_access_pct: 0, chosen: '' });
  const document = { ...doc(), target };
  const full = layout(300, [['south', 19, 19]]);
  const { question, cards } = tallyOf(stateWith(result([
    candidate(0, full, sized(19, full)),
    candidate(1, layout(400, [['south', 12, 12]]), sized(15, layout(400, [['south', 12, 12]]))),
    candidate(2, layout(450, [['south', 30, 30]]), sized(13, layout(450, [['south', 13, 30]]))),
  ]), document).state);
  assert.equal(question, 'Meet 5.70 kWdc');
  assert.deepEqual(cards.map((c) => c.size), ['needs 19, fits', 'needs 15, 12 fit', 'needs 13, fits']);
  assert.deepEqual(cards.map((c) => c.count), ['19', '12', '13']);
  assert.deepEqual(cards.map((c) => c.known.text), ['', 'proved', ''], 'a size that is met needs no proof');
  assert.deepEqual(cards.map((c) => c.tie.text), ['', '', '']);
});

test('size words', () => {
  const of = (/** @type {number} */ need, /** @type {number} */ fit) => sizeWords(sized(need, layout(300, [['south', Math.min(need, fit), 99]])));
  assert.equal(of(15, 20), 'needs 15, fits');
  assert.equal(of(19, 17), 'needs 19, 17 fit');
  assert.equal(of(2, 1), 'needs 2, 1 fits');
  assert.equal(of(2, 0), 'needs 2, 0 fit');
});

test('after an edit the counts stay and are marked as old', () => {
  const store = stateWith(result([candidate(0, layout(300, [['south', 9, 9], ['gone', 3, 3]]))]));
  assert.equal(tallyOf(store.state).stale, false);
  store.run('Rename', (d) => ({ ...d, planes: [plane('south', 'Front')] }));
  const { stale, cards } = tallyOf(store.state);
  assert.equal(stale, true);
  assert.equal(cards[0].count, '12');
  assert.deepEqual(cards[0].planes, [{ name: 'Front', count: 9 }]);
  assert.equal(cards[1].count, '–', 'a candidate without an answer yet');
});

test('the shown candidate is the chosen one, or the first', () => {
  const store = stateWith(null);
  assert.equal(shownId(store.state), 'm0');
  store.setUi({ shown: 'm2' });
  assert.deepEqual(tallyOf(store.state).cards.map((c) => c.shown), [false, false, true]);
  store.run('Remove', (d) => ({ ...d, candidates: d.candidates.slice(0, 2) }));
  assert.equal(shownId(store.state), 'm0');
  store.run('Remove all', (d) => ({ ...d, candidates: [] }));
  assert.equal(shownId(store.state), '');
});

test('the question is said in the power unit of the site', () => {
  const document = doc();
  assert.equal(questionOf(document), 'Fill the roof');
  const iec = { ...document, site: { ...document.site, rule_family: /** @type {const} */ ('iec') }, target: { ...document.target, mode: /** @type {const} */ ('size'), size_w: 7505 } };
  assert.equal(questionOf(iec), 'Meet 7.505 kWp');
});

test('the counts in one sentence', () => {
  const store = stateWith(result([candidate(0, layout(300, [['south', 19, 20]], 4))]), { ...doc(), candidates: doc().candidates.slice(0, 1) });
  assert.equal(spoken(tallyOf(store.state)), 'Fill the roof. A: 19 modules, 4 of them in shade, 5.70 kWdc.');
});

test('how even the layout is', () => {
  const full = layout(300, [['south', 19, 20]]);
  full.tidiness = { rail_runs: 9, blocks: 3, turns: 1 };
  const { cards } = tallyOf(stateWith(result([candidate(0, full), candidate(1, layout(400, [['south', 0, 2]]))])).state);
  assert.deepEqual([cards[0].tidy, cards[0].tidyShort], ['9 rail runs, 3 blocks, one orientation', '9 runs, 3 blocks']);
  assert.deepEqual([cards[1].tidy, cards[1].tidyShort, cards[2].tidy], ['', '', ''], 'nothing is said of no modules');
});

test('what most modules would add is said where it adds something', () => {
  const full = layout(300, [['south', 19, 21]]);
  full.tidiness = { rail_runs: 9, blocks: 3, turns: 1 };
  /** @param {Partial<OfferResult>} more */
  const offered = (more) => {
    const found = { ...candidate(0, full), offer: /** @type {OfferResult} */ ({ style: 'best', more: 2, pdc_w: 6300, rail_runs: 3, blocks: 1, turns: 1, ...more }) };
    return tallyOf(stateWith(result([found, candidate(1, full)])).state).cards;
  };
  const [card, other] = offered({});
  assert.equal(card.offer.text, '2 more modules, 3 more rail runs');
  assert.match(card.offer.title, /from rows to most modules.* 21 modules and 6\.30 kWdc in 12 rail runs, 4 blocks, one orientation/);
  assert.equal(other.offer.text, '');
  assert.equal(offered({ more: 1, rail_runs: -1, turns: 2 })[0].offer.text, '1 more module, 1 fewer rail run, two orientations');
  assert.equal(offered({ rail_runs: 0 })[0].offer.text, '2 more modules, same rail runs');
});

test('what the longer search found is marked', () => {
  const full = layout(300, [['south', 19, 20]]);
  full.gained = 2;
  const { cards } = tallyOf(stateWith(result([candidate(0, full), candidate(1, layout(400, [['south', 12, 12]]))])).state);
  assert.deepEqual(cards.map((card) => card.gained.text), ['+2 found', '', '']);
});

/** @param {Partial<PlaneLayoutResult>} part @returns {Result} with modules placed by hand on South for A */
function byHand(part) {
  const full = layout(300, [['south', 4, 20]]);
  full.by_plane[0] = { ...full.by_plane[0], ...part };
  return { ...result([candidate(0, full)]), findings: [{ path: 'hand[0]', message: 'sets modules where the roof does not allow them' }] };
}

const LOCKED = /** @type {Module} */ ({ u_m: 0, v_m: 0, w_m: 1, h_m: 2, plan: [], in_shade: false, turn: 'portrait', hand: true, locked: true });

test('planes set by hand say so', () => {
  const said = (/** @type {Partial<PlaneLayoutResult>} */ part) => tallyOf(stateWith(byHand(part)).state).cards[0].hand;
  assert.deepEqual([said({ hand: 'by_hand' }).text, said({ hand: 'by_hand' }).title], ['by hand', 'South: placed by hand']);
  assert.equal(said({ hand: 'around', modules: [LOCKED, LOCKED, { ...LOCKED, locked: false }] }).title, 'South: around 2 locked modules');
  assert.equal(said({}).text, '');
});

test('modules placed by hand that are not allowed are listed with the reason', () => {
  const document = { ...doc(), hand: [{ candidate_id: 'm0', plane_id: 'south', fill: false, modules: [] }], keep_outs: [{ id: 'c', label: 'Chimney', kind: /** @type {const} */ ('chimney'), shape: /** @type {const} */ ('rect'), clearance_m: 0, height_m: 1, shade: /** @type {const} */ ('') }] };
  const refused = [
    { index: 2, plan: [], why: /** @type {const} */ ('keep_out'), with: 'c', locked: true },
    { index: 4, plan: [], why: /** @type {const} */ ('overlap'), with: '0', locked: false },
  ];
  const { state } = stateWith(byHand({ hand: 'by_hand', refused }), document);
  assert.equal(tallyOf(state).cards[0].refused.text, '2 not allowed');
  assert.equal(remarksWords(state), '2 remarks');
  assert.deepEqual(remarksOf(state), [
    { path: 'planes[0]', message: 'South: module 3 of those placed by hand for A is not allowed: on Chimney or its clearance' },
    { path: 'planes[0]', message: 'South: module 5 of those placed by hand for A is not allowed: on or too close to module 1' },
  ]);
});

test('after the first reading only news is read out', () => {
  const drag = tallyOf(stateWith(result([candidate(0, layout(300, [['south', 19, 21]])), candidate(1, layout(400, [['south', 12, 12]]))])).state);
  const better = layout(300, [['south', 20, 20]]);
  better.gained = 1;
  const deep = tallyOf(stateWith(result([candidate(0, better), candidate(1, layout(400, [['south', 12, 12]]))])).state);
  assert.equal(spokenNews(drag, deep), 'A: 20 modules, 6.00 kWdc, +1 found, proved.');
  assert.equal(spokenNews(deep, deep), '');
});

test('the counts name what is known to hold more', () => {
  const full = layout(300, [['south', 19, 21]]);
  const offer = /** @type {OfferResult} */ ({ style: 'best', more: 2, pdc_w: 6300, rail_runs: 3, blocks: 1, turns: 1 });
  assert.match(offersWords([candidate(0, full), { ...candidate(1, full), offer }]), / B: 2 more modules, 3 more rail runs\.$/);
  assert.equal(offersWords([candidate(0, full)]), '');
});

/** @param {Partial<Doc['target']>} [target] @param {number} [lat_deg] @returns {Doc} asked for a size, with South and a plane that faces north */
function sizedDoc(target = {}, lat_deg = 43) {
  const north = { ...plane('north', ''), azimuth_deg: 0 };
  const document = doc();
  return { ...document, site: { ...document.site, lat_deg, lon_deg: 0 }, planes: [plane('south', 'South'), north], target: { mode: 'size', size_w: 1200, max_blocks: 0, min_access_pct: 0, chosen: '', ...target } };
}

test('a limit of blocks tells what it costs', () => {
  const said = (/** @type {number} */ max_blocks, /** @type {number} */ blocks, inShade = 0, free = 9) => {
    const of = { ...layout(300, [['south', 4, 9]], inShade), tidiness: { rail_runs: 4, blocks, turns: 1 } };
    const fill = layout(300, [['south', free, free]]);
    return tallyOf(stateWith(result([candidate(0, fill, sized(4, of))]), sizedDoc({ max_blocks })).state).cards[0].blocks.text;
  };
  assert.equal(said(3, 4), '3 blocks asked, 4 needed');
  assert.equal(said(1, 2), '1 block asked, 2 needed');
  assert.equal(said(3, 3), '');
  assert.equal(said(0, 4, 2), '', 'no limit');
  assert.equal(said(3, 3, 2), '2 in shade to keep to 3 blocks');
  assert.equal(said(3, 3, 2, 3), '', 'too few places outside shade, whatever the blocks');
});

test('a size without a latitude says that the facing is not counted', () => {
  const missing = (/** @type {Doc} */ document) => {
    const of = layout(300, [['south', 4, 9]]);
    return tallyOf(stateWith(result([candidate(0, of, document.target.mode === 'size' ? sized(4, of) : null)]), document).state).cards[0].facingMissing;
  };
  assert.equal(missing(sizedDoc({}, 0)), true);
  assert.equal(missing(sizedDoc()), false);
  assert.equal(missing({ ...sizedDoc({}, 0), planes: doc().planes }), false, 'all planes face one way');
  assert.equal(missing(sizedDoc({ mode: 'fill' }, 0)), false);
});

test('the places chosen for a size in words', () => {
  const of = layout(300, [['south', 3, 9], ['north', 1, 9]], 2);
  assert.equal(placesWords(sizedDoc(), of), '4 modules in 1 block; 3 of them face the noon sun best; 2 of them in shade');
  assert.equal(placesWords(sizedDoc({}, -43), of), '4 modules in 1 block; 1 of them face the noon sun best; 2 of them in shade');
  assert.equal(placesWords(sizedDoc(), layout(300, [['south', 3, 9]])), '3 modules in 1 block; all face the noon sun best; none in shade');
  assert.equal(placesWords(sizedDoc({}, 0), of), '4 modules in 1 block; 2 of them in shade');
});

test('a remark is a sentence', () => {
  const document = { ...doc(), planes: [plane('south', 'Roof, south')] };
  const rows = /** @type {const} */ ([
    ['site.lat_deg', 'is not given', 'Site: the latitude is not given'],
    ['planes[0]', 'has no room', 'Roof, south has no room'],
    ['planes[0].ring', 'overlaps plane "b"', 'Roof, south: the outline overlaps plane "b"'],
    ['planes[0].ring', 'overlaps plane "b" by 48.2 m2 in plan', 'Roof, south: the outline overlaps plane "b" by 48.2 m² in plan'],
    ['planes[0]', 'Roof, south: module 3 is not allowed', 'Roof, south: module 3 is not allowed'],
    ['planes[0]', 'a note', 'Roof, south: a note'],
  ]);
  for (const [path, message, words] of rows) assert.equal(sentence(document, path, message), words);
  const feet = { ...document, site: { ...document.site, units: /** @type {const} */ ('imperial') } };
  assert.equal(sentence(feet, 'planes[0]', 'lies 2.5 m away and has 48.2 m2'), 'Roof, south lies 2.5 m (8\' 2 3/8") away and has 48.2 m² (518.8 ft²)');
});

test('a limit of blocks left blank is no limit', () => {
  assert.equal(parseBlocks('  '), 0);
  assert.equal(parseBlocks('3'), 3);
  assert.throws(() => parseBlocks('101'), /from 0 to 100/);
});

test('problems come before remarks', () => {
  const store = stateWith(result([]));
  assert.equal(remarksWords(store.state), '');
  store.setResult(store.state.doc, { ...result([]), findings: [{ path: '', message: 'a' }, { path: '', message: 'b' }] }, []);
  assert.equal(remarksWords(store.state), '2 remarks');
  store.setResult(store.state.doc, null, [{ path: '', message: 'c' }]);
  assert.equal(remarksWords(store.state), '1 problem: counts stand still');
});

test('a selection turns about the middle of what it covers', () => {
  const square = { ...plane('south', ''), ring: [[0, 0], [4, 0], [4, 2], [0, 2]].map(([x_m, y_m]) => ({ x_m, y_m, edge: '', street: false })) };
  const document = { ...doc(), planes: [square] };
  assert.deepEqual(centreOf(document, [{ type: 'plane', id: 'south' }]), { x_m: 2, y_m: 1 });
  assert.equal(centreOf(document, [{ type: 'plane', id: 'gone' }]), null);
});

test('a module that is only held over a place it may not have is not told as placed', () => {
  const mine = /** @type {any} */ ({ x_m: 1, y_m: 1, turn: 'portrait', locked: false });
  const held = { ...mine, x_m: 9 };
  const refused = /** @type {any[]} */ ([{ index: 0, plan: [], why: 'setback', with: '', locked: false }, { index: 1, plan: [], why: 'outside', with: '', locked: false }]);
  const before = { ...doc(), hand: [{ candidate_id: 'm0', plane_id: 'south', fill: false, modules: [mine] }] };
  const trial = { ...before, hand: [{ ...before.hand[0], modules: [mine, held] }] };
  const store = new Store(before, 1);
  store.begin('Add module');
  store.preview(() => trial);
  store.setResult(trial, byHand({ hand: 'by_hand', refused }), []);
  assert.equal(tallyOf(store.state).cards[0].refused.text, '1 not allowed', 'the one that a person has placed');
  assert.deepEqual(remarksOf(store.state).map((r) => r.message), ['South: module 1 of those placed by hand for A is not allowed: within a setback']);
  store.keep();
  assert.equal(tallyOf(store.state).cards[0].refused.text, '2 not allowed', 'placed now');
  assert.equal(remarksOf(store.state).length, 2);
});

test('places left out as dark are told with the limit that leaves them out', () => {
  const document = { ...doc(), target: { ...doc().target, min_access_pct: 70 } };
  const fill = { ...layout(300, [['south', 9, 12]]), left_dark: 3 };
  const { dark } = tallyOf(stateWith(result([candidate(0, fill)]), document).state).cards[0];
  assert.deepEqual([dark.text, dark.title], ['3 left out as dark', 'Without the limit of 70 % of open light there would be 3 modules more']);
  assert.equal(tallyOf(stateWith(result([candidate(0, layout(300, [['south', 9, 12]]))]), document).state).cards[0].dark.text, '');
});

test('with light the facing says nothing, and is not missed', () => {
  const facings = { ...doc(), target: { ...doc().target, mode: /** @type {const} */ ('size'), size_w: 900 } };
  facings.planes[1].azimuth_deg = 90;
  const fill = layout(300, [['south', 3, 9]]);
  const counted = (/** @type {string} */ key) => tallyOf(stateWith({ ...result([candidate(0, fill, sized(3, fill))]), sunlight_key: key }, facings).state).cards[0].facingMissing;
  assert.deepEqual([counted(''), counted('k')], [true, false]);
  assert.doesNotMatch(placesWords({ ...facings, site: { ...facings.site, lat_deg: 40 } }, fill, true), /noon sun/);
  assert.match(placesWords({ ...facings, site: { ...facings.site, lat_deg: 40 } }, fill), /noon sun/);
});

test('a limit of light is a share, and nothing typed takes it away', () => {
  assert.deepEqual([parseShare('72,5'), parseShare(' '), parseShare('0')], [72.5, 0, 0]);
  assert.throws(() => parseShare('101'), /from 0 to 100/);
});
