import { h } from '../parts/h.js';
import '../parts/fit-tape.js';
import { halfOf, otherSizes, rowsFor } from './fit-rows.js';
import { sayPercent } from './fit-words.js';

/** @typedef {import('../shapes-fit.js').Finding} Finding */
/** @typedef {import('../shapes-fit.js').Fit} Fit */
/** @typedef {import('../shapes-fit.js').TapeRow} TapeRow */

/**
 * A finding's picture: how far it is off, then every piece on its own tape,
 * with the numbers beside it.
 * @param {Finding} f @param {Fit} fit @param {'cm'|'in'} unit
 */
export function picture(f, fit, unit) {
  const rows = rowsFor(f, fit, unit);
  if (rows.length === 0) return null;
  const others = otherSizes(f, fit, unit);
  const half = halfOf(rows, f.numbers);
  return h('div', { class: 'fit-picture' }, table(f, rows, half, unit, true),
    others.length ? h('details', {}, h('summary', {}, `The same point in the other sizes: ${others.length} piece${others.length === 1 ? '' : 's'}`),
      table(f, others, Math.max(half, Math.min(30, halfOf(others, {verdict: ''}))), unit, false)) : null);
}

/** @param {Finding} f @param {TapeRow[]} rows @param {number} half @param {'cm'|'in'} unit @param {boolean} head */
function table(f, rows, half, unit, head) {
  const n = f.numbers;
  const heads = headings(f);
  const measure = { '.half': half, '.unit': unit };
  const size = head && n.estimate_pct !== undefined && f.kind !== 'grading';
  return h('table', { class: 'fit-rows', role: 'table' },
    h('thead', { role: 'rowgroup' }, h('tr', { role: 'row' }, heads.map((words, i) => h('th', { role: 'columnheader', scope: 'col', class: i > 1 ? 'num' : undefined }, words)))),
    h('tbody', { role: 'rowgroup' },
      size ? h('tr', { role: 'row', class: 'fit-size' }, h('th', { role: 'rowheader', scope: 'row' }, f.kind === 'odd_value' ? 'off by' : 'all together'),
        h('td', { role: 'cell', class: 'tape' }, h('fit-tape', { ...measure, '.estimate': n.estimate_pct, '.interval': n.lo_pct === undefined ? null : [n.lo_pct, n.hi_pct] })),
        h('td', { role: 'cell' }), h('td', { role: 'cell' }), h('td', { role: 'cell', class: 'num', 'data-label': heads[4] }, h('b', {}, sayPercent(n.estimate_pct || 0)))) : null,
      rows.map((r) => h('tr', { role: 'row', class: r.here ? 'here' : undefined },
        h('th', { role: 'rowheader', scope: 'row' }, r.href ? h('a', { href: r.href }, r.name) : r.name),
        h('td', { role: 'cell', class: 'tape' }, h('fit-tape', { ...measure, '.row': r, '.estimate': head && f.kind !== 'grading' && f.kind !== 'odd_value' ? n.estimate_pct : undefined })),
        [r.expected, r.measured, r.off].map((words, i) => h('td', { role: 'cell', class: 'num', 'data-label': heads[i + 2] }, words))))));
}

/** @param {Finding} f */
function headings(f) {
  if (f.kind === 'grading') return ['Size', 'On the tape', 'Intended', 'The count gives', 'Off'];
  if (f.kind === 'fabric') return ['Piece', 'Against their own swatch', 'Likely', 'Measured', 'Mean'];
  return [f.kind === 'tester' ? 'Point' : 'Piece', 'On the tape', 'Likely at own gauge', 'Measured', 'Off'];
}

/** What the signs mean. */
export function pictureKey() {
  return h('p', { class: 'soft fit-key' }, 'Each tape is the piece’s own: dashed where it should lie at its maker’s own gauge and with the fabric’s growth, shaded where 19 of 20 sound pieces do. ',
    'A filled wedge lies in that, an open diamond outside, a cross is an odd number; the arrow above is how far they are off together, the thin line on each tape where that would be.');
}
