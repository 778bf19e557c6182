import { h, put } from '../parts/h.js';
import { sayDay, sayDaysLeft } from '../parts/dates.js';
import * as api from './api.js';
import { hasRole } from './session.js';
import { listen } from './live.js';
import { drawWeek } from './schedule-week.js';

export const sheets = ['studio', 'schedule'];

/** @param {import('../shapes.js').View} view */
export async function draw(view) {
  view.title('Studio');
  const refresh = async () => {
    const [studio, week] = await Promise.all([api.get('/studio', { signal: view.gone }), api.get('/studio/week', { signal: view.gone })]);
    if (!view.gone.aborted) show(view, studio, week);
  };
  await refresh();
  listen('/studio/live', refresh, view.gone);
}

/**
 * @param {import('../shapes.js').View} view @param {import('../shapes.js').Studio} studio
 * @param {import('../shapes-schedule.js').StudioWeek} week
 */
function show(view, studio, week) {
  view.lede.textContent = sayDay(studio.today);
  const mayAdd = hasRole(view.me, 'designer');
  const mine = week.week.filter((w) => mayAdd || w.who === view.me.handle);
  const holds = week.holds.filter((x) => mayAdd || x.held_by === view.me.handle);
  put(view.page,
    h('section', { class: 'sec', 'aria-labelledby': 'needs' }, h('h2', { id: 'needs' }, mayAdd ? 'What needs you today' : 'What needs somebody today'),
      studio.today_needs.length === 0 ? h('p', { class: 'soft' }, mayAdd ? 'Nothing is waiting for you.' : 'Nothing is waiting.')
        : h('ul', { class: 'plain rows needs' }, studio.today_needs.map((n) => h('li', {},
          n.due_on ? h('span', { class: n.due_on < studio.today ? 'pin due' : 'soft due' }, sayDay(n.due_on, studio.today)) : h('span', { class: 'due' }),
          n.where ? h('a', { href: n.where }, n.sentence) : n.sentence)))),
    holds.map((x) => h('p', { class: `note ${x.at_it ? 'bad' : ''}` }, h('a', { href: x.where }, x.design), `: ${x.sentence}`)),
    h('section', { class: 'sec', 'aria-labelledby': 'week' }, h('h2', { id: 'week' }, 'This week'), drawWeek(mine, week.today, true), week.left.map((x) => h('p', { class: 'soft' }, x))),
    h('section', { class: 'sec', 'aria-labelledby': 'designs' },
      h('div', { class: 'sec-head' }, h('h2', { id: 'designs' }, 'Designs'), mayAdd ? h('a', { class: 'button', href: '/designs/new' }, 'New design') : null),
      studio.designs.length === 0 ? h('p', {}, 'No design yet.', mayAdd ? ' Start with its gauge and sizes.' : '')
        : h('div', { class: 'designs' }, studio.designs.map((d) => design(d, studio.today)))));
}

/** @param {import('../shapes.js').StudioDesign} d @param {string} today */
function design(d, today) {
  const air = d.next_air;
  return h('article', { class: 'design' },
    h('h3', {}, h('a', { href: `/d/${encodeURIComponent(d.slug)}` }, d.name)),
    h('p', { class: 'soft small' }, `${d.craft}, ${d.audience}`),
    h('dl', { class: 'tracks' }, d.tracks.map((t) => [
      h('dt', {}, t.name),
      h('dd', {}, t.sentence, t.of > 0 ? meter(t) : null)])),
    h('p', { class: 'next' }, air
      ? [h('span', { class: 'soft' }, 'Next: '), air.title, ', ', sayDay(air.air_on, today), h('span', { class: air.days_left < 0 ? 'pin' : 'soft' }, ` (${sayDaysLeft(air.days_left)}, ${air.state})`)]
      : h('span', { class: 'soft' }, 'No day announced.')),
    d.blocks_most ? h('p', { class: 'note' }, d.blocks_most.where ? h('a', { href: d.blocks_most.where }, d.blocks_most.sentence) : d.blocks_most.sentence) : null);
}

/** A run of stitches, the done ones filled: how far along, without a number to read. @param {import('../shapes.js').Track} t */
function meter(t) {
  const most = Math.min(t.of, 24);
  const done = Math.round((t.done / t.of) * most);
  return h('span', { class: 'run', 'aria-hidden': 'true' }, Array.from({ length: most }, (_, i) => h('i', { class: i < done ? 'on' : undefined })));
}
