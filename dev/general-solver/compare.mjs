// Side by side: the packing engine within its drag budget and a general
// mixed-integer solver, on the residential planes of layout/testdata, one run.
// For developers; nothing of the program needs it. See docs/packing.md.
//
//   npm ci --prefix dev/general-solver
//   go build -o dev/general-solver/rooftally ./cmd/rooftally
//   node dev/general-solver/compare.mjs layout/testdata/roofs/roof-*.json
//
// Both sides run on one core and warmed up: the engine's first runs do not count, and
// the solver has solved a small plane before; nor does starting either program. Times
// are taken by the clock and as processor time, garbage collection included. The
// engine's processor time includes reading the file and printing the layout.
//
// With --points before the files the solver gets a row for every point of the
// pattern, as the problem is commonly written, in place of the fewest rows that
// say the same, which it solves faster.

import { execFileSync, spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { basename } from 'node:path';
import { fileURLToPath } from 'node:url';

import loadHighs from 'highs';

import { cliques, normalPositions, points } from './set-packing.mjs';

/** What the solver may take by the clock. */
const LIMIT_S = 60;
/** The engine's time is the median of so many runs, after others that do not count. */
const RUNS = 41;
const WARM_UP_RUNS = 40;
/** Its processor time is the mean of so many. */
const PROCESSOR_RUNS = 1000;
/** What the solver solves first. */
const WARM_UP_PLANE = { module: { w: 1.7, h: 1.1 }, gap: 0.02, region: { outer: [[0, 0], [6, 0], [6, 3.5], [0, 3.5]], holes: [] } };
const files = process.argv.slice(2).filter((a) => a !== '--points');
const rowsOf = process.argv.includes('--points') ? points : cliques;
const program = fileURLToPath(new URL('./rooftally', import.meta.url));

/**
 * Time by the clock and as processor time.
 * @typedef {{clock: number, processor: number}} Seconds
 */

/**
 * @param {object} plane
 * @returns {Promise<{count: number, bound: number, seconds: Seconds, positions: number}>} what was spent where memory ran out
 */
async function solve(plane) {
  const highs = await loadHighs();
  build(highs, WARM_UP_PLANE, LIMIT_S).model.run();
  const start = performance.now();
  const before = process.cpuUsage();
  const spent = () => {
    const { user, system } = process.cpuUsage(before);
    return { clock: (performance.now() - start) / 1000, processor: (user + system) / 1e6 };
  };
  let positions = 0;
  try {
    const built = build(highs, plane, LIMIT_S);
    positions = built.positions;
    built.model.run();
    const seconds = spent();
    const objective = Number(built.model.info.get('objective_function_value'));
    const bound = Number(built.model.info.get('mip_dual_bound'));
    return { count: Number.isFinite(objective) ? Math.round(objective) : 0, bound: Math.floor(bound + 1e-6), seconds, positions };
  } catch (error) {
    if (!(error instanceof WebAssembly.RuntimeError)) throw error;
    const memoryOut = spent();
    positions ||= normalPositions(plane).length;
    return { count: 0, bound: Infinity, seconds: memoryOut, positions };
  }
}

/**
 * The plane as a model of the solver, which is to end at the limit.
 * @param {object} highs
 * @param {object} plane
 * @param {number} limitS from now on
 */
function build(highs, plane, limitS) {
  const start = performance.now();
  const positions = normalPositions(plane);
  const rows = rowsOf(positions, plane.gap);
  const n = positions.length;
  const starts = [0];
  for (const row of rows) starts.push(starts[starts.length - 1] + row.length);
  const model = highs.createModel({
    numCols: n, numRows: rows.length, sense: highs.constants.objectiveSense.maximize,
    colCost: new Float64Array(n).fill(1), colLower: new Float64Array(n), colUpper: new Float64Array(n).fill(1),
    rowLower: new Float64Array(rows.length).fill(-highs.infinity), rowUpper: new Float64Array(rows.length).fill(1),
    integrality: new Int32Array(n).fill(1),
    matrix: { format: 'csr', numRows: rows.length, numCols: n, starts: Int32Array.from(starts), indices: Int32Array.from(rows.flat()), values: new Float64Array(starts[starts.length - 1]).fill(1) },
  });
  model.options.set('output_flag', false);
  model.options.set('time_limit', Math.max(1, limitS - (performance.now() - start) / 1000));
  return { model, positions: n };
}

/** @param {string} file @returns {{count: number, bound: number, seconds: Seconds}} */
function pack(file) {
  const args = (/** @type {number} */ runs) => ['pack', '-style', 'best', '-budget', 'drag', ...new Array(runs).fill(file)];
  const env = { ...process.env, GOMAXPROCS: '1' };
  const lines = execFileSync(program, args(WARM_UP_RUNS + RUNS), { encoding: 'utf8', env, maxBuffer: 1 << 28 });
  const answers = lines.trim().split('\n').map((line) => JSON.parse(line)).slice(WARM_UP_RUNS);
  const { stdout } = spawnSync('sh', ['-c', '"$@" > /dev/null; times', 'sh', program, ...args(PROCESSOR_RUNS)], { encoding: 'utf8', env });
  const [user, system] = [...stdout.trim().split('\n')[1].matchAll(/(\d+)m([\d.]+)s/g)].map((m) => 60 * Number(m[1]) + Number(m[2]));
  return {
    count: answers[0].count, bound: answers[0].bound,
    seconds: { clock: median(answers.map((a) => a.elapsed_ms)) / 1000, processor: (user + system) / PROCESSOR_RUNS },
  };
}

/** @param {number[]} list @returns {number} */
function median(list) {
  const sorted = [...list].sort((a, b) => a - b);
  return (sorted[(sorted.length - 1) >> 1] + sorted[sorted.length >> 1]) / 2;
}

/** @type {Seconds[]} */ const ratios = [];
let fewer = 0;
console.log('| plane | engine, drag | ms | processor ms | solver | its bound | s | processor s | positions | times faster | by processor |');
console.log('|---|--:|--:|--:|--:|--:|--:|--:|--:|--:|--:|');
for (const file of files) {
  const ours = pack(file);
  const theirs = await solve(JSON.parse(readFileSync(file, 'utf8')));
  // The solver looks at its limit now and then; what is over does not count.
  if (theirs.seconds.clock > LIMIT_S) theirs.seconds = { clock: LIMIT_S, processor: Math.min(LIMIT_S, theirs.seconds.processor) };
  const ratio = { clock: theirs.seconds.clock / ours.seconds.clock, processor: theirs.seconds.processor / ours.seconds.processor };
  ratios.push(ratio);
  if (ours.count < theirs.count) fewer++;
  console.log(`| ${[
    basename(file, '.json'), ours.count, (ours.seconds.clock * 1000).toFixed(2), (ours.seconds.processor * 1000).toFixed(2),
    theirs.count, Number.isFinite(theirs.bound) ? theirs.bound : 'none', theirs.seconds.clock.toFixed(2), theirs.seconds.processor.toFixed(2), theirs.positions,
    Math.round(ratio.clock), Math.round(ratio.processor),
  ].join(' | ')} |`);
}
const [clock, processor] = [median(ratios.map((r) => r.clock)), median(ratios.map((r) => r.processor))];
console.log(`\n${ratios.length} planes; the engine has fewer on ${fewer}; at the median it is ${Math.round(clock)} times faster by the clock, ${Math.round(processor)} times by processor time.`);
