// While something is being drawn or picked: the keys that matter then as
// buttons on the board, for a hand without a keyboard.

import { html } from './svg.js';

/** @import {Store, State} from '../model/store.js' */

/** @typedef {{id: string, label: string, key: string, when: (state: State) => boolean}} ModeKey */

/** @param {State} s */
const drawing = ({ ui }) => ui.mode.startsWith('draw-');
/** @param {State} s */
const picking = ({ ui }) => ui.mode.startsWith('pick-');
/** @param {State} s */
const onModules = ({ ui }) => ui.mode === 'modules';
/** @param {State} s */
const around = ({ ui }) => ui.around && ui.mode === 'select';
/** The moving point is the last of the outline, so four make three corners. @param {State} s */
const closable = (s) => drawing(s) && !s.ui.overlay.closed && s.ui.overlay.ring.length >= 4;

/** @type {ModeKey[]} */
const KEYS = [
  { id: 'finish', label: 'Close outline', key: 'Enter', when: closable },
  { id: 'take-back', label: 'Take back', key: 'Backspace', when: (s) => drawing(s) && s.ui.overlay.ring.length >= 2 },
  { id: 'tree', label: 'Tree', key: 'y', when: around },
  { id: 'block', label: 'Building', key: 'x', when: around },
  { id: 'outline', label: 'Outline', key: 'X', when: around },
  { id: 'add-module', label: 'Add module', key: 'a', when: onModules },
  { id: 'box-modules', label: 'Box', key: 'b', when: onModules },
  { id: 'done', label: 'Done', key: 'm', when: onModules },
  { id: 'done-around', label: 'Done', key: 'u', when: around },
  { id: 'turn', label: 'Turn', key: 'r', when: (s) => s.ui.mode === 'modules-add' },
  { id: 'stop', label: 'Stop', key: 'Escape', when: (s) => drawing(s) || picking(s) || s.ui.mode === 'modules-add' || s.ui.mode === 'modules-box' },
];

/** @param {HTMLElement} host the board @param {Store} store @param {(key: string) => void} press */
export function mountModeBar(host, store, press) {
  const buttons = KEYS.map((k) => {
    const button = html('button', { type: 'button', 'data-testid': `mode-${k.id}` }, [k.label]);
    button.addEventListener('click', () => press(k.key));
    return { ...k, button };
  });
  const bar = html('div', { class: 'mode-bar', role: 'group', 'aria-label': 'Drawing', 'data-testid': 'mode-bar' }, buttons.map((b) => b.button));
  host.append(bar);
  const show = () => {
    bar.dataset.for = store.state.ui.mode.startsWith('modules') || around(store.state) ? 'modules' : 'drawing';
    for (const b of buttons) b.button.hidden = !b.when(store.state);
    bar.hidden = buttons.every((b) => b.button.hidden);
  };
  store.subscribe((now, before) => {
    if (now.ui.mode !== before.ui.mode || now.ui.overlay !== before.ui.overlay || now.ui.around !== before.ui.around) show();
  });
  show();
}
