// The row of drawing actions: words on buttons, the rest in short menus.

import { html } from './svg.js';

/** @import {Store, State} from '../model/store.js' */

/** @typedef {{id: string, label: string, keys: string[], group: string, available: (state: State) => string}} ActionView */
/** @typedef {{actions: ActionView[], store: Store, run: (id: string, byPointer: boolean) => void}} Wiring */
/** @typedef {{button: HTMLButtonElement, action: ActionView, modes: string[], listed?: boolean}} Wired listed: in a menu */

/** Modes during which an action's button is shown as pressed. */
const PRESSED_IN = /** @type {Record<string, string[]>} */ ({
  'draw-plane': ['draw-plane'],
  'mark-shade': ['draw-shade'],
  obstruction: ['draw-rect', 'draw-circle', 'draw-obstruction'],
  surroundings: ['draw-tree', 'draw-block', 'draw-building'],
  modules: ['modules', 'modules-pointing', 'modules-drag', 'modules-box', 'modules-add'],
});

/** @param {HTMLElement} host @param {Wiring} wiring */
export function mountToolbar(host, wiring) {
  /** @type {Wired[]} */
  const wired = [];
  /** @param {string} id @param {string} [label] @param {string} [cls] */
  const button = (id, label, cls) => actionButton(wiring, wired, id, label, cls);
  /** @param {string} id @param {string} label @param {string[]} ids @param {string} [cls] */
  const menu = (id, label, ids, cls) => menuButton(wiring, wired, id, label, ids, cls);
  host.append(
    html('div', { class: 'action-group' }, [
      button('draw-plane', undefined, 'strong'),
      ...menu('obstruction', 'Obstruction', ['mark-rectangle', 'mark-circle', 'mark-outline', 'obstruction-by-numbers', 'mark-shade']),
      button('mark-shade', 'Shade', 'not-small'),
      button('modules'),
      ...menu('surroundings', 'Surroundings', ['surroundings', 'place-tree', 'draw-block', 'draw-building', 'tree-by-numbers'], 'not-small'),
    ]),
    html('div', { class: 'action-group' }, [button('light')]),
    html('div', { class: 'action-group' }, [button('undo'), button('redo', undefined, 'not-small'), button('delete', undefined, 'wide-only')]),
    html('div', { class: 'action-group view-group wide-only' }, [
      button('fit'),
      button('zoom-out', '−', 'sign'),
      button('zoom-in', '+', 'sign'),
      button('level-view'),
      button('north-up'),
    ]),
    html('div', { class: 'action-group last' }, [
      ...menu('more', 'More', [
        'surroundings', 'plane-by-numbers', 'redo', 'delete', 'duplicate', 'insert-corner', 'pick-eave', 'turn-selection', 'turn-roof', 'select-all',
        'modules', 'add-module', 'select-row', 'box-modules', 'turn-modules', 'lock-modules', 'unlock-modules', 'fill-rest', 'back-to-automatic',
        'fit', 'zoom-in', 'zoom-out', 'level-view', 'north-up', 'show-keys',
      ]),
    ]),
  );
  const refresh = () => wired.forEach((w) => show(w, wiring.store.state));
  wiring.store.subscribe((now, before) => {
    if (now.doc !== before.doc || now.result !== before.result || now.ui.selection !== before.ui.selection || now.ui.mode !== before.ui.mode || now.ui.around !== before.ui.around || now.ui.light.on !== before.ui.light.on || now.undoLabel !== before.undoLabel || now.redoLabel !== before.redoLabel || now.ui.viewBearingDeg !== before.ui.viewBearingDeg) refresh();
  });
  refresh();
}

/** @param {Wired} wired @param {State} state */
function show({ button, action, modes, listed }, state) {
  // What is only for the work on modules would make the menu long at other times.
  if (listed && action.group === 'modules' && action.id !== 'modules') button.hidden = !state.ui.mode.startsWith('modules');
  const why = action.available(state);
  // Not the disabled attribute: a button that cannot be reached cannot say why.
  if (why) button.setAttribute('aria-disabled', 'true');
  else button.removeAttribute('aria-disabled');
  const step = action.id === 'undo' ? state.undoLabel : action.id === 'redo' ? state.redoLabel : '';
  button.title = why || [step ? `${action.label} ${step.toLowerCase()}` : action.label, keyText(action.keys[0])].filter(Boolean).join(' · ');
  // On an empty sheet there is one thing to do.
  if (action.id === 'draw-plane') button.classList.toggle('primary', state.doc.planes.length === 0 && !modes.includes(state.ui.mode));
  if (modes.length) button.setAttribute('aria-pressed', String(modes.includes(state.ui.mode)));
  if (action.id === 'light') button.setAttribute('aria-pressed', String(state.ui.light.on));
}

/** @param {Wiring} wiring @param {Wired[]} wired @param {string} id @param {string} [label] @param {string} [cls] @returns {HTMLButtonElement} */
function actionButton(wiring, wired, id, label, cls = '') {
  const action = actionOf(wiring, id);
  const button = html('button', { type: 'button', class: `action ${cls}`, 'data-testid': `action-${id}` }, [label ?? action.label]);
  if (label && label !== action.label) button.setAttribute('aria-label', action.label);
  // A click by keyboard has no detail; only a pointer's hand goes on to the board.
  button.addEventListener('click', (e) => wiring.run(id, e.detail > 0));
  wired.push({ button, action, modes: PRESSED_IN[id] ?? [] });
  return button;
}

/** @param {Wiring} wiring @param {string} id @returns {ActionView} */
function actionOf(wiring, id) {
  const found = wiring.actions.find((a) => a.id === id);
  if (!found) throw new Error(`no action ${id}`);
  return found;
}

/** @param {Wiring} wiring @param {Wired[]} wired @param {string} id @param {string} label @param {string[]} ids @param {string} [cls] @returns {HTMLElement[]} the button and its menu */
function menuButton(wiring, wired, id, label, ids, cls = '') {
  const items = ids.map((actionId) => {
    const action = actionOf(wiring, actionId);
    const item = html('button', { type: 'button', class: 'menu-item', 'data-testid': `menu-${actionId}`, 'data-group': action.group }, [
      html('span', {}, [action.label]),
      html('kbd', {}, [keyText(action.keys[0])]),
    ]);
    item.addEventListener('click', (e) => {
      list.hidePopover();
      wiring.run(actionId, e.detail > 0);
    });
    wired.push({ button: item, action, modes: [], listed: true });
    return item;
  });
  const list = html('div', { class: 'action-menu', popover: 'auto', id: `menu-${id}`, 'aria-label': label, 'data-testid': `list-${id}` }, items);
  const button = html('button', { type: 'button', class: `action menu-button ${cls}`, popovertarget: `menu-${id}`, 'aria-expanded': 'false', 'data-testid': `menu-${id}-button` }, [label]);
  // In its place before it shows: what moves under the pointer is clicked wrong.
  list.addEventListener('beforetoggle', (e) => {
    if (e.newState !== 'open') return;
    arrange(list, items);
    place(list, button);
  });
  list.addEventListener('toggle', () => {
    const open = list.matches(':popover-open');
    button.setAttribute('aria-expanded', String(open));
    if (open) place(list, button);
    if (open) shownOf(items)[0]?.focus();
  });
  list.addEventListener('keydown', (e) => walk(e, shownOf(items)));
  const modes = PRESSED_IN[id] ?? [];
  if (modes.length) {
    wiring.store.subscribe((now, before) => {
      const on = modes.includes(now.ui.mode) || (id === 'surroundings' && now.ui.around);
      if (now.ui !== before.ui) button.classList.toggle('active', on);
    });
  }
  return [button, list];
}

/** @param {HTMLElement[]} items @returns {HTMLElement[]} those that are on the screen */
function shownOf(items) {
  return items.filter((i) => i.getClientRects().length > 0);
}

/** @param {HTMLElement} list a menu about to open @param {HTMLElement[]} items without what has a button already, a line between the groups */
function arrange(list, items) {
  let group = '';
  for (const item of items) {
    item.classList.toggle('elsewhere', hasButton(list, item));
    if (item.hidden || item.classList.contains('elsewhere')) continue;
    item.classList.toggle('new-group', group !== '' && group !== item.dataset.group);
    group = item.dataset.group ?? '';
  }
}

/** @param {HTMLElement} list a menu @param {HTMLElement} item @returns {boolean} what it does has a button in the row already */
function hasButton(list, item) {
  const id = (item.dataset.testid ?? '').slice('menu-'.length);
  const twins = list.closest('[role="toolbar"]')?.querySelectorAll(`[data-testid="action-${id}"], [data-testid="menu-${id}-button"]`) ?? [];
  return list.id === 'menu-more' && shownOf(/** @type {HTMLElement[]} */ ([...twins])).length > 0;
}

/** @param {KeyboardEvent} e @param {HTMLElement[]} items up and down go through a menu */
function walk(e, items) {
  const way = e.key === 'ArrowDown' ? 1 : e.key === 'ArrowUp' ? -1 : 0;
  if (!way) return;
  e.preventDefault();
  e.stopPropagation();
  const at = items.findIndex((i) => i === document.activeElement);
  items[(at + way + items.length) % items.length]?.focus();
}

/**
 * Puts the menu under its button, within the window. Before it shows it has no
 * width yet; only a menu at the window's right side moves once it has one.
 * @param {HTMLElement} list @param {HTMLElement} button
 */
function place(list, button) {
  const b = button.getBoundingClientRect();
  const w = list.getBoundingClientRect().width;
  list.style.left = `${Math.max(8, Math.min(b.left, window.innerWidth - w - 8))}px`;
  list.style.top = `${b.bottom + 4}px`;
}

/** @type {Record<string, string>} */
const KEY_WORDS = { ArrowUp: '↑', ArrowDown: '↓', ArrowLeft: '←', ArrowRight: '→', Escape: 'Esc', '-': '−' };

/** @param {string|undefined} key as the action records write it @returns {string} as it is printed on the key */
export function keyText(key) {
  if (!key) return '';
  const parts = key === '+' ? ['+'] : key.split('+');
  return parts.map((p) => KEY_WORDS[p] ?? p).join(' ');
}
