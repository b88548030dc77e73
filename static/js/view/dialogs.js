// Small dialogs: a form of a few fields, and the list of keys.

import { html } from './svg.js';
import { keyText } from './toolbar.js';

/** @import {ActionView} from './toolbar.js' */

/** @typedef {{name: string, label: string, value: string, hint?: string, choices?: {value: string, label: string}[], check?: (text: string) => void}} Field */
/** @typedef {{id: string, title: string, intro?: string, fields: Field[], ok: string}} Form */

/** @param {HTMLElement} host @param {string} id @param {string} title @returns {HTMLDialogElement} */
function dialog(host, id, title) {
  const headingId = `${id}-title`;
  const element = html('dialog', { class: 'small-dialog', id: `dialog-${id}`, 'aria-labelledby': headingId, 'data-testid': `dialog-${id}` }, [
    html('h2', { id: headingId }, [title]),
  ]);
  element.addEventListener('close', () => element.remove());
  host.append(element);
  return element;
}

/**
 * Asks for a few values; each is checked before the dialog closes.
 * @param {HTMLElement} host
 * @param {Form} form
 * @returns {Promise<Record<string, string>|null>} null when it was cancelled
 */
export function ask(host, form) {
  const element = dialog(host, form.id, form.title);
  const fields = form.fields.map((f) => fieldRow(form.id, f));
  const cancel = html('button', { type: 'button', 'data-testid': `${form.id}-cancel` }, ['Cancel']);
  const body = html('form', { novalidate: true }, [
    form.intro ? html('p', { class: 'dialog-intro' }, [form.intro]) : null,
    ...fields.map((f) => f.row),
    html('div', { class: 'dialog-buttons' }, [cancel, html('button', { type: 'submit', class: 'primary', 'data-testid': `${form.id}-ok` }, [form.ok])]),
  ]);
  element.append(body);
  return new Promise((resolve) => {
    /** @type {Record<string, string>|null} */
    let values = null;
    cancel.addEventListener('click', () => element.close());
    body.addEventListener('submit', (e) => {
      e.preventDefault();
      const wrong = fields.filter((f) => !f.valid());
      if (wrong[0]) return wrong[0].input.focus();
      values = Object.fromEntries(fields.map((f) => [f.name, f.input.value]));
      element.close();
    });
    element.addEventListener('close', () => resolve(values));
    element.showModal();
    fields[0]?.input.focus();
    if (fields[0]?.input instanceof HTMLInputElement) fields[0].input.select();
  });
}

/** @param {string} formId @param {Field} field @returns {{name: string, row: HTMLElement, input: HTMLInputElement|HTMLSelectElement, valid: () => boolean}} */
function fieldRow(formId, { name, label, value, hint, choices, check }) {
  const id = `${formId}-${name}`;
  const note = html('p', { class: 'field-note', id: `${id}-note` }, [hint ?? '']);
  const attrs = { id, name, 'data-testid': id, 'aria-describedby': `${id}-note` };
  const input = choices
    ? html('select', attrs, choices.map((c) => html('option', { value: c.value, selected: c.value === value }, [c.label])))
    : html('input', { ...attrs, type: 'text', value, autocomplete: 'off', inputmode: 'text' });
  const row = html('div', { class: 'field-row' }, [html('label', { for: id }, [label]), input, note]);
  const valid = () => {
    const fault = faultOf(check, input.value);
    note.textContent = fault || hint || '';
    row.classList.toggle('wrong', fault !== '');
    input.setAttribute('aria-invalid', String(fault !== ''));
    return fault === '';
  };
  input.addEventListener('change', valid);
  return { name, row, input, valid };
}

/** @param {((text: string) => void)|undefined} check @param {string} text @returns {string} */
function faultOf(check, text) {
  try {
    check?.(text);
    return '';
  } catch (err) {
    return err instanceof Error ? err.message : String(err);
  }
}

/** Keys that belong to the pointer or to a mode and so are no action of their own. */
const OTHER_KEYS = /** @type {const} */ ([
  ['Space and drag, or the middle button', 'Move the view'],
  ['Wheel', 'Zoom about the pointer'],
  ['Shift while drawing or dragging', 'No snapping'],
  ['Alt while dragging a corner', 'Leave planes that meet there'],
  ['Shift and click', 'Add to the selection'],
  ['Double click a plane', 'Work on its modules'],
  ['Click a selected module again', 'Its whole row'],
  ['Drag from the paper, or with Shift, while on modules', 'A box around several'],
  ['R while on modules', 'Turn them, or the one to be added'],
  ['Digits while drawing', 'Type a length; Enter places the corner'],
  ['Enter, Backspace, Esc while drawing', 'Close, take back a corner, stop'],
]);

/** @param {HTMLElement} host @param {ActionView[]} actions */
export function showKeys(host, actions) {
  const element = dialog(host, 'keys', 'Keys');
  const groups = /** @type {const} */ ([['draw', 'Draw'], ['edit', 'Edit'], ['around', 'Surroundings'], ['modules', 'Modules'], ['view', 'View'], ['keyboard', 'Without a pointer']]);
  const done = html('button', { type: 'button', class: 'primary', 'data-testid': 'keys-close' }, ['Close']);
  done.addEventListener('click', () => element.close());
  element.classList.add('keys');
  element.append(
    html('div', { class: 'key-groups' }, [
      ...groups.map(([group, title]) =>
        keyTable(title, actions.filter((a) => a.group === group).map((a) => [a.keys.map(keyText).join(' or '), a.label.replace('…', '')])),
      ),
      keyTable('With the pointer', OTHER_KEYS.map(([k, l]) => [k, l])),
    ]),
    html('div', { class: 'dialog-buttons' }, [done]),
  );
  element.showModal();
}

/** @param {string} title @param {string[][]} rows @returns {HTMLElement} */
function keyTable(title, rows) {
  return html('section', {}, [
    html('h3', {}, [title]),
    html('table', {}, [
      html('tbody', {}, rows.map(([key, label]) => html('tr', {}, [html('th', { scope: 'row' }, [html('kbd', {}, [key])]), html('td', {}, [label])]))),
    ]),
  ]);
}
