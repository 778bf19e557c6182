import { h, put } from '../parts/h.js';
import { bareCM } from '../parts/lengths.js';
import '../parts/data-table.js';
import * as api from './api.js';
import { sayError } from './problem.js';
import { sayPercent, saySure, sayVerdict } from './fit-words.js';

/** @typedef {import('../shapes-fit.js').Bench} Bench */

/** Everything that was computed, fetched when it is asked for. @param {Bench} bench */
export function numbersOnRequest(bench) {
  const box = h('div', { class: 'fit-tables' });
  return h('details', { 'data-key': 'all-numbers', ontoggle: (/** @type {any} */ e) => { if (e.target.open && !box.firstChild) load(); } },
    h('summary', {}, 'Show all numbers'), box);

  async function load() {
    put(box, h('p', { class: 'waiting' }, 'One moment.'));
    try {
      tables(box, await api.get(`${bench.path}/fit/numbers`, { signal: bench.view.gone }), bench.unit);
    } catch (err) {
      put(box, h('p', { class: 'note bad' }, sayError(err)));
    }
  }
}

/** @param {any} x */
const pct = (x) => (x === undefined || x === null ? '–' : sayPercent(x));
/** @param {any} row */
const interval = (row) => (row.lo_pct === undefined ? '–' : `${sayPercent(row.lo_pct)} to ${sayPercent(row.hi_pct)}`);

/** @param {string} label @param {(row: any) => any} cell @param {boolean} [num] */
const column = (label, cell, num = false) => ({ label, cell, num });
/** @param {string} label @param {(row: any) => any} cell */
const head = (label, cell) => ({ label, cell, head: true });

/** @param {Element} box @param {any} n @param {'cm'|'in'} unit */
function tables(box, n, unit) {
  const cm = (/** @type {string} */ name) => column(`${name}, ${unit}`, (r) => bareCM(r[NAMES[name]], unit), true);
  put(box,
    table('Fabric', n.fabric, [head('Direction', (r) => (r.axis === 'row' ? 'lengthwise' : 'widthwise')), column('Verdict', (r) => sayVerdict(r.verdict)), column('Growth', (r) => pct(r.estimate_pct), true),
      column('95 %', interval, true), column('Testers with a gauge', (r) => r.testers, true), column('Between garment and swatch', (r) => (r.omega ? sayPercent(100 * r.omega).replace('+', '') : '–'), true)]),
    table('Sizes and points', n.cells, [head('Place', (r) => `size ${r.size}, ${r.point}`), column('Verdict', (r) => (r.verdict === 'clear' ? 'right' : sayVerdict(r.verdict))), column('Off', (r) => pct(r.estimate_pct), true),
      column('95 %', interval, true), column('Right means within', (r) => pct(r.tol_pct).replace('+', ''), true), column('Count wrong', (r) => saySure(r.p_fault), true), column('Reports used', (r) => `${r.used} of ${r.reports}`, true)]),
    table('Testers', n.testers, [head('Tester', (r) => `${r.tester}, size ${r.size}`), column('Direction', (r) => (r.axis === 'row' ? 'rows' : 'stitches')), column('Verdict', (r) => sayVerdict(r.verdict)),
      column('Garment against swatch', (r) => pct(r.estimate_pct), true), column('95 %', interval, true), column('Gauge wrong', (r) => (r.p_gauge === undefined ? '–' : saySure(r.p_gauge)), true)]),
    table('Points over all sizes', n.points, [head('Point', (r) => r.point), column('Verdict', (r) => sayVerdict(r.verdict)), column('Off', (r) => pct(r.estimate_pct), true), column('Sure', (r) => saySure(r.p), true)]),
    table('Every measurement', n.reports, [head('Measurement', (r) => `${r.tester}, size ${r.size}, ${r.point}`), cm('Measured'), cm('At the design’s gauge'), cm('At their own'),
      column('Off the design', (r) => pct(r.deviation_pct), true), column('Explained by gauge', (r) => pct(r.from_gauge_pct), true), column('Left', (r) => pct(r.residual_pct), true), column('Give or take', (r) => pct(r.residual_u_pct).replace('+', ''), true)]));
}

/** @type {Record<string, string>} */
const NAMES = { Measured: 'measured_cm', 'At the design’s gauge': 'expected_design_cm', 'At their own': 'expected_own_cm' };

/** @param {string} caption @param {any[]} rows @param {any[]} columns */
function table(caption, rows, columns) {
  return rows.length ? h('div', { class: 'wide', tabindex: 0, role: 'region', 'aria-label': caption }, h('data-table', { caption, '.columns': columns, '.rows': rows })) : null;
}
