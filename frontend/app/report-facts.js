import { h, put } from '../parts/h.js';
import { sayGauge, sayNumber } from '../parts/lengths.js';
import { sayMoment } from '../parts/dates.js';
import { sayPercent } from './report-words.js';

/** @typedef {import('../shapes-testing.js').OpenedReport} Opened */
/** @typedef {import('../shapes-testing.js').Report} Report */

/**
 * Gauge, yarn, hours, remarks, and the numbers sent before.
 * @param {Element} section @param {Opened} report @param {import('../shapes.js').Design} design
 * @param {Report[]} numbers @param {import('../shapes-testing.js').Remark[]} remarks @param {string} zone
 */
export function drawFacts(section, report, design, numbers, remarks, zone) {
  const g = report.gauge;
  put(section, h('h2', { id: 'facts-title' }, 'Gauge, yarn and remarks'),
    h('dl', { class: 'pairs' },
      h('dt', {}, 'Swatch'), h('dd', {}, report.swatch ? sayGauge(report.swatch) : 'not told'),
      h('dt', {}, 'Design'), h('dd', {}, sayGauge(design.gauge)),
      report.swatch ? [h('dt', {}, 'Against it'), h('dd', {}, `${sayPercent(g?.stitch_percent, 'stitches')}, ${sayPercent(g?.row_percent, 'rows')}`)] : null,
      h('dt', {}, 'Yarn used'), h('dd', {}, report.yarn ? `${sayNumber(report.yarn.value)} ${report.yarn.unit}` : 'not told'),
      h('dt', {}, 'Hours'), h('dd', {}, report.hours === null || report.hours === undefined ? 'not told' : sayNumber(report.hours))),
    g?.sentence ? h('p', {}, g.sentence) : null,
    report.note ? [h('h3', {}, 'On the whole'), h('p', { class: 'said' }, report.note)] : null,
    remarks.length ? [h('h3', {}, 'On places in the text'), h('ul', { class: 'plain rows' }, remarks.map((r) => h('li', {}, h('b', {}, r.place), ` ${r.body}`,
      r.answer ? h('p', { class: 'soft' }, `Answer: ${r.answer}`) : null, r.settled_at ? h('span', { class: 'tag' }, 'settled') : null)))] : null,
    numbers.length > 1 ? [h('h3', {}, 'Sent'), h('ol', { class: 'plain rows sent' }, [...numbers].sort((a, b) => b.number - a.number).map((n) => sent(n, report, design.slug, zone)))] : null);
}

/** @param {Report} n @param {Opened} shown @param {string} slug @param {string} zone */
function sent(n, shown, slug, zone) {
  const words = `number ${n.number}`;
  return h('li', {}, n.id === shown.id ? h('b', {}, `${words}, shown here`) : h('a', { href: `/d/${encodeURIComponent(slug)}/reports/${n.id}` }, words),
    ` ${sayMoment(n.sent_at, zone)}${n.source === 'import' ? ', imported' : ''}${n.superseded_at ? '' : ', counts'}`);
}
