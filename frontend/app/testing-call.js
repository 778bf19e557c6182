import { h } from '../parts/h.js';
import { openForm } from '../parts/open-dialog.js';
import '../parts/form-field.js';
import '../parts/entry-form.js';
import * as api from './api.js';
import { go } from './router.js';
import { announce } from './shell.js';
import { sayError } from './problem.js';

/** @typedef {import('./testing.js').Desk} Desk */
/** @typedef {import('../shapes-testing.js').Call} Call */

const USUAL = { fewest: 2, wanted: 3, most: 4 };
/** @type {['fewest', 'wanted', 'most']} */
const COLUMNS = ['fewest', 'wanted', 'most'];

/**
 * Opens the form for a new call, or for one that is there.
 * @param {Desk} desk @param {Call | null} call
 */
export function editCall(desk, call) {
  const once = new api.OnceKey();
  const slots = slotTable(desk, call);
  const { design } = desk;
  openForm({ title: call ? `Change ${call.title}` : 'Open a test call', say: call ? 'Save' : 'Open the call', gone: desk.view.gone, save, done },
    h('form-field', { name: 'title', label: 'Name', required: true, maxlength: 120, autocomplete: 'off', value: call?.title ?? 'First test' }),
    call ? null : h('form-field', { name: 'version_id', label: 'Version that is made', kind: 'select', quiet: true, hint: 'It never changes again once a tester has it.',
      '.options': [...design.versions].reverse().map((v) => [v.id, `version ${v.number}${v.note ? `, ${v.note}` : ''}`]) }),
    h('div', { class: 'side' },
      h('form-field', { name: 'opens_on', label: 'From', kind: 'date', required: true, value: call?.opens_on ?? desk.view.settings.today }),
      h('form-field', { name: 'due_on', label: 'Reports due', kind: 'date', required: true, value: call?.due_on })),
    slots,
    h('div', { class: 'side' }, h('form-field', { name: 'sections', label: 'Sections of the work, one a line', kind: 'area', maxlength: 2000, hint: 'Testers tell by them how far they are.', value: call?.sections.join('\n') ?? '' }),
      h('form-field', { name: 'answer_days', label: 'Days to answer when asked', kind: 'number', min: 1, max: 60, required: true, value: call?.answer_days ?? 5 })),
    h('form-field', { name: 'confidentiality', label: 'What testers agree to until release', kind: 'area', maxlength: 4000,
      value: call?.confidentiality ?? 'Please keep the text, the pictures and the counts to yourself until the pattern is out.' }));

  /** @param {Record<string, any>} values */
  async function save(values) {
    const sections = values.sections.split('\n').map((/** @type {string} */ x) => x.trim()).filter(Boolean);
    const body = { ...values, sections, slots: readSlots(slots) };
    if (call) return api.patch(`/calls/${call.id}`, body, { revision: call.revision });
    return api.post(`${desk.path}/calls`, body, { key: once.for(body) });
  }

  /** @param {Call} saved */
  async function done(saved) {
    announce(call ? 'The call is changed.' : 'The call is open.');
    if (call) await desk.refresh();
    else go(`/d/${encodeURIComponent(design.slug)}/testing?call=${saved.id}`);
  }
}

/** A small table: for each size the fewest, wanted and most testers. @param {Desk} desk @param {Call | null} call */
function slotTable(desk, call) {
  const rows = desk.design.sizes.map((size, i) => {
    const now = call ? call.slots.find((s) => s.size_id === size.id) || { fewest: 0, wanted: 0, most: 0 } : USUAL;
    return h('tr', { 'data-size': size.id }, h('th', { scope: 'row' }, size.name), COLUMNS.map((column) => h('td', {}, h('input', {
      inputmode: 'numeric', autocomplete: 'off', value: now[column], 'data-column': column, 'data-at': `slots[${i}].${column}`,
      'aria-label': `Size ${size.name}, ${column}`, maxlength: 3, onkeydown: (/** @type {KeyboardEvent} */ e) => along(e, column) }))));
  });
  return h('fieldset', { class: 'slot-table' }, h('legend', {}, 'Testers for each size'),
    h('p', { class: 'hint' }, 'Fewest: with fewer, the size counts as untested. Most: where to stop. Arrow keys move up and down.'),
    h('table', {}, h('thead', {}, h('tr', {}, h('th', { scope: 'col' }, 'Size'), COLUMNS.map((c) => h('th', { scope: 'col' }, c)))), h('tbody', {}, rows)));
}

/** Up and down a column, as in any table of figures. @param {KeyboardEvent} e @param {string} column */
function along(e, column) {
  if (e.key !== 'ArrowUp' && e.key !== 'ArrowDown') return;
  const row = /** @type {Element} */ (e.target).closest('tr');
  const next = e.key === 'ArrowUp' ? row?.previousElementSibling : row?.nextElementSibling;
  const cell = /** @type {HTMLInputElement | null | undefined} */ (next?.querySelector(`[data-column="${column}"]`));
  if (!cell) return;
  e.preventDefault();
  cell.focus();
  cell.select();
}

/** @param {Element} table */
function readSlots(table) {
  return [...table.querySelectorAll('tr[data-size]')].map((row) => ({
    size_id: row.getAttribute('data-size'),
    ...Object.fromEntries(COLUMNS.map((c) => {
      const input = /** @type {HTMLInputElement} */ (row.querySelector(`[data-column="${c}"]`));
      const text = input.value.trim() || '0';
      if (!/^\d{1,3}$/.test(text)) { input.focus(); throw new Error(`${input.getAttribute('aria-label')}: write a whole number.`); }
      return [c, Number(text)];
    })),
  }));
}

/** @param {Desk} desk @param {Call} call */
export async function setClosed(desk, call) {
  try {
    await api.patch(`/calls/${call.id}`, { closed: !call.closed_at }, { revision: call.revision });
    await desk.refresh();
    announce(call.closed_at ? 'The call is open again.' : 'The call is closed.');
  } catch (err) {
    announce(sayError(err));
  }
}
