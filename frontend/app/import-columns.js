import { h, freshId } from '../parts/h.js';
import { overrides, sayField } from './import-words.js';

/**
 * Which column is what, to be put right by hand: one choice for each field.
 * `found` is what stands now, `chosen` what was chosen by hand so far; `change`
 * gets all that is chosen by hand after a change.
 * @param {{columns: string[], fields: string[], found: Record<string, string>, chosen: Record<string, string>, open: boolean,
 *   change: (chosen: Record<string, string>) => void}} of
 */
export function columnChoice({ columns, fields, found, chosen, open, change }) {
  const unread = columns.filter((c) => !Object.values(found).includes(c));
  const selects = fields.map((field) => {
    const id = freshId('column');
    const select = h('select', { id, 'data-field': field, onchange: tell }, h('option', { value: '' }, 'not in this table'), columns.map((c) => h('option', { value: c }, c)));
    select.value = found[field] || '';
    return h('div', {}, h('label', { for: id }, sayField(field)), select);
  });
  const box = h('details', { '.open': open }, h('summary', {}, `Columns: ${columns.length} found, ${columns.length - unread.length} used`),
    h('div', { class: 'side' }, selects), unread.length ? h('p', { class: 'soft' }, `Not used: ${unread.join(', ')}.`) : null);
  return box;

  function tell() {
    /** @type {HTMLSelectElement[]} */
    const all = [...box.querySelectorAll('select')];
    change({ ...chosen, ...overrides(found, Object.fromEntries(all.map((s) => [s.getAttribute('data-field') || '', s.value]))) });
  }
}
