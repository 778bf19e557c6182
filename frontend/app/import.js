import { h, put, freshId } from '../parts/h.js';
import { openDialog } from '../parts/open-dialog.js';
import '../parts/data-table.js';
import * as api from './api.js';
import { announce } from './shell.js';
import { Problem, sayError } from './problem.js';
import { columnChoice } from './import-columns.js';
import { badFirst, fieldsOf, readHeader, sayDone, sayPlan, sayRow } from './import-words.js';

/** @typedef {import('./testing.js').Desk} Desk */
/** @typedef {import('../shapes-testing.js').Preview} Preview */

const LARGEST = 2 * 1024 * 1024; // bytes, as the server allows

/**
 * Brings in applicants or reports from a CSV file or pasted text: look first,
 * choose the columns, then import. Nothing is written before the last button.
 * @param {Desk} desk @param {'applicants'|'reports'} kind
 */
export function openImport(desk, kind) {
  const [areaId, fileId] = [freshId('csv'), freshId('file')];
  const area = h('textarea', { id: areaId, rows: 6, spellcheck: 'false', class: 'mono', '.value': '' });
  const file = h('input', { type: 'file', id: fileId, accept: '.csv,text/csv,text/plain', onchange: readFile });
  const trouble = h('div', { role: 'alert', class: 'import-trouble' });
  const found = h('div', { class: 'found' });
  const look = h('button', { type: 'button', class: 'main', onclick: () => preview({}) }, 'Look through it');
  const dialog = openDialog(kind === 'applicants' ? 'Import applicants' : 'Import reports', desk.view.gone,
    h('p', {}, kind === 'applicants' ? 'A table with a line of column names, then one line for each applicant, as a form or a spreadsheet saves it (CSV).'
      : 'A table with a line of column names, then one line for each report: the tester, the size, the swatch, and one column for each point of measure (CSV).'),
    h('div', { class: 'sources' },
      h('div', {}, h('label', { for: fileId }, 'From a file'), file),
      h('div', {}, h('label', { for: areaId }, 'Or paste the text'), area)),
    h('div', { class: 'acts' }, look), trouble, found);
  const path = `/calls/${desk.call?.id}/${kind}`;
  const fields = fieldsOf(kind, desk.design.points);

  async function readFile() {
    const picked = file.files?.[0];
    if (!picked) return;
    if (picked.size > LARGEST) { put(trouble, h('p', { class: 'note bad' }, 'The file is larger than 2 MiB; send it in parts.')); return; }
    area.value = await picked.text();
    await preview({});
  }

  /** @param {Record<string, string>} map */
  async function preview(map) {
    put(trouble);
    if (!area.value.trim()) { put(trouble, h('p', { class: 'note bad' }, 'Choose a file or paste the table first.')); area.focus(); return; }
    try {
      /** @type {Preview} */
      const seen = await api.post(`${path}/preview?map=${encodeURIComponent(JSON.stringify(map))}`, area.value, { type: 'text/csv' });
      showFound(seen, map);
      announce(sayPlan(seen));
    } catch (err) {
      const unnamed = err instanceof Problem && [...err.fields.keys()].some((at) => at.startsWith('query.map'));
      put(found, unnamed ? columnChoice({ columns: readHeader(area.value), fields, found: map, chosen: map, open: true, change: preview }) : null);
      put(trouble, h('p', { class: 'note bad' }, sayError(err)));
    }
  }

  /** @param {Preview} seen @param {Record<string, string>} map */
  function showFound(seen, map) {
    const again = dialog.querySelector(':focus')?.getAttribute('data-field');
    const wasOpen = Boolean(found.querySelector('details')?.open);
    put(found, columnChoice({ columns: seen.columns, fields, found: seen.mapping, chosen: map, open: wasOpen || Object.keys(map).length > 0, change: preview }),
      h('h3', {}, 'What would be imported'), h('p', {}, sayPlan(seen)), rowsTable(seen, kind), nothingYet(seen, map));
    if (again) /** @type {HTMLElement | null} */ (found.querySelector(`[data-field="${CSS.escape(again)}"]`))?.focus();
  }

  /** @param {Preview} seen @param {Record<string, string>} map */
  function nothingYet(seen, map) {
    const words = seen.good === 0 ? 'There is no row to import.' : seen.bad ? `Import the ${seen.good} good, leave out ${seen.bad}` : `Import ${seen.good}`;
    return [h('p', { class: 'soft' }, 'Nothing is written yet.'),
      h('div', { class: 'acts' }, seen.good === 0 ? h('p', {}, words) : h('button', { type: 'button', class: 'main', onclick: () => bringIn(seen, map) }, words))];
  }

  /** @param {Preview} seen @param {Record<string, string>} map */
  async function bringIn(seen, map) {
    try {
      const done = await api.post(`${path}/import?map=${encodeURIComponent(JSON.stringify(map))}${seen.bad ? '&skip_bad=true' : ''}`, area.value, { type: 'text/csv' });
      dialog.close();
      await desk.refresh();
      announce(sayDone(done));
    } catch (err) {
      put(trouble, h('p', { class: 'note bad' }, sayError(err)));
      trouble.scrollIntoView({ block: 'nearest' });
    }
  }
}

/** @param {Preview} seen @param {'applicants'|'reports'} kind */
function rowsTable(seen, kind) {
  const table = h('data-table', { caption: 'Rows, those with a problem first' });
  table.columns = [
    { label: 'Line', num: true, cell: (/** @type {any} */ r) => r.line },
    { label: 'Handle', head: true, cell: (/** @type {any} */ r) => r.handle || '–' },
    kind === 'applicants' ? { label: 'Sizes', cell: (/** @type {any} */ r) => (r.sizes || []).join(', ') } : { label: 'Size and points', cell: (/** @type {any} */ r) => [r.size, r.measured && `${r.measured} measured`].filter(Boolean).join(', ') },
    { label: 'What happens', cell: (/** @type {any} */ r) => h('span', { class: r.problem ? 'pin' : r.state === 'same' ? 'soft' : undefined }, r.problem ? `left out: ${r.problem}` : sayRow(r)) },
  ];
  table.rows = badFirst(seen.rows);
  return h('div', { class: 'import-rows', tabindex: '0', role: 'region', 'aria-label': 'Rows of the table' }, table);
}
