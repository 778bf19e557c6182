import { h, s } from '../parts/h.js';
import { sayChance } from './plan-words.js';

/** @typedef {import('../shapes.js').BoardSize} BoardSize */

/**
 * How far each wanted place is: a row of small swatches, blank (dashed) until
 * somebody is assigned, outlined, half filled when reported, full when approved.
 * @param {BoardSize['testers']} t
 * @returns {('blank'|'assigned'|'reported'|'approved')[]}
 */
export function places(t) {
  return Array.from({ length: Math.min(12, Math.max(t.wanted, t.assigned)) }, (_, i) => (
    i < t.approved ? 'approved' : i < t.reported ? 'reported' : i < t.assigned ? 'assigned' : 'blank'));
}

/** @param {BoardSize['testers']} t */
export function testers(t) {
  if (t.wanted === 0 && t.assigned === 0) return h('p', { class: 'soft' }, 'no testers wanted');
  const row = places(t);
  const swatches = s('svg', { viewBox: `0 0 ${row.length * 13} 13`, width: row.length * 13, height: 13, class: 'places', 'aria-hidden': 'true' },
    row.map((state, i) => [
      s('rect', { x: i * 13 + 1, y: 1, width: 9, height: 11, class: state }),
      state === 'reported' ? s('path', { d: `M${i * 13 + 1} 12V1L${i * 13 + 10} 12z`, class: 'half' }) : null]));
  const short = t.fewest - t.assigned;
  const missing = t.fewest - t.reported;
  return h('div', { class: 'testers' }, swatches,
    h('p', {}, `${t.assigned} assigned of ${t.wanted} wanted`), h('p', {}, `${t.reported} reported, ${t.approved} approved`),
    short > 0 ? h('p', { class: 'pin' }, `${short} tester${short === 1 ? '' : 's'} too few`)
      : missing > 0 ? h('p', { class: 'brass' }, `${missing} more report${missing === 1 ? '' : 's'} needed`) : null,
    sayCovered(t) ? h('p', { class: 'soft' }, sayCovered(t)) : null);
}

/**
 * How likely the fewest reports come, given how their testers stand.
 * @param {BoardSize['testers']} t
 */
export function sayCovered(t) {
  if (t.covered === undefined || t.reported >= t.fewest) return '';
  if (t.covered === 0) return `can’t get ${t.fewest === 1 ? 'its report' : `its ${t.fewest} reports`} as it stands`;
  return `${sayChance(t.covered)} likely to get ${t.fewest === 1 ? 'its one' : `its ${t.fewest}`}${t.quiet ? `; ${t.quiet} gone quiet` : ''}`;
}

/** @param {BoardSize} size @param {string} slug */
export function samples(size, slug) {
  const here = size.samples.filter((x) => !x.retired);
  return here.length === 0 ? null : h('ul', { class: 'plain pieces' }, here.map((x) => h('li', {},
    h('a', { href: `/d/${encodeURIComponent(slug)}/samples#${x.id}` }, x.label), h('span', { class: 'soft' }, ` ${x.purpose}`),
    h('br'), sayWorked(x), holder(x.held_by))));
}

/**
 * How far a sample is: the state of the text that it is in, or what was noted of it.
 * @param {Pick<BoardSize['samples'][number], 'worked' | 'worked_note'>} x
 */
export function sayWorked(x) {
  if (x.worked) return `at ${x.worked}`;
  return x.worked_note || 'at the beginning';
}

/** @param {import('../shapes.js').Who | string | null} who */
export function holder(who) {
  const name = who && typeof who === 'object' ? who.handle : who;
  return name ? `, with ${name}` : '';
}
