import { h, put } from '../parts/h.js';
import { sayMoment } from '../parts/dates.js';
import * as api from './api.js';
import { announce } from './shell.js';
import { sayError } from './problem.js';
import { isStaff } from './session.js';
import { workForm } from './work-form.js';

/** When I work: days, hours, days away, and how fast I make. @param {import('../shapes.js').View} view */
export async function workSection(view) {
  const form = await workForm(view.me.id, view.gone, (revision) => {
    view.me.revision = revision;
    announce('Saved.');
  });
  return h('section', { class: 'sec narrow' }, h('h2', {}, 'When I work'), form);
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
      h('p', { class: 'soft' }, isStaff(view.me) ? 'Air dates, days to record, shoots and what is due' : 'The days on which something is due of you', ', for any program that reads calendars from an address (iCalendar). Whoever has the address can read it: keep it to yourself, and end it when it got out.'),
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
