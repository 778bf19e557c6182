import { h, put } from '../parts/h.js';
import { sayDay } from '../parts/dates.js';
import * as api from './api.js';
import { announce } from './shell.js';
import { sayError } from './problem.js';
import { copyText } from './copy-text.js';

/** @typedef {import('./testing.js').Desk} Desk */
/** @typedef {import('../shapes-recruiting.js').Reminder} Reminder */

/** @type {Record<Reminder['kind'], string>} */
const KINDS = { asked: 'is to be asked', declined: 'has no size this time', answer: 'has not answered', yarn: 'yarn is on its way', 'check-in': 'was not heard of for two weeks',
  'more time': 'wish for more time is answered', 'due soon': 'report is due soon', overdue: 'report is overdue', thanks: 'thank you', correction: 'is to know what was corrected' };

/**
 * What is due to be told, to whom, in which words; copied or mailed by hand,
 * then ticked off. @param {HTMLElement} section @param {Desk} desk
 */
export function drawReminders(section, desk) {
  const due = desk.reminders || [];
  const open = new Set([...section.querySelectorAll('details[open]')].map((d) => d.getAttribute('data-what')));
  put(section, h('h2', { id: 'reminders-title' }, 'To be told'),
    due.length === 0 ? h('p', { class: 'soft' }, 'Nothing is due.')
      : [h('p', { class: 'soft' }, 'Copy the words or open them in your mail program, then tick off what you have sent.'), h('ul', { class: 'plain' }, due.map((r) => h('li', {}, item(r, desk, open))))]);
}

/** @param {Reminder} r @param {Desk} desk @param {Set<string | null>} open */
function item(r, desk, open) {
  const key = `${r.kind} ${r.person_id} ${r.about}`;
  const words = h('textarea', { readonly: true, rows: 8, 'aria-label': `Words to ${r.handle}`, '.value': r.text });
  const wrong = h('p', { class: 'error', role: 'alert' });
  return h('details', { class: 'reminder', 'data-what': key, '.open': open.has(key) },
    h('summary', { 'data-key': `reminder ${key}` }, h('span', {}, h('b', {}, r.handle), r.size ? `, size ${r.size}` : '', `: ${KINDS[r.kind] || r.kind}`, h('span', { class: 'soft' }, `, since ${sayDay(r.due_on, desk.view.settings.today)}`))),
    h('p', { class: 'soft' }, r.email ? `${r.name} <${r.email}>` : `${r.name}, no e-mail on file`), h('p', { class: 'strong' }, r.subject), words,
    h('div', { class: 'acts' }, h('button', { type: 'button', class: 'main', onclick: () => copyText(r.text, words) }, 'Copy the words'),
      r.email ? h('a', { class: 'button', href: `mailto:${encodeURIComponent(r.email)}?subject=${encodeURIComponent(r.subject)}&body=${encodeURIComponent(r.text.replaceAll('\n', '\r\n'))}` }, 'Open in mail') : null,
      h('button', { type: 'button', 'aria-label': `${r.handle} was told: ${KINDS[r.kind]}`, onclick: told }, 'Told')), wrong);

  async function told() {
    try {
      await api.post(`/calls/${desk.call?.id}/reminders/told`, { person_id: r.person_id, kind: r.kind, about: r.about });
      await desk.refresh();
      announce(`${r.handle} was told.`);
      /** @type {HTMLElement | null} */ (document.querySelector('#reminders summary'))?.focus();
    } catch (err) {
      put(wrong, sayError(err));
    }
  }
}
