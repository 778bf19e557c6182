import { h, put } from '../parts/h.js';
import { sayMoment } from '../parts/dates.js';
import '../parts/form-field.js';
import '../parts/entry-form.js';
import * as api from './api.js';
import { announce } from './shell.js';
import { sayError } from './problem.js';
import { DAYS } from './schedule-words.js';

/** When I work: days, hours, days away, and how fast I make. @param {import('../shapes.js').View} view */
export async function workSection(view) {
  const path = `/people/${view.me.id}/work`;
  /** @type {import('../shapes-schedule.js').Work} */
  let work = await api.get(path, { signal: view.gone });
  const away = [...work.away, null].slice(0, 20).map((a, i) => ({
    from: h('form-field', { 'data-at': `away[${i}].from`, label: 'Away from', kind: 'date', value: a?.from }),
    until: h('form-field', { 'data-at': `away[${i}].until`, label: 'until, the last day', kind: 'date', value: a?.until }),
  }));
  const days = h('check-field', { name: 'days', label: 'Working days', '.options': DAYS });
  days.value = work.days;
  return h('section', { class: 'sec narrow' }, h('h2', {}, 'When I work'),
    h('entry-form', { '.save': save }, days,
      h('div', { class: 'side' },
        h('form-field', { name: 'hours_per_day', label: 'Hours on each', kind: 'number', quiet: true, min: '0.25', max: '24', step: 'any', inputmode: 'decimal', value: String(work.hours_per_day) }),
        h('form-field', { name: 'stitches_per_hour', label: 'Stitches an hour', kind: 'number', min: '10', max: '10000', step: 'any', inputmode: 'decimal', hint: 'Left empty: learned from the hours you log.', value: work.stitches_per_hour === null ? undefined : String(work.stitches_per_hour) })),
      away.map((a) => h('div', { class: 'side' }, a.from, a.until))));

  /** @param {Record<string, any>} values */
  async function save(values) {
    /** @type {Record<string, any>} */
    const body = { days: values.days, hours_per_day: values.hours_per_day ?? 0, away: away.filter((a) => a.from.value || a.until.value).map((a) => ({ from: a.from.value, until: a.until.value || a.from.value })) };
    if (values.stitches_per_hour !== null) body.stitches_per_hour = values.stitches_per_hour;
    work = await api.put(path, body, { revision: (await api.get(path)).revision });
    view.me.revision = work.revision;
    announce('Saved.');
  }
}

/** My calendar, by a secret link. @param {import('../shapes.js').View} view */
export async function calendarSection(view) {
  const section = h('section', { class: 'sec narrow' });
  const wrong = h('p', { class: 'error', role: 'alert' });
  show(await api.get('/me/calendar', { signal: view.gone }));
  return section;

  /** @param {{made_at: string | null, link?: string}} state */
  function show(state) {
    const address = state.link ? h('input', { readonly: true, value: state.link, 'aria-label': 'Address of my calendar', onfocus: (/** @type {any} */ e) => e.target.select() }) : null;
    put(section, h('h2', {}, 'My calendar'),
      h('p', { class: 'soft' }, 'Air dates, days to record, shoots and what is due, for any program that reads calendars from an address (iCalendar). Whoever has the address can read it: keep it to yourself, and end it when it got out.'),
      state.made_at ? h('p', {}, `The link was made ${sayMoment(state.made_at, view.settings.zone)}.`) : h('p', {}, 'There is no link yet.'),
      address ? [h('p', { class: 'note' }, 'This is shown once:'), address] : null,
      h('div', { class: 'acts' },
        h('button', { type: 'button', class: state.made_at ? undefined : 'main', 'data-key': 'make-calendar', onclick: () => act(() => api.post('/me/calendar')) }, state.made_at ? 'Make another; this one ends' : 'Make my link'),
        state.made_at ? h('button', { type: 'button', class: 'grave', 'data-key': 'end-calendar', onclick: () => act(async () => { await api.remove('/me/calendar'); return { made_at: null }; }) }, 'End the link') : null), wrong);
    address?.focus();
  }

  /** @param {() => Promise<any>} what */
  async function act(what) {
    try {
      show(await what());
      announce('Done.');
    } catch (err) {
      put(wrong, sayError(err));
    }
  }
}
