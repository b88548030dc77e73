import assert from 'node:assert/strict';
import { test } from 'node:test';
import { Store } from '../js/model/store.js';
import { SAVE_AFTER_MS, Saver } from '../js/sync/save.js';
import { docNamed, fakeClock, fakeLocal, fakeServer, relabel, settle } from './sync.fakes.js';

const PROJECT = 'p1';

/** Opens pages of one project on one server and in one browser. */
async function browser() {
  const clock = fakeClock();
  const { server, api } = fakeServer(docNamed('start'), 7);
  const local = fakeLocal();
  const living = new Set();
  /** @param {string} writer the tab's name */
  async function open(writer = 'tab') {
    living.add(writer);
    const store = new Store(server.doc, server.version);
    const saver = new Saver({ store, project: PROJECT, savedAt: server.savedAt, api, local, clock });
    await saver.start({ own: writer, isOrphan: async (other) => other === writer || !living.has(other) });
    await settle();
    return { store, saver, close: () => living.delete(writer), edit: (/** @type {string} */ label) => store.run('Edit', relabel(label)) };
  }
  const kept = (writer = 'tab') => local.records.get(`${PROJECT} ${writer}`);
  return { clock, server, local, open, kept };
}

test('a save begins 600 ms after the last edit and takes the newest', async () => {
  const b = await browser();
  const page = await b.open();
  page.edit('one');
  await b.clock.pass(SAVE_AFTER_MS - 1);
  page.edit('two');
  await b.clock.pass(SAVE_AFTER_MS - 1);
  assert.deepEqual(b.server.saves, []);
  assert.equal(page.store.state.save.state, 'saving');
  await b.clock.pass(1);
  assert.deepEqual(b.server.saves, ['two']);
  assert.deepEqual(page.store.state.save, { state: 'saved', version: 8, message: '' });
});

test('an edit is kept in the browser before the network and let go after the answer', async () => {
  const b = await browser();
  const page = await b.open();
  page.edit('one');
  await settle();
  assert.equal(b.kept()?.text, JSON.stringify(page.store.state.doc));
  assert.equal(b.kept()?.base, 7);
  assert.deepEqual(b.server.saves, []);
  await b.clock.pass(SAVE_AFTER_MS);
  assert.equal(b.kept(), undefined);
});

test('an edit made while a save is in flight stays kept and is saved next', async () => {
  const b = await browser();
  const page = await b.open();
  b.server.held = [];
  page.edit('one');
  await b.clock.pass(SAVE_AFTER_MS);
  page.edit('two');
  await b.clock.pass(SAVE_AFTER_MS * 2);
  assert.deepEqual(b.server.saves, ['one'], 'one save at a time');
  const release = b.server.held;
  b.server.held = null;
  release.forEach((answer) => answer());
  await settle();
  assert.equal(b.kept()?.text, JSON.stringify(page.store.state.doc), 'the answer was for other bytes');
  assert.equal(b.kept()?.base, 8);
  await b.clock.pass(SAVE_AFTER_MS);
  assert.deepEqual(b.server.saves, ['one', 'two']);
  assert.equal(b.kept(), undefined);
});

test('nothing is saved in the middle of a gesture', async () => {
  const b = await browser();
  const page = await b.open();
  page.store.begin('Drag');
  page.store.preview(relabel('half way'));
  await b.clock.pass(5000);
  assert.deepEqual(b.server.saves, []);
  assert.equal(b.kept(), undefined);
  page.store.keep();
  await b.clock.pass(SAVE_AFTER_MS);
  assert.deepEqual(b.server.saves, ['half way']);
});

test('an edit before a gesture waits for its end, even when it is cancelled', async () => {
  const b = await browser();
  const page = await b.open();
  page.edit('one');
  page.store.begin('Drag');
  page.store.preview(relabel('half way'));
  await b.clock.pass(5000);
  assert.deepEqual(b.server.saves, []);
  page.store.cancel();
  await b.clock.pass(SAVE_AFTER_MS);
  assert.deepEqual(b.server.saves, ['one']);
});

test('undone back to what the server holds, nothing is sent', async () => {
  const b = await browser();
  const page = await b.open();
  page.edit('one');
  page.store.undo();
  await b.clock.pass(5000);
  assert.deepEqual(b.server.saves, []);
  assert.equal(page.store.state.save.state, 'saved');
  assert.equal(b.kept(), undefined);
});

test('offline: keeps trying, further and further apart, and saves when the line is back', async () => {
  const b = await browser();
  const page = await b.open();
  b.server.line = 'down';
  page.edit('one');
  await b.clock.pass(SAVE_AFTER_MS);
  assert.equal(page.store.state.save.state, 'offline');
  await b.clock.pass(60_000);
  page.edit('two');
  assert.equal(page.store.state.save.state, 'offline');
  assert.match(b.kept()?.text ?? '', /two/);
  b.server.line = 'up';
  await b.clock.pass(31_000);
  assert.equal(page.store.state.save.state, 'saved');
  assert.equal(b.server.doc.site.label, 'two');
  assert.equal(b.kept(), undefined);
});

test('the browser saying it is online saves at once', async () => {
  const b = await browser();
  const page = await b.open();
  b.server.line = 'down';
  page.edit('one');
  await b.clock.pass(120_000);
  b.server.line = 'up';
  page.saver.sendNow();
  await settle();
  assert.equal(page.store.state.save.state, 'saved');
});

test('offline in the middle of a gesture does not stop the tries', async () => {
  const b = await browser();
  const page = await b.open();
  b.server.line = 'down';
  page.edit('one');
  await b.clock.pass(SAVE_AFTER_MS);
  page.store.begin('Drag');
  b.server.line = 'up';
  await b.clock.pass(60_000);
  page.store.preview(relabel('two'));
  page.store.keep();
  await b.clock.pass(2000);
  assert.equal(b.server.doc.site.label, 'two');
  assert.equal(page.store.state.save.state, 'saved');
});

test('a lost answer is no conflict, whatever was drawn since', async () => {
  const b = await browser();
  const page = await b.open();
  b.server.line = 'mute';
  page.edit('one');
  await b.clock.pass(SAVE_AFTER_MS);
  assert.equal(b.server.version, 8, 'it had arrived');
  page.edit('two');
  b.server.line = 'up';
  await b.clock.pass(60_000);
  assert.deepEqual(b.server.saves, ['one', 'one', 'two']);
  assert.deepEqual(page.store.state.save, { state: 'saved', version: 9, message: '' });
});

test('a reload loses nothing that the server did not acknowledge', async () => {
  const b = await browser();
  const page = await b.open();
  b.server.line = 'down';
  page.edit('one');
  await b.clock.pass(SAVE_AFTER_MS);
  page.close();
  b.server.line = 'up';
  const again = await b.open();
  assert.equal(again.store.state.doc.site.label, 'one');
  await b.clock.pass(SAVE_AFTER_MS);
  assert.equal(b.server.doc.site.label, 'one');
  assert.equal(again.store.state.save.state, 'saved');
  assert.equal(b.kept(), undefined);
});

test('a reload after a lost answer is no conflict', async () => {
  const b = await browser();
  const page = await b.open();
  b.server.line = 'mute';
  page.edit('one');
  await b.clock.pass(SAVE_AFTER_MS);
  page.edit('two');
  await settle();
  page.close();
  b.server.line = 'up';
  const again = await b.open();
  assert.equal(again.store.state.doc.site.label, 'two');
  await b.clock.pass(SAVE_AFTER_MS);
  assert.deepEqual(again.store.state.save, { state: 'saved', version: 9, message: '' });
});

test('what the server holds already is let go on load', async () => {
  const b = await browser();
  const page = await b.open();
  b.server.line = 'mute';
  page.edit('one');
  await b.clock.pass(SAVE_AFTER_MS);
  page.close();
  const again = await b.open();
  assert.equal(again.store.state.undoLabel, '');
  assert.equal(again.store.state.save.state, 'saved');
  assert.equal(b.kept(), undefined);
});

test('two tabs: the second to save is told of both versions', async () => {
  const b = await browser();
  const first = await b.open('first');
  const second = await b.open('second');
  first.edit('from the first');
  await b.clock.pass(SAVE_AFTER_MS);
  second.edit('from the second');
  await b.clock.pass(SAVE_AFTER_MS);
  assert.equal(second.store.state.save.state, 'conflict');
  assert.equal(second.saver.theirs?.doc.site.label, 'from the first');
  assert.equal(second.saver.mine.site.label, 'from the second');
  assert.equal(b.server.doc.site.label, 'from the first');

  first.edit('from the first again');
  await b.clock.pass(SAVE_AFTER_MS);
  assert.match(b.kept('second')?.text ?? '', /from the second/, 'another tab does not touch it');
});

test('a conflict found on load says when the other version was saved', async () => {
  const b = await browser();
  const first = await b.open('first');
  b.server.line = 'down';
  first.edit('kept here');
  await b.clock.pass(SAVE_AFTER_MS);
  first.close();
  b.server.line = 'up';
  b.server.doc = docNamed('from elsewhere');
  b.server.version += 1;
  b.server.savedAt = '2026-03-02T17:05:00Z';
  const again = await b.open('again');
  assert.equal(again.store.state.save.state, 'conflict');
  assert.deepEqual([again.saver.theirs?.doc.site.label, again.saver.theirs?.savedAt], ['from elsewhere', '2026-03-02T17:05:00Z']);
});

test('in a conflict editing goes on, nothing is sent and nothing is lost', async () => {
  const b = await browser();
  const page = await b.open();
  b.server.doc = docNamed('theirs');
  b.server.version = 8;
  page.edit('mine');
  await b.clock.pass(SAVE_AFTER_MS);
  page.edit('mine again');
  await b.clock.pass(60_000);
  assert.deepEqual(b.server.saves, ['mine']);
  assert.equal(page.store.state.save.state, 'conflict');
  page.close();
  const again = await b.open();
  assert.equal(again.store.state.save.state, 'conflict');
  assert.equal(again.store.state.doc.site.label, 'mine again');
  assert.equal(again.saver.theirs?.doc.site.label, 'theirs');
});

test('keep mine saves over the newer version', async () => {
  const b = await browser();
  const page = await b.open();
  b.server.doc = docNamed('theirs');
  b.server.version = 8;
  page.edit('mine');
  await b.clock.pass(SAVE_AFTER_MS);
  page.saver.keepMine();
  await settle();
  assert.equal(b.server.doc.site.label, 'mine');
  assert.deepEqual(page.store.state.save, { state: 'saved', version: 9, message: '' });
  assert.equal(page.saver.theirs, null);
  assert.equal(b.kept(), undefined);
});

test('keep mine against a still newer version asks again', async () => {
  const b = await browser();
  const page = await b.open();
  b.server.doc = docNamed('theirs');
  b.server.version = 8;
  page.edit('mine');
  await b.clock.pass(SAVE_AFTER_MS);
  b.server.doc = docNamed('theirs later');
  b.server.version = 9;
  page.saver.keepMine();
  await settle();
  assert.equal(page.store.state.save.state, 'conflict');
  assert.equal(page.saver.theirs?.doc.site.label, 'theirs later');
});

test('take theirs first saves mine as a project of its own', async () => {
  const b = await browser();
  const page = await b.open();
  b.server.doc = docNamed('theirs');
  b.server.version = 8;
  page.edit('mine');
  await b.clock.pass(SAVE_AFTER_MS);
  assert.equal(await page.saver.takeTheirs(), '/projects/copy');
  assert.deepEqual(b.server.uploads.map((doc) => doc.site.label), ['mine (my version)']);
  assert.equal(page.store.state.doc.site.label, 'theirs');
  assert.deepEqual(page.store.state.save, { state: 'saved', version: 8, message: '' });
  await settle();
  assert.equal(b.kept(), undefined);
  page.edit('theirs and more');
  await b.clock.pass(SAVE_AFTER_MS);
  assert.equal(b.server.version, 9);
});

test('take theirs changes nothing when mine cannot be saved', async () => {
  const b = await browser();
  const page = await b.open();
  b.server.doc = docNamed('theirs');
  b.server.version = 8;
  page.edit('mine');
  await b.clock.pass(SAVE_AFTER_MS);
  b.server.line = 'down';
  await assert.rejects(page.saver.takeTheirs());
  assert.equal(page.store.state.doc.site.label, 'mine');
  assert.equal(page.store.state.save.state, 'conflict');
  assert.match(b.kept()?.text ?? '', /mine/);
});

test('a refused save keeps the edit, says why, and goes on with the next edit', async () => {
  const b = await browser();
  const page = await b.open();
  b.server.problemsOf = (doc) => (doc.site.label === 'bad' ? [{ path: 'site.label', message: 'is bad' }] : []);
  page.edit('bad');
  await b.clock.pass(SAVE_AFTER_MS);
  assert.equal(page.store.state.save.state, 'refused');
  assert.deepEqual(page.saver.problems, [{ path: 'site.label', message: 'is bad' }]);
  assert.match(b.kept()?.text ?? '', /bad/);
  page.edit('good');
  await b.clock.pass(SAVE_AFTER_MS);
  assert.equal(page.store.state.save.state, 'saved');
  assert.deepEqual(page.saver.problems, []);
});

test('a project that is gone from the server is not forgotten here', async () => {
  const b = await browser();
  const page = await b.open();
  b.server.gone = true;
  page.edit('one');
  await b.clock.pass(SAVE_AFTER_MS);
  assert.equal(page.store.state.save.state, 'refused');
  assert.match(page.saver.problems[0].message, /no longer on the server/);
  assert.match(b.kept()?.text ?? '', /one/);
});

test('edits of a tab that is gone are taken up, those of a living one are left to it', async () => {
  const b = await browser();
  b.server.line = 'down';
  const gone = await b.open('gone');
  gone.edit('from the gone tab');
  const living = await b.open('living');
  living.edit('from the living tab');
  await settle();
  gone.close();
  b.server.line = 'up';
  const page = await b.open('new');
  assert.equal(page.store.state.doc.site.label, 'from the gone tab');
  assert.equal(b.kept('gone'), undefined);
  assert.match(b.kept('new')?.text ?? '', /from the gone tab/);
  assert.match(b.kept('living')?.text ?? '', /from the living tab/);
});

test('a record that cannot be read is left alone', async () => {
  const b = await browser();
  b.local.records.set('p1 tab', { project: PROJECT, writer: 'tab', text: '{"schema":', base: 7, time: 1, sent: '' });
  const page = await b.open();
  assert.equal(page.store.state.doc.site.label, 'start');
  assert.equal(page.store.state.save.state, 'saved');
});

test('leaving the page warns only when the browser keeps nothing', async () => {
  const b = await browser();
  const page = await b.open();
  b.server.line = 'down';
  page.edit('one');
  await settle();
  assert.equal(page.saver.losesOnLeave, false);
  b.local.broken = true;
  page.edit('two');
  await settle();
  assert.equal(page.saver.losesOnLeave, true);
});

test('without a database edits are saved all the same', async () => {
  const b = await browser();
  b.local.broken = true;
  const page = await b.open();
  page.edit('one');
  await b.clock.pass(SAVE_AFTER_MS);
  assert.equal(b.server.doc.site.label, 'one');
  assert.equal(page.saver.losesOnLeave, false);
});

test('edits made before the browser has answered are saved', async () => {
  const clock = fakeClock();
  const { server, api } = fakeServer(docNamed('start'), 7);
  const store = new Store(server.doc, server.version);
  const saver = new Saver({ store, project: PROJECT, api, local: fakeLocal(), clock });
  store.run('Edit', relabel('early'));
  await saver.start({ own: 'tab', isOrphan: async () => true });
  await clock.pass(SAVE_AFTER_MS);
  assert.equal(server.doc.site.label, 'early');
});
