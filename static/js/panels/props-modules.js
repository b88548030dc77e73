// Properties of modules: of those selected, of a plane's modules as a whole,
// and the list of those that the roof does not allow.

/** @import {State} from '../model/store.js' */
/** @import {Plane} from '../model/types.js' */
/** @import {Standing} from '../model/hand.js' */
/** @import {LivePicks} from '../model/selection.js' */
/** @import {Field} from './field.js' */
/** @import {Context, Form} from './props.js' */

import { handLayoutOf, handLayouts, planePart, refusedModules, shownCandidate } from '../model/hand.js';
import { letterOf, modulesWord, whoSet, whyWords } from '../model/hand-words.js';
import { livePicks } from '../model/selection.js';
import { formatLength } from '../model/units.js';
import { actionOf } from '../modes/actions.js';
import { button, h, setAttribute, setText } from './dom.js';
import { fact } from './field.js';
import { planeName, plural } from './words.js';

/** @param {Context} context @returns {Form} while modules are worked on */
export function modulesForm(context) {
  /** @type {LivePicks|null} of the state that is drawn */ let picks = null;
  const planeId = () => picks?.plane.id ?? '';
  const refused = refusedList(context, planeId);
  const facts = pickFacts(() => picks);
  const lock = actionButton(context, 'lock-modules', 'Lock');
  const unlock = actionButton(context, 'unlock-modules', 'Unlock');
  const buttons = h('div', { class: 'p-pairs' },
    actionButton(context, 'turn-modules', 'Turn'), actionButton(context, 'select-row'), lock, unlock,
    button('Remove', () => context.act('delete'), { class: 'danger', 'data-testid': 'props-remove-modules' }));
  const picked = h('div', { class: 'p-group' }, buttons, h('dl', { class: 'p-facts' }, ...facts.map((f) => f.element)));
  const hint = h('p', { class: 'p-hint', 'data-testid': 'modules-hint' },
    'Click a module to select it, and again for its whole row. Shift and click adds. A box drawn from the paper, or with Box on the drawing, selects several.');
  const section = handSection(context, planeId);
  return {
    title: () => titleOf(picks),
    elements: [refused.element, picked, hint, actionButton(context, 'add-module'), section.element],
    update(state) {
      picks = livePicks(state);
      const modules = chosen(picks);
      picked.hidden = modules.length === 0;
      hint.hidden = modules.length > 0;
      lock.hidden = modules.every((m) => m.module.locked);
      unlock.hidden = !modules.some((m) => m.module.locked);
      for (const field of [...facts, refused, section]) field.update(state);
    },
  };
}

/** @param {LivePicks|null} picks @returns {Standing[]} */
function chosen(picks) {
  return picks ? picks.picked.map((i) => picks.modules[i]) : [];
}

/** @param {LivePicks|null} picks @returns {string} */
function titleOf(picks) {
  const n = picks?.picked.length ?? 0;
  return n > 0 ? `${modulesWord(n)} selected` : 'Modules';
}

/** @param {() => LivePicks|null} picks of the state that is drawn @returns {Field[]} */
function pickFacts(picks) {
  /** @param {(m: Standing, state: State) => string} say @returns {(state: State) => string} of all that are selected, or what they share */
  const shared = (say) => (state) => {
    const words = [...new Set(chosen(picks()).map((m) => say(m, state)))];
    return words.length === 1 ? words[0] : words.length === 0 ? '–' : 'differs';
  };
  return [
    fact('module-plane', 'On', (state) => {
      const plane = picks()?.plane;
      return plane ? planeName(state.doc, plane) : '–';
    }),
    fact('module-turn', 'Lies', shared((m) => m.module.turn)),
    fact('module-along', 'Along the eave', shared((m, state) => formatLength(m.box.u_m, state.doc.site.units))),
    fact('module-up', 'Up the slope', shared((m, state) => formatLength(m.box.v_m, state.doc.site.units))),
    fact('module-locked', 'Place', shared((m) => (m.refused ? 'not allowed' : m.module.locked ? 'locked' : m.own ? 'set by hand' : 'set by the program'))),
  ];
}

/** @param {Context} context @param {string} id @param {string} [label] @returns {HTMLButtonElement} */
function actionButton(context, id, label = actionOf(id).label) {
  return button(label, () => context.act(id), { 'data-testid': `props-${id}` });
}

/**
 * Who set a plane's modules, and the ways to change that.
 * @param {Context} context @param {() => string} planeId '' for none
 * @returns {Field}
 */
export function handSection(context, planeId) {
  const who = h('p', { 'data-testid': 'hand-who' });
  const only = h('p', { class: 'p-hint', 'data-testid': 'hand-only' });
  const edit = actionButton(context, 'modules', 'Edit modules');
  const fill = actionButton(context, 'fill-rest');
  const reset = actionButton(context, 'back-to-automatic');
  const element = h('section', { class: 'p-group', 'data-testid': 'hand-section' }, h('h3', {}, 'Modules on this plane'), who, only, edit, fill, reset);
  return {
    element,
    update(state) {
      const plane = state.doc.planes.find((p) => p.id === planeId());
      element.hidden = !plane?.use || !shownCandidate(state);
      if (!plane) return;
      setText(who, whoSet(state, plane.id));
      setText(only, onlyWords(state, plane));
      edit.hidden = state.ui.mode.startsWith('modules');
      for (const [id, element] of /** @type {const} */ ([['fill-rest', fill], ['back-to-automatic', reset]])) {
        const why = actionOf(id).available(state);
        setAttribute(element, 'aria-disabled', why ? 'true' : null);
        setAttribute(element, 'title', why || null);
      }
    },
  };
}

/** @param {State} state @param {Plane} plane @returns {string} for which modules hand edits hold */
function onlyWords(state, plane) {
  const { doc } = state;
  const shown = shownCandidate(state);
  const others = handLayouts(doc).filter((l) => l.plane_id === plane.id && l.candidate_id !== shown?.id).map((l) => letterOf(doc, l.candidate_id));
  const also = others.length > 0 ? ` ${others.join(' and ')} ${others.length === 1 ? 'has' : 'have'} a hand layout of ${others.length === 1 ? 'its' : 'their'} own.` : '';
  const spare = planePart(state, plane.id)?.hand === 'by_hand' && doc.target.mode === 'size' ? ' Dotted ones are more than the size needs.' : '';
  const hold = handLayoutOf(doc, shown?.id, plane.id) ? 'hold' : 'would hold';
  return `Edits by hand ${hold} for module ${letterOf(doc, shown?.id)} only, since modules differ in size.${also}${spare}`;
}

/**
 * Modules set by hand that the roof does not allow, with what can be done.
 * @param {Context} context @param {() => string} planeId
 * @returns {Field} hidden while there are none
 */
export function refusedList(context, planeId) {
  const heading = h('h3', {});
  const list = h('ul', { class: 'f-list' });
  const element = h('section', { class: 'f-remarks', 'data-testid': 'refused-modules', hidden: true }, heading, list);
  let drawn = '';
  return {
    element,
    update(state) {
      const plane = state.doc.planes.find((p) => p.id === planeId());
      // What the hand is just trying is told beside the pointer.
      const tried = new Set(state.ui.overlay.lifted);
      const rows = plane ? refusedModules(state, plane.id).filter((m) => !tried.has(m.module)).map((m) => ({ m, words: refusedWords(state, m) })) : [];
      const key = JSON.stringify(rows.map(({ words, m }) => [words, m.module]));
      if (key === drawn) return;
      drawn = key;
      element.hidden = rows.length === 0;
      setText(heading, `${plural(rows.length, 'module')} set by hand ${rows.length === 1 ? 'is' : 'are'} not counted`);
      list.replaceChildren(...rows.map(({ m, words }) => refusedRow(context, planeId(), m, words)));
    },
  };
}

/** @param {State} state @param {Standing} m @returns {string} */
function refusedWords({ doc }, { module, refused }) {
  return `${module.locked ? 'Locked module' : 'Module'}: ${refused ? whyWords(doc, refused) : ''}.`;
}

/** @param {Context} context @param {string} id of the plane @param {Standing} m @param {string} words @returns {HTMLElement} */
function refusedRow(context, id, { module }, words) {
  return h('li', { class: 'p-group', 'data-testid': 'refused-module' },
    h('p', {}, words),
    h('div', { class: 'p-buttons' },
      button('Show', () => context.showModule(id, module), { 'data-testid': 'refused-show' }),
      module.locked && button('Unlock', () => context.clearRefused(id, module, 'unlock'), { 'data-testid': 'refused-unlock' }),
      button('Remove', () => context.clearRefused(id, module, 'remove'), { class: 'danger', 'data-testid': 'refused-remove' })));
}
