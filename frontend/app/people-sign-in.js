import { h, put } from '../parts/h.js';
import { openDialog, openForm } from '../parts/open-dialog.js';
import { keepFocus } from '../parts/keep-focus.js';
import '../parts/form-field.js';
import * as api from './api.js';
import { announce } from './shell.js';
import { sayError } from './problem.js';

/**
 * How somebody signs in, for the designer: end all of it, or take the second
 * step away from who has lost their device.
 * @param {import('../shapes.js').Person} p @param {boolean} self @param {AbortSignal} gone
 */
export async function openSignIn(p, self, gone) {
  const body = h('div', { 'aria-live': 'polite' }, h('p', { class: 'soft' }, 'One moment.'));
  openDialog(`How ${p.handle} signs in`, gone, body);
  await show();

  async function show() {
    try {
      /** @type {import('../shapes-sign-in.js').PersonSignIn} */
      const found = await api.get(`/people/${p.id}/sign-in`, { signal: gone });
      keepFocus(body, () => put(body,
        h('p', {}, found.has_password ? 'A password is chosen. ' : 'No password is chosen yet. ',
          found.second_step ? 'Signing in takes a code as well. ' : 'Signing in takes no code. ',
          found.sign_ins === 0 ? 'Not signed in anywhere.' : `Signed in in ${found.sign_ins} place${found.sign_ins === 1 ? '' : 's'}.`),
        h('div', { class: 'acts' },
          found.sign_ins > 0 && !self ? h('button', { type: 'button', class: 'grave', onclick: end }, 'End every sign-in') : null,
          found.second_step && !self ? h('button', { type: 'button', class: 'grave', onclick: takeAway }, 'Take the second step away …') : null),
        self ? h('p', {}, h('a', { href: '/me' }, 'My own sign-in')) : null), () => body.closest('dialog')?.querySelector('button'));
    } catch (err) {
      if (!gone.aborted) put(body, h('p', { class: 'note bad', role: 'alert' }, sayError(err)));
    }
  }

  async function end() {
    try {
      await api.post(`/people/${p.id}/sign-in/end`);
      announce('Ended.');
      await show();
    } catch (err) {
      put(body, h('p', { class: 'note bad', role: 'alert' }, sayError(err)));
    }
  }

  function takeAway() {
    openForm({ title: `Take the second step away from ${p.handle}`, say: 'Take it away', gone, save: (values) => api.post(`/people/${p.id}/second-step/remove`, values), done: show },
      h('p', {}, `Only when ${p.handle} has told you so, by a way that you know is theirs. Their password alone will do then, and every sign-in of theirs ends; they are told that you did it.`),
      h('form-field', { name: 'password', label: 'Your own password', kind: 'password', required: true, autocomplete: 'current-password' }));
  }
}
