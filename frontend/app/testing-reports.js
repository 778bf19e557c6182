import { h, put } from '../parts/h.js';
import { sayCM, sayLength } from '../parts/lengths.js';
import { openImport } from './import.js';
import { needsLook, sayDifference, sayShare, sayPercent, stateOf } from './report-words.js';

/** @typedef {import('./testing.js').Desk} Desk */
/** @typedef {import('../shapes-testing.js').Comparison} Comparison */
/** @typedef {import('../shapes-testing.js').Cell} Cell */

/**
 * All reports against all points, each number beside what was expected.
 * @param {Element} section @param {Desk} desk
 */
export function drawReports(section, desk) {
  const { comparison: { points }, design, view } = desk;
  const order = new Map(design.sizes.map((s, i) => [s.id, i]));
  const here = new Set(desk.assignments.map((a) => a.report_id));
  const rows = desk.comparison.rows.filter((r) => here.has(r.report_id))
    .sort((a, b) => (order.get(a.size_id) ?? 99) - (order.get(b.size_id) ?? 99) || a.handle.localeCompare(b.handle));
  put(section, h('div', { class: 'sec-head' }, h('h2', { id: 'reports-title' }, 'Reports beside what was expected'),
    desk.may ? h('button', { type: 'button', 'data-key': 'import-reports', onclick: () => openImport(desk, 'reports') }, 'Import reports') : null),
  rows.length === 0 ? h('p', { class: 'soft' }, 'No report yet.')
    : [h('p', { class: 'soft' }, 'In each cell: measured, as it was sent; how far that is from the design’s gauge; what was expected at the design’s gauge and at the tester’s own; how much of the difference the tester’s gauge explains.'),
      h('div', { class: 'wide', tabindex: '0', role: 'region', 'aria-label': 'Reports against points' },
        h('table', { class: 'reports', role: 'table' },
          h('thead', { role: 'rowgroup' }, h('tr', { role: 'row' }, h('th', { role: 'columnheader', scope: 'col' }, 'Report'),
            points.map((p) => h('th', { role: 'columnheader', scope: 'col' }, p.name, h('span', { class: 'tol' }, ` ± ${sayCM(p.tolerance_cm, view.me.unit)}`))))),
          h('tbody', { role: 'rowgroup' }, rows.map((r) => line(r, points, desk)))))]);
}

/** @param {Comparison['rows'][number]} row @param {Comparison['points']} points @param {Desk} desk */
function line(row, points, desk) {
  const cells = points.map((p) => ({ point: p, cell: row.cells.find((c) => c.point_id === p.id) }));
  const calm = cells.filter(({ cell }) => isCalm(cell)).length;
  return h('tr', { role: 'row', class: 'folded' },
    h('th', { role: 'rowheader', scope: 'row' },
      h('a', { href: `/d/${encodeURIComponent(desk.design.slug)}/reports/${row.report_id}` }, `size ${desk.sizeName(row.size_id)}, ${row.handle}`),
      h('span', { class: 'under' }, sayPercent(row.gauge?.stitch_percent, 'stitches')), h('span', { class: 'under' }, sayPercent(row.gauge?.row_percent, 'rows')),
      h('span', { class: 'under' }, row.number > 1 ? `number ${row.number}, ` : '', row.approved ? 'approved' : 'not approved yet'),
      calm > 0 ? unfolder(calm, points.length, `${desk.sizeName(row.size_id)}, ${row.handle}`) : null),
    cells.map(({ point: p, cell }) => {
      return h('td', { role: 'cell', 'data-label': p.name, class: isCalm(cell) ? 'calm' : '' }, cell?.measured ? figures(cell, p.tolerance_cm, desk.view.me.unit) : h('span', { class: 'soft' }, 'not measured'));
    }));
}

/** Whether a number is there and asks for nothing. @param {Cell | undefined} c */
function isCalm(c) { return !!c?.measured && !needsLook(c); }

/** On a phone, where points stand below each other, those that ask for nothing
 * are folded away. @param {number} calm @param {number} all @param {string} whose */
function unfolder(calm, all, whose) {
  const words = calm === all ? `None of the ${all} points raises a question` : `${calm} of ${all} points raise no question`;
  return h('button', { type: 'button', class: 'unfolder', 'aria-expanded': 'false', 'aria-label': `${words}: size ${whose}`, onclick: (/** @type {any} */ e) => {
    const folded = e.currentTarget.closest('tr').classList.toggle('folded');
    e.currentTarget.setAttribute('aria-expanded', String(!folded));
  } }, words);
}

/** @param {Cell} c @param {number} toleranceCM @param {'cm'|'in'} unit */
function figures(c, toleranceCM, unit) {
  const slip = stateOf(c, toleranceCM) === 'slip';
  const look = needsLook(c);
  return h('div', { class: 'figures' },
    h('p', {}, h('span', { class: look ? 'pin' : 'strong' }, h('span', { 'aria-hidden': 'true' }, slip ? '✕ ' : look ? '◇ ' : ''), sayLength(c.measured)), ` ${sayDifference(c.difference_cm, unit)}`),
    h('p', { class: 'soft' }, `design ${sayCM(c.expected_cm, unit)}`, c.expected_own_cm === null ? '' : `, own ${sayCM(c.expected_own_cm, unit)}`),
    h('p', { class: look ? 'pin' : 'soft' }, slip ? 'likely a slip' : sayShare(c, unit)));
}
