// What the studio asks a tester to measure again. The field stands empty then:
// the number that was sent before would only be copied.
import { h } from '../parts/h.js';

/** @typedef {Pick<import('../shapes-testing.js').MyAssignment, 'measure_again' | 'points'>} Asked */

/** @param {Asked} mine @param {string | null} pointId null for the swatch */
export const isAsked = (mine, pointId) => mine.measure_again.some((m) => m.point_id === pointId);

/** Beside the point. @param {Asked} mine @param {string | null} pointId @param {string} what */
export function askedNote(mine, pointId, what) {
  const m = mine.measure_again.find((x) => x.point_id === pointId);
  return m ? h('div', { class: 'note my-asked' }, h('p', {}, h('b', {}, `Please measure ${what} again.`), ' Measure it afresh, without looking at what you sent; the field is empty for that.'), m.why ? h('p', {}, m.why) : null) : null;
}

/** At the head of the page. @param {Asked} mine */
export function askedAgain(mine) {
  if (mine.measure_again.length === 0) return null;
  const names = mine.measure_again.map((m) => (m.point_id ? mine.points.find((p) => p.id === m.point_id)?.name || 'a point' : 'your swatch'));
  return h('p', { class: 'note' }, `The studio asks you to measure again: ${names.join(', ')}. `, h('a', { href: '#report' }, 'To my report'));
}
