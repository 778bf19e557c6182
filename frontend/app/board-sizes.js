import { h, put } from '../parts/h.js';
import '../parts/tape-strip.js';
import { halfSpan, tally } from '../parts/tape-scale.js';
import { tapeKey } from '../parts/tape-key.js';
import { sayCM } from '../parts/lengths.js';
import { testers, samples } from './board-size-words.js';

/** @typedef {import('../shapes.js').Board} Board */
/** @typedef {import('../shapes.js').BoardPoint} BoardPoint */
/** @typedef {import('../shapes.js').BoardSize} BoardSize */
/** @typedef {import('../shapes.js').Strip} Strip */

/**
 * Sizes down, points across; on a narrow screen each size with its strips below.
 * @param {Element} section @param {Board} board @param {BoardPoint[]} shown
 * @param {import('./board-points.js').PointChoice} choice @param {'cm'|'in'} unit
 * @param {Board | null} before what stood here, to mark what is new
 */
export function drawSizes(section, board, shown, choice, unit, before) {
  const halves = shown.map((p) => halfSpan(board.sizes.flatMap((s) => s.strips.filter((t) => t.point_id === p.id))));
  const isNew = (/** @type {BoardSize} */ s) => before && JSON.stringify(before.sizes.find((b) => b.id === s.id)) !== JSON.stringify(s);
  put(section,
    h('div', { class: 'sec-head' }, h('h2', { id: 'sizes-title' }, 'Sizes and what was measured'),
      board.points.length ? choice.draw(board.points, shown) : null),
    board.sizes.length === 0 ? nothingYet(board) : [
      jumps(board.sizes),
      h('table', { role: 'table', class: 'sizes' },
        h('thead', { role: 'rowgroup' }, h('tr', { role: 'row' },
          h('th', { role: 'columnheader', scope: 'col' }, 'Size'), h('th', { role: 'columnheader', scope: 'col' }, 'Testers and samples'),
          shown.map((p) => h('th', { role: 'columnheader', scope: 'col' }, p.name, h('span', { class: 'tol' }, ` ± ${sayCM(p.tolerance_cm, unit)}`))))),
        h('tbody', { role: 'rowgroup' }, board.sizes.map((s) => h('tr', { role: 'row', id: `size-${s.id}`, class: isNew(s) ? 'fresh' : undefined },
          h('th', { role: 'rowheader', scope: 'row', class: s.name.length > 4 ? 'long' : undefined }, h('span', { class: 'of-size' }, 'Size '), s.name, s.filmed ? h('span', { class: 'tag' }, 'filmed') : null),
          h('td', { role: 'cell', class: 'who' }, testers(s.testers), madeBefore(s, board.design.slug), samples(s, board.design.slug)),
          shown.map((p, i) => cell(board, s, p, halves[i], unit)))))),
      tapeKey()]);
}

/** Testers whose version has other counts than the latest. @param {BoardSize} size @param {string} slug */
function madeBefore(size, slug) {
  return (size.made_before || []).map((words) => h('p', { class: 'brass' }, h('a', { href: `/d/${encodeURIComponent(slug)}/counts#versions` }, words)));
}

/** @param {Board} board @param {BoardSize} size @param {BoardPoint} point @param {number} half @param {'cm'|'in'} unit */
function cell(board, size, point, half, unit) {
  const strip = size.strips.find((t) => t.point_id === point.id);
  if (!strip) return h('td', { role: 'cell', 'data-label': point.name }, h('span', { class: 'soft' }, 'not measured in this size'));
  const slug = encodeURIComponent(board.design.slug);
  return h('td', { role: 'cell', 'data-label': point.name, 'data-key': `strip-${size.id}-${point.id}` },
    h('tape-strip', {
      '.strip': strip, '.point': point.name, '.size': size.name, '.unit': unit, '.half': half,
      '.href': (/** @type {import('../shapes.js').Mark} */ m) => (m.report_id ? `/d/${slug}/reports/${m.report_id}` : `/d/${slug}/samples#${m.sample_id}`),
    }), verdict(strip, slug));
}

/** What is wrong, in words under the strip. @param {Strip} strip @param {string} slug */
function verdict(strip, slug) {
  const of = tally(strip.marks, 'report');
  const off = strip.intended_cm !== null && strip.expected_cm !== null && Math.abs(strip.expected_cm - strip.intended_cm) > strip.tolerance_cm;
  const parts = [off && 'counts miss what is intended', of.outside && `${of.outside} of ${of.total} outside`, of.slip && `${of.slip} likely a slip`].filter(Boolean);
  const f = strip.finding;
  const said = f ? h('a', { href: `/d/${slug}/fit#${f.key}` }, `count ${f.verdict === 'fault' ? 'at fault' : 'suspected'}${f.decided ? ', decided' : ''}`) : null;
  return parts.length || said ? h('p', { class: 'pin verdict' }, said, said && parts.length ? ', ' : '', parts.join(', ')) : null;
}

/** Straight to a size, where the sizes stand below each other. @param {BoardSize[]} sizes */
function jumps(sizes) {
  const troubled = (/** @type {BoardSize} */ s) => s.strips.some((t) => t.marks.some((m) => m.state !== 'within')) || s.testers.assigned < s.testers.fewest;
  return h('nav', { class: 'jumps no-print', 'aria-label': 'Sizes' }, sizes.map((s) => h('a', { href: `#size-${s.id}` }, s.name,
    troubled(s) ? [h('span', { 'aria-hidden': 'true' }, '*'), h('span', { class: 'unseen' }, ', something to look at')] : null)));
}

/** @param {Board} board */
function nothingYet(board) {
  return h('p', {}, 'This design has no sizes yet. ', h('a', { href: `/d/${encodeURIComponent(board.design.slug)}/setup#sizes` }, 'Set up its sizes'), ', then its points of measure.');
}
