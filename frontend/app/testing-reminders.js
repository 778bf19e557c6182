import { h, put } from '../parts/h.js';
import { sayDay } from '../parts/dates.js';
import * as api from './api.js';
import { announce } from './shell.js';
import { sayError } from './problem.js';
import { copyText } from './copy-text.js';
import { KINDS, sayWritten } from './letter-words.js';
import { lookAtReminder, writeReminders } from './letter-look.js';

/** @typedef {import('./testing.js').Desk} Desk */
/** @typedef {import('../shapes-recruiting.js').Reminder} Reminder */

/**
 * What is due to be told, to whom, in which words; copied or mailed by hand,
 * then ticked off. @param {HTMLElement} section @param {Desk} desk
 */
export function drawReminders(section, desk) {
  const due = desk.reminders || [];
  const open = new Set([...section.querySelectorAll('details[open]')].map((d) => d.getAttribute('data-what')));
  const wrong = h('p', { class: 'error', role: 'alert' });
  const mailable = desk.post?.on ? due.filter((r) => !r.by_hand_only && !r.doubtful && !r.not_sent) : [];
  put(section, h('h2', { id: 'reminders-title' }, 'To be told'),
    due.length === 0 ? h('p', { class: 'soft' }, 'Nothing is due.')
      : [h('p', { class: 'soft' }, desk.post?.on ? 'Send the words by e-mail, or copy them and tick off what you have told otherwise. ' : 'Copy the words or open them in your mail program, then tick off what you have sent. This server sends no e-mail by itself. ', h('a', { href: '/letters' }, 'Letters')),
        mailable.length > 1 ? h('div', { class: 'acts lead' }, h('button', { type: 'button', 'data-key': 'send-all', onclick: () => send(mailable) }, `Send all ${mailable.length} by e-mail`), wrong) : null,
        h('ul', { class: 'plain' }, due.map((r) => h('li', {}, item(r, desk, open))))]);

  /** @param {Reminder[]} list */
  async function send(list) {
    try {
      const done = await writeReminders(String(desk.call?.id), list);
      await desk.refresh();
      announce(sayWritten(done));
    } catch (err) {
      put(wrong, sayError(err));
    }
  }
}

/** @param {Reminder} r @param {Desk} desk @param {Set<string | null>} open */
function item(r, desk, open) {
  const key = `${r.kind} ${r.person_id} ${r.about}`;
  const words = h('textarea', { readonly: true, rows: 8, 'aria-label': `Words to ${r.handle}`, '.value': r.text });
  const wrong = h('p', { class: 'error', role: 'alert' });
  return h('details', { class: 'reminder', 'data-what': key, '.open': open.has(key) },
    h('summary', { 'data-key': `reminder ${key}` }, h('span', {}, h('b', {}, r.handle), r.size ? `, size ${r.size}` : '', `: ${KINDS[r.kind] || r.kind}`, h('span', { class: 'soft' }, `, since ${sayDay(r.due_on, desk.view.settings.today)}`))),
    h('p', { class: 'soft' }, r.email ? `${r.name} <${r.email}>` : `${r.name}, no e-mail on file`, r.doubtful ? ': a mail server did not know this address' : ''),
    r.not_sent ? h('p', { class: 'note bad' }, `The letter about this was not sent: ${r.not_sent}`) : null,
    h('p', { class: 'strong' }, r.subject), words,
    h('div', { class: 'acts' }, 
      desk.post?.on && !r.by_hand_only ? h('button', { type: 'button', class: 'main', 'aria-label': `Send by e-mail to ${r.handle}: ${KINDS[r.kind] || r.kind}`, onclick: mail }, 'Send by e-mail') : null,
      h('button', { type: 'button', class: desk.post?.on ? undefined : 'main', onclick: () => copyText(r.text, words) }, 'Copy the words'),
      h('button', { type: 'button', 'aria-label': `Look at the letter to ${r.handle}: ${KINDS[r.kind] || r.kind}`, onclick: () => lookAtReminder(String(desk.call?.id), r, desk.view.gone).catch((err) => put(wrong, sayError(err))) }, 'Look at it as e-mail'),
      r.email ? h('a', { class: 'button', href: `mailto:${encodeURIComponent(r.email)}?subject=${encodeURIComponent(r.subject)}&body=${encodeURIComponent(r.text.replaceAll('\n', '\r\n'))}` }, 'Open in mail') : null,
      h('button', { type: 'button', 'aria-label': `${r.handle} was told: ${KINDS[r.kind]}`, onclick: told }, 'Told')),
    desk.post?.on && r.by_hand_only && r.email ? h('p', { class: 'soft' }, `${r.handle} ${r.by_hand_only}.`) : null, wrong);

  async function mail() {
    try {
      const done = await writeReminders(String(desk.call?.id), [r]);
      await desk.refresh();
      announce(sayWritten(done));
      /** @type {HTMLElement | null} */ (document.querySelector('#reminders summary'))?.focus();
    } catch (err) {
      put(wrong, sayError(err));
    }
  }

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
