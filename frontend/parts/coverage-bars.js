import { h, s } from './h.js';

const STEP = 16;
const HIGH = 34;

/**
 * How likely each number of reports is, as bars above 0, 1, 2, …: outlined
 * where they are too few, filled where they are enough. `words` is read out in
 * its place; the figures themselves belong into a table beside it.
 * @param {number[]} reports probability of 0, 1, 2, … reports
 * @param {number} fewest
 * @param {string} words
 */
export function coverageBars(reports, fewest, words) {
  const shown = reports.slice(0, 13);
  const wide = Math.max(shown.length, fewest + 1) * STEP;
  return s('svg', { class: 'coverage', viewBox: `0 0 ${wide} ${HIGH + 16}`, width: wide, height: HIGH + 16, role: 'img', 'aria-label': words },
    s('path', { class: 'coverage-base', d: `M0 ${HIGH + 0.5}H${wide}` }),
    shown.map((p, n) => {
      const high = Math.round(p * (HIGH - 2) * 10) / 10;
      return high > 0 ? s('rect', { class: n < fewest ? 'too-few' : 'enough', x: n * STEP + 3.5, y: HIGH - high, width: STEP - 7, height: high }) : null;
    }),
    s('path', { class: 'coverage-fewest', d: `M${fewest * STEP + 0.5} 2V${HIGH + 5}` }),
    Array.from({ length: Math.max(shown.length, fewest + 1) }, (_, n) => s('text', { x: n * STEP + STEP / 2, y: HIGH + 13, 'text-anchor': 'middle' }, n)));
}

/**
 * The same figures as a table, for several rows at once.
 * @param {{name: string, reports: number[], fewest: number, probability: number}[]} rows
 * @param {(p: number) => string} say
 */
export function coverageTable(rows, say) {
  const most = Math.max(0, ...rows.map((r) => r.reports.length - 1));
  return h('div', { class: 'wide', tabindex: '0', role: 'region', 'aria-label': 'How likely each number of reports is' },
    h('table', { class: 'coverage-table' },
      h('thead', {}, h('tr', {}, h('th', { scope: 'col' }, 'Size'), Array.from({ length: most + 1 }, (_, n) => h('th', { scope: 'col', class: 'num' }, n === 1 ? '1 report' : `${n} reports`)), h('th', { scope: 'col', class: 'num' }, 'Enough'))),
      h('tbody', {}, rows.map((r) => h('tr', {}, h('th', { scope: 'row' }, r.name),
        Array.from({ length: most + 1 }, (_, n) => h('td', { class: 'num' }, n < r.reports.length ? say(r.reports[n]) : '–')),
        h('td', { class: 'num' }, r.fewest ? say(r.probability) : '–'))))));
}
