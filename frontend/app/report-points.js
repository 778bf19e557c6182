import { h, put } from '../parts/h.js';
import { sayCM, sayLength } from '../parts/lengths.js';
import '../parts/tape-strip.js';
import { tapeKey } from '../parts/tape-key.js';
import { needsLook, sayDifference, sayShare, stateOf, stripOf } from './report-words.js';

/** @typedef {import('../shapes-testing.js').Cell} Cell */
/** @typedef {import('../shapes-testing.js').OpenedReport} Opened */

/**
 * Every point that was measured: the strip, the numbers, the sentence, and what
 * to ask the tester. Those that need a look come first.
 * @param {Element} section @param {Opened} report @param {import('../shapes.js').Design} design @param {'cm'|'in'} unit
 */
export function drawPoints(section, report, design, unit) {
  const points = report.comparison.filter((c) => c.measured).map((c, i) => {
    const point = design.points.find((p) => p.id === c.point_id);
    return { c, i, point, look: needsLook(c) };
  });
  points.sort((a, b) => Number(b.look) - Number(a.look) || a.i - b.i);
  const off = points.filter((p) => p.look).length;
  const left = design.points.filter((p) => !report.comparison.some((c) => c.measured && c.point_id === p.id));
  put(section, h('h2', { id: 'points-title' }, 'Measured beside what was expected'),
    points.length === 0 ? h('p', { class: 'soft' }, 'Nothing was measured.')
      : h('p', {}, off === 0 ? 'Nothing is left that the tester’s gauge, tape and swatch don’t account for.' : `${off === 1 ? 'One point needs' : `${off} points need`} a look; ${off === 1 ? 'it stands' : 'they stand'} first.`),
    points.map(({ c, point, look }) => h('article', { class: 'point', 'aria-label': c.point },
      h('h3', {}, c.point, h('span', { class: look ? 'pin' : 'soft' }, ` ${stateOf(c, point?.tolerance.cm ?? 0) === 'slip' ? 'likely a slip' : sayShare(c, unit)}`)),
      h('tape-strip', { large: true, bare: true, '.strip': stripOf(c, point, report.assignment.size_id, report.assignment.handle), '.point': c.point, '.size': report.assignment.size, '.unit': unit }),
      numbers(c, unit), c.sentence ? h('p', {}, c.sentence) : null,
      (c.warnings || []).map((w) => h('p', { class: 'note' }, w.sentence)))),
    left.length ? h('p', { class: 'soft' }, `Not measured: ${left.map((p) => p.name).join(', ')}.`) : null,
    points.length ? tapeKey() : null);
}

/** @param {Cell} c @param {'cm'|'in'} unit */
function numbers(c, unit) {
  /** @type {[string, import('../parts/h.js').Child][]} */
  const pairs = [
    ['Measured', [h('b', {}, sayLength(c.measured)), c.measured?.unit === unit ? null : h('span', { class: 'soft' }, ` = ${sayCM(c.measured?.cm, unit)}`)]],
    ['Expected at the design’s gauge', sayCM(c.expected_cm, unit)],
    ['At the tester’s own gauge', c.expected_own_cm === null ? h('span', { class: 'soft' }, 'no swatch told') : sayCM(c.expected_own_cm, unit)],
    ['Difference from the design', sayDifference(c.difference_cm, unit)],
    ['Of which the tester’s gauge makes', c.explained_cm === null ? h('span', { class: 'soft' }, 'can’t be told') : sayDifference(c.explained_cm, unit)],
    ['Left', c.residual_cm === null ? h('span', { class: 'soft' }, 'can’t be told') : sayDifference(c.residual_cm, unit)],
  ];
  return h('dl', { class: 'numbers' }, pairs.map(([name, value]) => h('div', {}, h('dt', {}, name), h('dd', {}, value))));
}
