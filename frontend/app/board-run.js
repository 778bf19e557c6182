import { h, put } from '../parts/h.js';
import { sayDay, sayDaysLeft } from '../parts/dates.js';
import { holder } from './board-size-words.js';

/** @typedef {import('../shapes.js').BoardInstallment} Installment */

/**
 * The run of installments: in order, with what each needs next and by when.
 * @param {Element} section @param {import('../shapes.js').Board} board
 */
export function drawRun(section, board) {
  const to = `/d/${encodeURIComponent(board.design.slug)}/filming`;
  put(section, h('h2', { id: 'run-title' }, 'Installments'),
    board.holds.map((x) => h('p', { class: `note ${x.at_it ? 'bad' : ''}` }, x.sentence)),
    board.unlogged.map((x) => h('p', { class: 'note' }, x.sentence, ' ', h('a', { href: to }, 'Log how far it is'))),
    board.installments.length === 0 ? h('p', {}, 'None announced yet. ', h('a', { href: to }, 'Plan the installments'))
      : h('ol', { class: 'plain run' }, board.installments.map((n) => item(n, board.today, to))));
}

/** @param {Installment} n @param {string} today @param {string} to */
function item(n, today, to) {
  const aired = n.state === 'aired';
  const open = n.state === 'unrecorded';
  return h('li', { class: `${aired ? 'aired' : open ? 'open' : 'under-way'}` },
    h('span', { class: 'no', 'aria-hidden': 'true' }, n.position),
    h('div', {},
      h('h3', {}, h('span', { class: 'unseen' }, `${n.position}. `), h('a', { href: `${to}#${n.id}` }, n.title)),
      h('p', {}, `${aired ? 'aired' : 'airs'} ${sayDay(n.air_on, today)}`, aired ? null : [h('span', { class: 'soft' }, ` (${sayDaysLeft(n.days_left)})`), ' · ', h('span', { class: open ? 'strong' : undefined }, n.state), n.late ? h('span', { class: 'pin' }, ', late') : null]),
      n.needs ? h('p', { class: n.late ? 'pin' : undefined }, n.needs) : null,
      n.sample && !aired ? h('p', {}, h('span', { class: 'tag dashed' }, n.sample.label), h('span', { class: 'soft' }, ` is ready${holder(n.sample.held_by)}`)) : null,
      n.open_slips ? h('p', { class: 'brass' }, `${n.open_slips} slip${n.open_slips === 1 ? '' : 's'} to mend`) : null));
}
