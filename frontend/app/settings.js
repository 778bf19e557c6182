import { h, put } from '../parts/h.js';
import '../parts/form-field.js';
import '../parts/entry-form.js';
import * as api from './api.js';
import { forgetStudio } from './session.js';
import { announce } from './shell.js';
import { reload } from './router.js';
import { sayError } from './problem.js';
import { sayMoment } from '../parts/dates.js';
import { webhooksSection } from './settings-webhooks.js';
import { archiveSection } from './settings-archive.js';

export const sheets = ['keeping', 'data-table', 'exchange'];

/** The studio's own settings. @param {import('../shapes.js').View} view */
export async function draw(view) {
  const { page, lede, gone, title } = view;
  /** @type {import('../shapes.js').Settings} */
  const settings = await api.get('/studio/settings', { signal: gone });
  title('Settings');
  lede.textContent = settings.name;
  const months = h('form-field', { name: 'forget_after_months', label: 'Months after which testers are forgotten', kind: 'number', min: '1', max: '240', step: '1', inputmode: 'numeric',
    hint: 'Counted from when they last took part: offered, were asked, were due, sent, remarked or signed in. Left empty, nobody is forgotten unless they ask.',
    value: settings.forget_after_months ? String(settings.forget_after_months) : undefined });
  const idle = h('div', { class: 'keeping-said', 'aria-live': 'polite' });
  put(page,
    h('section', { class: 'sec narrow' }, h('h2', {}, 'The studio'),
      h('entry-form', { '.save': save },
        h('form-field', { name: 'name', label: 'Name', required: true, maxlength: 120, autocomplete: 'organization', value: settings.name }),
        h('form-field', { name: 'zone', label: 'Time zone', required: true, autocapitalize: 'off', spellcheck: 'false', autocomplete: 'off', hint: 'In which dates are read, like Europe/Oslo.', value: settings.zone }),
        h('form-field', { name: 'lead_days', label: 'Days between recording and air date', kind: 'number', required: true, min: '0', max: '60', step: '1', inputmode: 'numeric', value: String(settings.lead_days) }))),
    h('section', { class: 'sec narrow' }, h('h2', {}, 'Signing in'),
      h('entry-form', { '.save': save },
        h('check-field', { name: 'staff_second_step', label: 'The studio’s own people give a code besides their password', '.value': Boolean(settings.staff_second_step) })),
      h('p', { class: 'soft' }, 'Whoever has not set it up can do nothing else until they have. Set up ', h('a', { href: '/me' }, 'your own'), ' first. Testers are free to.')),
    h('section', { class: 'sec narrow' }, h('h2', {}, 'How long testers are kept'),
      h('p', {}, 'Forgetting somebody erases their name, handle, address, password, body measurements and what they wrote; what they measured stays, as the work of nobody. ', h('a', { href: '/privacy' }, 'Who sees what of a tester')),
      h('entry-form', { '.save': save }, months),
      h('div', { class: 'acts' }, h('button', { type: 'button', onclick: look }, 'Who would that be today?')), idle),
    h('section', { class: 'sec narrow' }, h('h2', {}, 'E-mail'), h('p', {}, h('a', { href: '/letters' }, 'Letters'), ': what is due to be told, what goes out by itself, what waits, went, or could not be sent.')),
    webhooksSection({ ...view, settings }), archiveSection());

  /** @param {Record<string, any>} values */
  async function save(values) {
    await api.patch('/studio/settings', values, { revision: settings.revision });
    forgetStudio();
    announce('Saved.');
    reload();
  }

  async function look() {
    try {
      if (!months.value) {
        put(idle, h('p', { class: 'soft' }, 'Nobody: no months are given.'));
        return;
      }
      /** @type {import('../shapes-keeping.js').IdleTesters} */
      const found = await api.get(`/studio/idle-testers?months=${encodeURIComponent(months.value)}`, { signal: gone });
      put(idle, h('p', {}, found.people.length === 0 ? `Nobody: every tester has taken part since ${sayMoment(found.since, settings.zone)}.`
        : `Not taken part since ${sayMoment(found.since, settings.zone)}: ${found.people.map((p) => p.handle).join(', ')}.`));
    } catch (err) {
      put(idle, h('p', { class: 'note bad' }, sayError(err)));
    }
  }
}
