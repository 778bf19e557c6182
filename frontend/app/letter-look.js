import { h } from '../parts/h.js';
import { openDialog } from '../parts/open-dialog.js';
import * as api from './api.js';

/** @typedef {import('../shapes-recruiting.js').Reminder} Reminder */

/**
 * Shows a letter both ways. The HTML comes from an address of its own with a
 * policy of its own, into a frame that may do nothing.
 * @param {{subject: string, text: string, html: string}} letter html is the address of it
 * @param {string} whom @param {AbortSignal} gone
 */
function look(letter, whom, gone) {
  openDialog(`Letter to ${whom}`, gone,
    h('p', { class: 'strong' }, letter.subject),
    h('h3', {}, 'As HTML'), h('iframe', { class: 'letter-frame', sandbox: '', src: `/api/v1${letter.html}`, title: 'The letter as HTML' }),
    h('h3', {}, 'As plain text'), h('pre', { class: 'letter-text', tabindex: '0', 'aria-label': 'The letter as plain text' }, letter.text));
}

/** @param {string} call @param {Reminder} r @param {AbortSignal} gone */
export async function lookAtReminder(call, r, gone) {
  const query = new URLSearchParams({ person: r.person_id, kind: r.kind, about: r.about });
  const { subject, text } = await api.get(`/calls/${call}/reminders/text?${query}`, { signal: gone });
  look({ subject, text, html: `/calls/${call}/reminders/html?${query}` }, r.handle, gone);
}

/** @param {import('../shapes-letters.js').Letter} letter @param {AbortSignal} gone */
export async function lookAtLetter(letter, gone) {
  /** @type {import('../shapes-letters.js').LetterText} */
  const whole = await api.get(`/letters/${letter.id}`, { signal: gone });
  look({ subject: whole.subject, text: whole.text, html: `/letters/${letter.id}/html` }, letter.person.handle, gone);
}

/** Sends reminders of one call by e-mail. @param {string} call @param {Reminder[]} list @returns {Promise<import('../shapes-letters.js').Written>} */
export function writeReminders(call, list) {
  return api.post(`/calls/${call}/reminders/letters`, { letters: list.slice(0, 500).map((r) => ({ person_id: r.person_id, kind: r.kind, about: r.about })) });
}
