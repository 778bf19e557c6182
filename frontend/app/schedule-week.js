import { h } from '../parts/h.js';
import { sayDay } from '../parts/dates.js';

/**
 * What each person begins within the week.
 * @param {import('../shapes-schedule.js').PersonWeek[]} week @param {string} today @param {boolean} named with the design's name
 * @param {string} [own] the design whose name goes without saying
 */
export function drawWeek(week, today, named, own) {
  const busy = week.filter((w) => w.tasks.length);
  if (busy.length === 0) return h('p', { class: 'soft' }, 'Nothing is planned for this week.');
  return h('div', { class: 'week' }, busy.map((w) => h('section', { 'aria-label': `This week for ${w.who}` },
    h('h3', {}, w.who),
    h('ol', { class: 'plain rows' }, w.tasks.map((t) => h('li', {},
      h('span', { class: t.due && t.until > t.due ? 'pin' : 'soft' }, t.from <= today ? 'now' : sayDay(t.from, today), t.until > t.from ? ` to ${sayDay(t.until, today)}` : ''),
      h('span', {}, named || (own && t.design !== own) ? [h('a', { href: t.where }, t.design), ': '] : null, t.name, t.due ? h('span', { class: t.until > t.due ? 'pin' : 'soft' }, `, for ${sayDay(t.due, today)}${t.until > t.due ? ', late' : ''}`) : null)))))));
}
