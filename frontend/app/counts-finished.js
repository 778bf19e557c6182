import { h, put } from '../parts/h.js';
import '../parts/tape-strip.js';
import { halfSpan } from '../parts/tape-scale.js';
import { sayCM, bareCM } from '../parts/lengths.js';

/**
 * What the counts give at the design's gauge, against what is intended: a strip
 * for each point and size, and the sentences of what is off.
 * @param {Element} root @param {import('../shapes.js').Design} design @param {{id: string, name: string}[]} sizes
 * @param {{findings: import('../shapes.js').Finding[], finished: import('../shapes.js').Sheet['finished']}} result
 * @param {'cm'|'in'} unit
 */
export function drawFinished(root, design, sizes, result, unit) {
  if (design.points.length === 0) {
    put(root, h('p', {}, h('a', { href: `/d/${encodeURIComponent(design.slug)}/setup#points` }, 'Set up points of measure'), ' to see what the counts come to.'));
    return;
  }
  put(root, h('div', { class: 'wide' }, h('table', { class: 'finished' },
    h('thead', {}, h('tr', {}, h('th', { scope: 'col' }, 'Point'), sizes.map((s) => h('th', { scope: 'col' }, s.name)))),
    h('tbody', {}, design.points.map((p) => {
      const strips = sizes.map((s) => strip(p, s, result.finished));
      const half = halfSpan(strips);
      const said = result.findings.filter((f) => (f.kind === 'intended' || f.kind === 'ease') && f.name === p.name);
      return [h('tr', {}, h('th', { scope: 'row' }, p.name, h('span', { class: 'soft small' }, ` ± ${sayCM(p.tolerance.cm, unit)}`)),
        strips.map((t, i) => h('td', {}, h('tape-strip', { '.strip': t, '.point': p.name, '.size': sizes[i].name, '.unit': unit, '.half': half }), easeOf(p, sizes[i], result.finished, unit)))),
      said.length ? h('tr', { class: 'findings' }, h('td', { colspan: sizes.length + 1 }, said.map((f) => h('p', { class: 'finding' }, f.message)))) : null];
    })))));
}

/**
 * The measurement and its ease in figures, under the strip.
 * @param {import('../shapes.js').Point} point @param {{id: string, name: string}} size
 * @param {import('../shapes.js').Sheet['finished']} finished @param {'cm'|'in'} unit
 */
function easeOf(point, size, finished, unit) {
  const found = finished.find((f) => f.point === point.name && f.size === size.name);
  if (!found || found.expected === null) return h('p', { class: 'figures soft' }, '–');
  const ease = found.ease ?? null;
  return h('p', { class: 'figures' }, bareCM(found.expected, unit), ease === null ? null : [' ', h('span', { class: 'soft' }, `ease ${ease > 0 ? '+' : ''}${bareCM(ease, unit)}`)]);
}

/**
 * @param {import('../shapes.js').Point} point @param {{id: string, name: string}} size
 * @param {import('../shapes.js').Sheet['finished']} finished
 * @returns {import('../shapes.js').Strip}
 */
function strip(point, size, finished) {
  const found = finished.find((f) => f.point === point.name && f.size === size.name);
  const intended = point.intended.find((i) => i.size_id === size.id)?.length.cm ?? null;
  const from = intended ?? found?.expected ?? 0;
  return {
    point_id: point.id, intended_cm: intended, expected_cm: found?.expected ?? null, tolerance_cm: point.tolerance.cm,
    low_cm: from - point.tolerance.cm, high_cm: from + point.tolerance.cm, growth_cm: null, marks: [],
  };
}
