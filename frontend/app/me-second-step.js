import { h, put } from '../parts/h.js';
import { openForm, openDialog } from '../parts/open-dialog.js';
import { keepFocus } from '../parts/keep-focus.js';
import { sayMoment } from '../parts/dates.js';
import '../parts/form-field.js';
import '../parts/entry-form.js';
import * as api from './api.js';
import { sayError } from './problem.js';
import { announce } from './shell.js';
import { inGroups } from './sign-in-words.js';
import { setPerson } from './session.js';

/** A code besides the password: set up, renewed, taken away. @param {import('../shapes.js').View} view */
export function secondStepSection({ gone, settings }) {
  const body = h('div', {});
  load();
  return h('section', { class: 'sec narrow', id: 'second-step' }, h('h2', {}, 'Second step when signing in'), body);

  async function load() {
    try {
      /** @type {import('../shapes-sign-in.js').MySecondStep} */
      const state = await api.get('/me/second-step', { signal: gone });
      keepFocus(body, () => put(body, state.since ? isOn(state) : isOff(state)), () => body.querySelector('button'));
    } catch (err) {
      if (!gone.aborted) put(body, h('p', { class: 'note bad', role: 'alert' }, sayError(err)));
    }
  }

  /** @param {import('../shapes-sign-in.js').MySecondStep} state */
  function isOff(state) {
    return [state.wanted ? h('p', { class: 'note' }, 'The studio wants this of its people. Until it is set up, nothing else is open to you.') : null,
      h('p', {}, 'Besides the password, a code of six digits from a program on your phone or computer that makes codes by time. Whoever learns your password can’t sign in with it alone.'),
      h('div', { class: 'acts' }, h('button', { type: 'button', class: state.wanted ? 'main' : undefined, 'data-key': 'second-step', onclick: begin }, 'Set it up …'))];
  }

  // The first button has the key of the one that stood there before, so that
  // whoever has set it up is led back to it.
  /** @param {import('../shapes-sign-in.js').MySecondStep} state */
  function isOn(state) {
    return [h('p', {}, `Set up ${sayMoment(/** @type {string} */ (state.since), settings.zone)}. ${state.recovery_left} recovery code${state.recovery_left === 1 ? '' : 's'} left.`),
      h('div', { class: 'acts' },
        h('button', { type: 'button', 'data-key': 'second-step', onclick: renew }, 'New recovery codes …'),
        h('button', { type: 'button', class: 'grave', 'data-key': 'second-step-off', onclick: takeAway }, 'Take it away …'))];
  }

  function begin() {
    openForm({ title: 'Set up the second step', say: 'Go on', gone, save: (values) => api.post('/me/second-step', values), done: show }, password());
  }

  /** @param {import('../shapes-sign-in.js').NewSecret} secret */
  function show(secret) {
    openForm({ title: 'Scan this, then type the code', say: 'Set it up', gone, save: (values) => api.post('/me/second-step/confirm', values), done: (made) => showCodes(made.codes) },
      h('p', {}, h('img', { alt: 'The secret as a QR code', width: 220, height: 220, src: `data:image/svg+xml;charset=utf-8,${encodeURIComponent(secret.qr_svg)}` })),
      h('p', {}, 'Or type this secret into the program (by time, six digits, 30 seconds):'),
      h('p', {}, h('code', { class: 'secret' }, inGroups(secret.secret))),
      h('form-field', { name: 'code', label: 'Code that the program shows', required: true, inputmode: 'numeric', autocomplete: 'one-time-code', maxlength: 12 }));
  }

  /** @param {string[]} codes */
  function showCodes(codes) {
    setPerson(null);
    announce('The second step is set up.');
    const dialog = openDialog('Recovery codes', gone,
      h('p', {}, 'Each stands in for a code once, for when your device is lost. They are shown only now: print them or keep them where you keep what matters, not on the device.'),
      h('ul', { class: 'codes' }, codes.map((c) => h('li', {}, h('code', {}, c)))),
      h('div', { class: 'acts' },
        h('button', { type: 'button', class: 'main', onclick: () => dialog.close() }, 'I have them')));
    load();
  }

  function renew() {
    openForm({ title: 'New recovery codes', say: 'Make them; the old ones end', gone, save: (values) => api.post('/me/second-step/recovery-codes', values), done: (made) => showCodes(made.codes) }, password());
  }

  function takeAway() {
    openForm({ title: 'Take the second step away', say: 'Take it away', gone, save: (values) => api.post('/me/second-step/remove', values), done: load }, password());
  }
}

/** The password once more. */
function password() {
  return h('form-field', { name: 'password', label: 'Your password', kind: 'password', required: true, autocomplete: 'current-password' });
}
