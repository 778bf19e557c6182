import { h, s, put } from '../parts/h.js';
import { places } from './board-size-words.js';
import { sayLack, sum } from './testing-words.js';

/** @typedef {import('../shapes-testing.js').Slot} Slot */

/**
 * Every size at a glance: who offered, who makes it, what has come in.
 * @param {Element} section @param {import('./testing.js').Desk} desk
 */
export function drawSlots(section, desk) {
  const call = /** @type {import('../shapes-testing.js').Call} */ (desk.call);
  const total = sum(call.slots);
  const table = h('data-table', { class: 'slots' });
  table.columns = [
    { label: 'Size', head: true, cell: (/** @type {Slot} */ x) => h('span', {}, h('span', { class: 'of-card' }, 'Size '), desk.sizeName(x.size_id)) },
    { label: 'Wanted', num: true, cell: (/** @type {Slot} */ x) => h('span', {}, x.wanted, h('span', { class: 'soft' }, ` (${x.fewest} to ${x.most})`)) },
    { label: 'Offered', num: true, cell: (/** @type {Slot} */ x) => x.applied },
    { label: 'Assigned', num: true, cell: (/** @type {Slot} */ x) => x.assigned },
    { label: 'Accepted', num: true, cell: (/** @type {Slot} */ x) => x.accepted },
    { label: 'Reported', num: true, cell: (/** @type {Slot} */ x) => x.reported },
    { label: 'Approved', num: true, cell: (/** @type {Slot} */ x) => x.approved },
    { label: '', cell: (/** @type {Slot} */ x) => h('div', { class: 'places-cell' }, swatches(x), lack(x)) },
  ];
  table.rows = call.slots;
  put(section, h('h2', { id: 'slots-title' }, 'Sizes'),
    h('p', {}, `${total.assigned} of ${total.wanted} wanted testers assigned, ${total.accepted} accepted, ${total.reported} reported, ${total.approved} approved.`), table);
}

/** @param {Slot} x */
function lack(x) {
  const words = sayLack(x);
  return words ? h('span', { class: x.assigned < x.fewest ? 'pin' : 'brass' }, words) : null;
}

/** The same little row of places as on the board. @param {Slot} x */
function swatches(x) {
  const row = places(x);
  return s('svg', { viewBox: `0 0 ${Math.max(1, row.length) * 13} 13`, width: Math.max(1, row.length) * 13, height: 13, class: 'places', 'aria-hidden': 'true' },
    row.map((state, i) => [
      s('rect', { x: i * 13 + 1, y: 1, width: 9, height: 11, class: state }),
      state === 'reported' ? s('path', { d: `M${i * 13 + 1} 12V1L${i * 13 + 10} 12z`, class: 'half' }) : null]));
}
