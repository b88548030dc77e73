// Autosave. Every kept edit is first written down in this browser, then sent;
// what was written down is let go only when the server has acknowledged those
// very bytes. At most one document is in doubt (sent without an answer so
// far): it is sent again, unchanged, before anything newer, so that a lost
// answer is never taken for somebody else's edit.

/** @import {Store, State} from '../model/store.js' */
/** @import {Doc, Finding} from '../model/types.js' */
/** @import {Api, SaveAnswer, Stored} from './api.js' */
/** @import {Kept, Local} from './local.js' */
/** @import {Clock} from './clock.js' */
/** @import {Writers} from './writer.js' */

import { NOTHING } from '../model/store.js';
import { backoffMs } from './clock.js';
import { sameContent } from './same.js';

/** How long after the last edit a save begins. */
export const SAVE_AFTER_MS = 600;
const FIRST_RETRY_MS = 1000;
const LONGEST_RETRY_MS = 30000;

/** A document and the text that stands for it on the wire. */
/** @typedef {{doc: Doc, text: string}} Copy */

/**
 * @param {Doc} doc
 * @returns {Copy}
 */
const copyOf = (doc) => ({ doc, text: JSON.stringify(doc) });

/** Before the tabs are told apart nothing is written down. @type {Writers} */
const NO_WRITERS = Object.freeze({ own: '', isOrphan: async () => false });

export class Saver {
  #store;
  #project;
  #savedAt;
  #api;
  #local;
  #clock;
  /** @type {Writers} */ #writers = NO_WRITERS;
  /** @type {Copy} the newest document outside a gesture */ #kept;
  #editedAt = 0;
  /** What this tab's record in the browser last held. */
  #written = '';
  /** @type {Doc} what the server is known to hold at the base version */ #acknowledged;
  /** @type {Copy|null} */ #doubt = null;
  #sending = false;
  #failures = 0;
  /** @type {Stored|null} */ #theirs = null;
  /** @type {Finding[]} */ #problems = [];
  /** @type {(() => void)|null} */ #cancelWait = null;
  #localWorks = true;
  #started = false;

  /**
   * @param {object} parts
   * @param {Store} parts.store made from the document the page was loaded with
   * @param {string} parts.project
   * @param {string} [parts.savedAt] when that document was saved, '' when unknown
   * @param {Api} parts.api
   * @param {Local} parts.local
   * @param {Clock} parts.clock
   */
  constructor({ store, project, savedAt = '', api, local, clock }) {
    this.#store = store;
    this.#project = project;
    this.#savedAt = savedAt;
    this.#api = api;
    this.#local = local;
    this.#clock = clock;
    this.#acknowledged = store.state.doc;
    this.#kept = copyOf(store.state.doc);
    store.subscribe((state) => this.#changed(state));
  }

  /** @returns {Stored|null} the other version while two are open, null otherwise */
  get theirs() {
    return this.#theirs;
  }

  /** @returns {Doc} this page's document, without a running gesture */
  get mine() {
    return this.#kept.doc;
  }

  /** @returns {number} time of the last edit, milliseconds since 1970; 0 for none */
  get editedAt() {
    return this.#editedAt;
  }

  /** @returns {Finding[]} why the server refused the last save */
  get problems() {
    return this.#problems;
  }

  /** @returns {boolean} whether leaving the page would lose an edit */
  get losesOnLeave() {
    return !this.#localWorks && this.#isDirty();
  }

  /**
   * Takes up what an earlier page of this project left unacknowledged, and
   * begins to save. Edits made before are not lost: they are saved now.
   * @param {Writers} writers
   */
  async start(writers) {
    this.#writers = writers;
    const boot = { doc: this.#acknowledged, version: this.#store.state.save.version, savedAt: this.#savedAt };
    const left = await this.#leftBehind();
    this.#started = true;
    for (const kept of left) {
      const doc = readable(kept.text, boot.doc.schema);
      if (!doc) continue;
      if (sameContent(doc, boot.doc)) {
        await this.#forget(kept.writer, kept.text);
        continue;
      }
      // The others stay where they are and come up on the next load.
      await this.#takeUp(kept, doc, boot);
      return;
    }
    if (this.#isDirty()) this.#edited();
  }

  /** Sends at once what waits for a pause or for another try. */
  sendNow() {
    this.#stopWaiting();
    this.#send();
  }

  /** Saves this page's version over the newer one, which the server keeps as an earlier version. */
  keepMine() {
    if (!this.#theirs) return;
    const version = this.#theirs.version;
    this.#theirs = null;
    this.#store.setSave({ state: 'saving', version, message: '' });
    this.#writeDown();
    this.sendNow();
  }

  /**
   * Takes the other version; this page's version first becomes a project of
   * its own.
   * @returns {Promise<string>} the address of that project; rejects, with nothing changed, when it could not be made
   */
  async takeTheirs() {
    const theirs = this.#theirs;
    if (!theirs) throw new Error('there is no other version');
    const mine = this.#kept;
    const address = await this.#api.uploadCopy(labelled(mine.doc));
    if (this.#kept !== mine) throw new Error('the drawing changed meanwhile');
    this.#theirs = null;
    this.#acknowledged = theirs.doc;
    this.#store.setUi({ selection: NOTHING });
    this.#store.run('Take the other version', () => theirs.doc);
    this.#stopWaiting();
    this.#store.setSave({ state: 'saved', version: theirs.version, message: '' });
    return address;
  }

  /** @param {State} state */
  #changed(state) {
    if (state.inGesture || state.doc === this.#kept.doc) return;
    this.#kept = copyOf(state.doc);
    this.#editedAt = this.#clock.now();
    if (this.#started) this.#edited();
  }

  #isDirty() {
    return this.#kept.doc !== this.#acknowledged;
  }

  #edited() {
    if (this.#theirs) {
      this.#writeDown();
      return;
    }
    if (!this.#isDirty() && !this.#doubt) {
      // Undone back to what the server holds.
      this.#stopWaiting();
      this.#store.setSave({ state: 'saved', message: '' });
      this.#forget(this.#writers.own, this.#written);
      return;
    }
    this.#writeDown();
    if (this.#failures > 0) return;
    this.#store.setSave({ state: 'saving', message: '' });
    this.#wait(SAVE_AFTER_MS);
  }

  /** @param {number} ms */
  #wait(ms) {
    this.#stopWaiting();
    this.#cancelWait = this.#clock.after(ms, () => {
      this.#cancelWait = null;
      this.#send();
    });
  }

  #stopWaiting() {
    this.#cancelWait?.();
    this.#cancelWait = null;
  }

  #send() {
    if (this.#sending || this.#theirs) return;
    if (!this.#doubt && !this.#isDirty()) return;
    if (this.#store.state.inGesture) {
      this.#wait(SAVE_AFTER_MS);
      return;
    }
    const copy = this.#doubt ?? this.#kept;
    this.#sending = true;
    this.#doubt = copy;
    if (this.#failures === 0) this.#store.setSave({ state: 'saving', message: '' });
    this.#api.save(this.#store.state.save.version, copy.text).then(
      (answer) => this.#answered(copy, answer),
      () => this.#unanswered(),
    );
  }

  #unanswered() {
    this.#sending = false;
    this.#failures += 1;
    this.#writeDown();
    this.#store.setSave({ state: 'offline', message: '' });
    this.#wait(backoffMs(this.#failures, FIRST_RETRY_MS, LONGEST_RETRY_MS));
  }

  /**
   * @param {Copy} copy what was sent
   * @param {SaveAnswer} answer
   */
  #answered(copy, answer) {
    this.#sending = false;
    this.#failures = 0;
    this.#doubt = null;
    switch (answer.kind) {
      case 'saved':
        return this.#saved(copy, answer.version);
      case 'stale':
        if (sameContent(answer.theirs.doc, copy.doc)) return this.#saved(copy, answer.theirs.version);
        return this.#conflict(answer.theirs);
      case 'refused':
        return this.#refused(answer.problems);
      case 'gone':
        return this.#refused([{ path: '', message: 'This project is no longer on the server.' }]);
    }
  }

  /**
   * @param {Copy} copy
   * @param {number} version
   */
  #saved(copy, version) {
    this.#acknowledged = copy.text === this.#kept.text ? this.#kept.doc : copy.doc;
    this.#problems = [];
    this.#forget(this.#writers.own, copy.text);
    if (!this.#isDirty()) {
      this.#stopWaiting();
      this.#store.setSave({ state: 'saved', version, message: '' });
      return;
    }
    this.#store.setSave({ state: 'saving', version, message: '' });
    this.#writeDown();
    if (!this.#cancelWait) this.#wait(SAVE_AFTER_MS);
  }

  /** @param {Stored} theirs */
  #conflict(theirs) {
    this.#stopWaiting();
    this.#theirs = theirs;
    this.#writeDown();
    this.#store.setSave({ state: 'conflict', message: '' });
  }

  /** @param {Finding[]} problems */
  #refused(problems) {
    this.#problems = problems;
    this.#writeDown();
    // An edit made meanwhile may be the one that puts it right.
    if (this.#cancelWait) return;
    this.#store.setSave({ state: 'refused', message: problems[0]?.message ?? '' });
  }

  async #leftBehind() {
    try {
      const kept = await this.#local.list(this.#project);
      const orphans = await Promise.all(kept.map(({ writer }) => this.#writers.isOrphan(writer)));
      return kept.filter((_, i) => orphans[i]);
    } catch {
      this.#localWorks = false;
      return [];
    }
  }

  /**
   * @param {Kept} kept
   * @param {Doc} doc
   * @param {Stored} boot
   */
  async #takeUp(kept, doc, boot) {
    const sent = kept.sent ? copyOf(JSON.parse(kept.sent)) : null;
    const arrived = sent !== null && sameContent(sent.doc, boot.doc);
    this.#started = false;
    this.#store.run('Take up unsaved edits', () => doc);
    this.#started = true;
    this.#editedAt = kept.time;
    if (kept.base === boot.version || arrived) {
      if (!arrived) this.#doubt = sent;
      this.#edited();
    } else {
      this.#store.setSave({ version: kept.base });
      this.#conflict(boot);
    }
    if (kept.writer !== this.#writers.own) await this.#forget(kept.writer, kept.text);
  }

  #writeDown() {
    this.#written = this.#kept.text;
    this.#local
      .put({
        project: this.#project,
        writer: this.#writers.own,
        text: this.#kept.text,
        base: this.#store.state.save.version,
        time: this.#editedAt,
        sent: this.#doubt?.text ?? '',
      })
      .then(
        () => (this.#localWorks = true),
        () => (this.#localWorks = false),
      );
  }

  /**
   * @param {string} writer
   * @param {string} text
   */
  async #forget(writer, text) {
    try {
      await this.#local.remove(this.#project, writer, text);
    } catch {
      this.#localWorks = false;
    }
  }
}

/**
 * @param {string} text
 * @param {number} schema the format this page works in
 * @returns {Doc|null} null when it is not a document of that format
 */
function readable(text, schema) {
  try {
    const doc = JSON.parse(text);
    return doc?.schema === schema ? doc : null;
  } catch {
    return null;
  }
}

const LABEL_LIMIT = 120;
const COPY_SUFFIX = ' (my version)';

/**
 * The document under a label that tells it from the one it was kept beside.
 * @param {Doc} doc
 * @returns {Doc}
 */
function labelled(doc) {
  const label = [...doc.site.label].slice(0, LABEL_LIMIT - COPY_SUFFIX.length).join('') + COPY_SUFFIX;
  return { ...doc, site: { ...doc.site, label } };
}
