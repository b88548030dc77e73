// Side by side: the packing engine within its drag budget and a general
// mixed-integer solver, on the residential planes of layout/testdata, one run.
// For developers; nothing of the program needs it. See docs/packing.md.
//
//   npm ci --prefix dev/general-solver
//   go build -o dev/general-solver/rooftally ./cmd/rooftally
//   node dev/general-solver/compare.mjs layout/testdata/roofs/roof-*.json
//
// With --points before the files the solver gets a row for every point of the
// pattern, as the problem is commonly written, in place of the fewest rows that
// say the same, which it solves faster.

import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { basename } from 'node:path';
import { fileURLToPath } from 'node:url';

import loadHighs from 'highs';

import { cliques, normalPositions, points } from './set-packing.mjs';

const LIMIT_S = 60;
/** The engine's time is the median of so many runs. */
const RUNS = 5;
const files = process.argv.slice(2).filter((a) => a !== '--points');
const rowsOf = process.argv.includes('--points') ? points : cliques;
const program = fileURLToPath(new URL('./rooftally', import.meta.url));

/**
 * @param {object} plane
 * @returns {Promise<{count: number, bound: number, seconds: number, positions: number}>} the limit's time where memory ran out first
 */
async function solve(plane) {
  const highs = await loadHighs();
  const start = performance.now();
  const positions = normalPositions(plane);
  const rows = rowsOf(positions, plane.gap);
  const n = positions.length;
  const starts = [0];
  for (const row of rows) starts.push(starts[starts.length - 1] + row.length);
  try {
    const model = highs.createModel({
      numCols: n, numRows: rows.length, sense: highs.constants.objectiveSense.maximize,
      colCost: new Float64Array(n).fill(1), colLower: new Float64Array(n), colUpper: new Float64Array(n).fill(1),
      rowLower: new Float64Array(rows.length).fill(-highs.infinity), rowUpper: new Float64Array(rows.length).fill(1),
      integrality: new Int32Array(n).fill(1),
      matrix: { format: 'csr', numRows: rows.length, numCols: n, starts: Int32Array.from(starts), indices: Int32Array.from(rows.flat()), values: new Float64Array(starts[starts.length - 1]).fill(1) },
    });
    model.options.set('output_flag', false);
    model.options.set('time_limit', Math.max(1, LIMIT_S - (performance.now() - start) / 1000));
    model.run();
    const objective = Number(model.info.get('objective_function_value'));
    const bound = Number(model.info.get('mip_dual_bound'));
    const seconds = Math.min(LIMIT_S, (performance.now() - start) / 1000);
    return { count: Number.isFinite(objective) ? Math.round(objective) : 0, bound: Math.floor(bound + 1e-6), seconds, positions: n };
  } catch (error) {
    if (!(error instanceof WebAssembly.RuntimeError)) throw error;
    return { count: 0, bound: Infinity, seconds: LIMIT_S, positions: n };
  }
}

/** @param {string} file @returns {{count: number, bound: number, seconds: number}} */
function pack(file) {
  const lines = execFileSync(program, ['pack', '-style', 'best', '-budget', 'drag', ...new Array(RUNS).fill(file)], { encoding: 'utf8' });
  const answers = lines.trim().split('\n').map((line) => JSON.parse(line));
  return { count: answers[0].count, bound: answers[0].bound, seconds: median(answers.map((a) => a.elapsed_ms)) / 1000 };
}

/** @param {number[]} list @returns {number} */
function median(list) {
  const sorted = [...list].sort((a, b) => a - b);
  return (sorted[(sorted.length - 1) >> 1] + sorted[sorted.length >> 1]) / 2;
}

/** @type {number[]} */ const ratios = [];
let fewer = 0;
console.log('| plane | engine, drag | ms | solver | its bound | gap | s | positions | times faster |');
console.log('|---|--:|--:|--:|--:|--:|--:|--:|--:|');
for (const file of files) {
  const ours = pack(file);
  const theirs = await solve(JSON.parse(readFileSync(file, 'utf8')));
  const ratio = theirs.seconds / ours.seconds;
  ratios.push(ratio);
  if (ours.count < theirs.count) fewer++;
  console.log(`| ${[basename(file, '.json'), ours.count, (ours.seconds * 1000).toFixed(2), theirs.count, theirs.bound, theirs.bound - theirs.count, theirs.seconds.toFixed(1), theirs.positions, Math.round(ratio)].join(' | ')} |`);
}
console.log(`\n${ratios.length} planes; the engine has fewer on ${fewer}; at the median it is ${Math.round(median(ratios))} times faster.`);
