import assert from 'node:assert/strict';
import { readFileSync, readdirSync } from 'node:fs';
import { test } from 'node:test';

/** Which rooms of the editor may import which; `main` may import all. @type {Record<string, string[]>} */
const MAY_IMPORT = {
  model: ['model'],
  commands: ['commands', 'model'],
  modes: ['modes', 'commands', 'model'],
  view: ['view', 'model'],
  panels: ['panels', 'modes', 'commands', 'model'],
  sync: ['sync', 'panels', 'commands', 'model'],
};
/** Rooms that never touch the page. */
const PAGELESS = ['model', 'commands', 'modes'];

const root = new URL('../js/', import.meta.url);
const files = Object.keys(MAY_IMPORT).flatMap((room) => readdirSync(new URL(`${room}/`, root)).filter((f) => f.endsWith('.js')).map((f) => ({ room, path: `${room}/${f}` })));
/** @param {string} path */
const source = (path) => readFileSync(new URL(path, root), 'utf8');
/** @param {string} text */
const withoutComments = (text) => text.replace(/\/\*[\s\S]*?\*\//g, '').replace(/^\s*\/\/.*$/gm, '');

test('imports between rooms point one way', () => {
  for (const { room, path } of files) {
    for (const [, from] of withoutComments(source(path)).matchAll(/from '([^']+)'/g)) {
      const target = new URL(from, new URL(path, root)).pathname.slice(root.pathname.length).split('/')[0];
      assert.ok(MAY_IMPORT[room].includes(target), `${path} imports ${from}: ${room} may import ${MAY_IMPORT[room].join(', ')}`);
    }
  }
});

test('model, commands and modes never touch the page', () => {
  for (const { path } of files.filter((f) => PAGELESS.includes(f.room))) {
    assert.doesNotMatch(withoutComments(source(path)), /\b(document|window|navigator|localStorage|fetch|HTMLElement|setTimeout)\b[.(]/, path);
  }
});

test('no mutable variables at module level', () => {
  for (const { path } of files) assert.doesNotMatch(withoutComments(source(path)), /^(let|var) /m, path);
});
