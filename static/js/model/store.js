// The one state store of the editor. It holds an immutable document, its
// undo history, what is selected and shown, and the last evaluation. Nothing
// here touches the page.

/** @import {Asked, Board, Camera, Doc, Finding, ModulePlace, Moment, Overlay, Result, Selection, ShadeArea, Shadows, Sunlight, Worth, YieldResult} from './types.js' */

/** So long a history that a sitting never meets the cap. */
export const HISTORY_CAP = 10000;

/**
 * @typedef {object} Ui what is shown, never undone and never saved
 * @property {Selection} selection
 * @property {string} mode name of the active mode
 * @property {string} status what is being done and what Enter and Escape will do
 * @property {string} shown ID of the candidate whose modules are drawn, '' for none
 * @property {number} viewBearingDeg bearing that points up on the screen
 * @property {Camera} camera
 * @property {Board} board
 * @property {Overlay} overlay
 * @property {string} cursor CSS cursor over the board
 * @property {boolean} around what stands around the house is worked on, and not the roof
 * @property {LightUi} light
 */
/**
 * @typedef {object} LightUi how the light is looked at
 * @property {boolean} on
 * @property {'kwh'|'open'} by what the map shows: kWh/m2, or the share of the open plane's light
 * @property {boolean} sun shadows of one moment are drawn
 * @property {Moment} moment
 * @property {{plane: string, place: ModulePlace}|null} module whose light is told
 * @property {number} limitPct places under this share are proposed as shade
 * @property {ShadeArea[]|null} proposal drawn, not yet taken
 */
/**
 * @typedef {object} LightState what the server said of the light
 * @property {Asked<Sunlight>} map
 * @property {Asked<Shadows>} shadows
 * @property {Asked<YieldResult>} yields
 * @property {Asked<Worth[]>} worths
 */
/**
 * @typedef {object} Save
 * @property {'saved'|'saving'|'offline'|'conflict'|'refused'} state
 * @property {number} version the server version the document is based on
 * @property {string} message for people
 */
/** @typedef {{doc: Doc, label: string}} Step */
/** @typedef {{way: 'done'|'undone'|'redone', label: string}} LastStep a new object for every step, so that it can be announced once */
/**
 * @typedef {object} State
 * @property {Doc} doc the document as drawn now, a running gesture included
 * @property {boolean} inGesture
 * @property {Doc|null} gestureOf the document as the running gesture began, null while there is none
 * @property {Ui} ui
 * @property {Result|null} result evaluation of `resultOf`
 * @property {Doc|null} resultOf
 * @property {'drag'|'deep'} budget that the result was counted within
 * @property {Finding[]} problems why the document could not be evaluated
 * @property {LightState} light
 * @property {Save} save
 * @property {string} undoLabel '' when there is nothing to undo
 * @property {string} redoLabel
 * @property {LastStep|null} lastStep
 */

/** @type {Selection} */
export const NOTHING = Object.freeze({ items: [], corner: null, edge: null });

/** @type {Overlay} */
export const NO_OVERLAY = Object.freeze({
  ring: [], closed: false, what: '', snap: null, snapWord: '', guides: [], edge: null, tip: null, ghosts: [], lifted: [], outline: null, box: null,
});

/** @type {Asked<any>} */
const NOT_ASKED = Object.freeze({ value: null, of: null, step: 'idle', message: '' });

/** @type {LightUi} noon of the longest day in the north, and a limit to begin with: common practice, no source */
const FIRST_LIGHT = Object.freeze({
  on: false, by: 'kwh', sun: false, moment: Object.freeze({ month: 6, day: 21, clock_h: 12 }), module: null, limitPct: 75, proposal: null,
});

/** Zoom of a board that has nothing to fit yet: a house and its garden. */
const FIRST_PX_PER_M = 40;

/** One store holds one immutable state; every change makes a new one. */
export class Store {
  /** @type {State} */ #state;
  /** @type {Step[]} */ #past = [];
  /** @type {Step[]} */ #future = [];
  /** @type {{doc: Doc, label: string}|null} */ #mark = null;
  /** @type {Set<(state: State, before: State) => void>} */ #listeners = new Set();

  /**
   * @param {Doc} doc
   * @param {number} version server version of doc
   */
  constructor(doc, version) {
    this.#state = {
      doc,
      inGesture: false,
      gestureOf: null,
      ui: {
        selection: NOTHING,
        mode: 'select',
        status: '',
        shown: doc.candidates[0]?.id ?? '',
        viewBearingDeg: 0,
        camera: { x_m: 0, y_m: 0, pxPerM: FIRST_PX_PER_M },
        board: { widthPx: 0, heightPx: 0 },
        overlay: NO_OVERLAY,
        cursor: 'default',
        around: false,
        light: FIRST_LIGHT,
      },
      result: null,
      resultOf: null,
      budget: 'drag',
      problems: [],
      light: { map: NOT_ASKED, shadows: NOT_ASKED, yields: NOT_ASKED, worths: NOT_ASKED },
      save: { state: 'saved', version, message: '' },
      undoLabel: '',
      redoLabel: '',
      lastStep: null,
    };
  }

  /** @returns {State} */
  get state() {
    return this.#state;
  }

  /**
   * @param {(state: State, before: State) => void} listener
   * @returns {() => void} stops listening
   */
  subscribe(listener) {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  /**
   * Runs a command as one undo step. A command that returns the same document
   * is no step.
   * @param {string} label what undo will name, such as "Move corner"
   * @param {(doc: Doc) => Doc} command
   */
  run(label, command) {
    if (this.#mark) this.cancel();
    const doc = command(this.#state.doc);
    if (doc === this.#state.doc) return;
    this.#push(this.#state.doc, label);
    this.#set({ doc, lastStep: { way: 'done', label } });
  }

  /**
   * Begins a gesture: until keep or cancel, previews replace each other.
   * @param {string} label
   */
  begin(label) {
    if (this.#mark) this.cancel();
    this.#mark = { doc: this.#state.doc, label };
    this.#set({ inGesture: true, gestureOf: this.#state.doc });
  }

  /**
   * Shows what the gesture would make of the document as it was at begin.
   * @param {(doc: Doc) => Doc} command
   */
  preview(command) {
    if (!this.#mark) throw new Error('preview outside a gesture');
    this.#set({ doc: command(this.#mark.doc) });
  }

  /**
   * Ends a gesture as one undo step.
   * @param {string} [said] the label where only the end of the gesture tells it
   */
  keep(said) {
    const mark = this.#mark;
    if (!mark) return;
    this.#mark = null;
    const label = said ?? mark.label;
    if (mark.doc === this.#state.doc) return this.#set({ inGesture: false, gestureOf: null });
    this.#push(mark.doc, label);
    this.#set({ inGesture: false, gestureOf: null, lastStep: { way: 'done', label } });
  }

  /** Ends a gesture as if it had not begun. */
  cancel() {
    const mark = this.#mark;
    if (!mark) return;
    this.#mark = null;
    this.#set({ doc: mark.doc, inGesture: false, gestureOf: null });
  }

  /** @returns {string} the label of the undone step, '' if there was none */
  undo() {
    if (this.#mark) this.cancel();
    return this.#travel(this.#past, this.#future, 'undone');
  }

  /** @returns {string} the label of the redone step, '' if there was none */
  redo() {
    if (this.#mark) this.cancel();
    return this.#travel(this.#future, this.#past, 'redone');
  }

  /** @param {Partial<Ui>} patch selection, mode and the like; no undo step */
  setUi(patch) {
    this.#set({ ui: { ...this.#state.ui, ...patch } });
  }

  /** @param {Partial<LightUi>} patch */
  setLightUi(patch) {
    this.setUi({ light: { ...this.#state.ui.light, ...patch } });
  }

  /**
   * @template {keyof LightState} K
   * @param {K} what
   * @param {Partial<LightState[K]>} patch
   */
  setLight(what, patch) {
    const { light } = this.#state;
    this.#set({ light: { ...light, [what]: { ...light[what], ...patch } } });
  }

  /** @param {Partial<Save>} patch */
  setSave(patch) {
    this.#set({ save: { ...this.#state.save, ...patch } });
  }

  /**
   * @param {Doc} of the document that was evaluated
   * @param {Result|null} result null keeps the last one on screen
   * @param {Finding[]} problems
   * @param {State['budget']} [budget]
   */
  setResult(of, result, problems, budget = 'drag') {
    this.#set(result ? { result, resultOf: of, problems, budget } : { problems });
  }

  /**
   * @param {Step[]} from
   * @param {Step[]} to
   * @param {LastStep['way']} way
   */
  #travel(from, to, way) {
    const step = from.pop();
    if (!step) return '';
    to.push({ doc: this.#state.doc, label: step.label });
    this.#set({ doc: step.doc, lastStep: { way, label: step.label } });
    return step.label;
  }

  /**
   * @param {Doc} doc the document before the step
   * @param {string} label
   */
  #push(doc, label) {
    this.#past.push({ doc, label });
    if (this.#past.length > HISTORY_CAP) this.#past.shift();
    this.#future.length = 0;
  }

  /** @param {Partial<State>} patch */
  #set(patch) {
    const before = this.#state;
    this.#state = {
      ...before,
      ...patch,
      undoLabel: this.#past.at(-1)?.label ?? '',
      redoLabel: this.#future.at(-1)?.label ?? '',
    };
    for (const listener of this.#listeners) listener(this.#state, before);
  }
}
