import { h, put } from '../parts/h.js';
import { keepFocus } from '../parts/keep-focus.js';
import { sayMoment } from '../parts/dates.js';
import * as api from './api.js';
import { announce } from './shell.js';
import { sayError } from './problem.js';
import { setPerson } from './session.js';
import { sayNotice } from './sign-in-words.js';

/** Where I am signed in, each to be ended. @param {import('../shapes.js').View} view */
export function signInSection({ gone, settings }) {
  const list = h('ul', { class: 'sign-ins' });
  const others = h('div', { class: 'acts' });
  const both = h('div', {}, list, others);
  const notices = h('div', {});
  const trouble = h('div', { role: 'alert' });
  load();
  return h('section', { class: 'sec', id: 'sign-ins' }, h('h2', {}, 'Where I am signed in'),
    h('p', { class: 'soft' }, 'An ended sign-in is over at once. Your address is not kept.'), both, trouble, notices);

  async function load() {
    try {
      /** @type {import('../shapes-sign-in.js').MySignIns} */
      const mine = await api.get('/me/sign-ins', { signal: gone });
      keepFocus(both, () => drawList(mine), () => list.querySelector('button'));
      put(notices, mine.notices.length === 0 ? null : h('details', {}, h('summary', {}, `What happened to my sign-in in the last 90 days (${mine.notices.length})`),
        h('ul', { class: 'sign-ins' }, mine.notices.map((n) => h('li', {}, h('span', {}, sayNotice(n)), h('span', { class: 'soft' }, sayMoment(n.at, settings.zone)))))));
    } catch (err) {
      if (!gone.aborted) put(trouble, h('p', { class: 'note bad' }, sayError(err)));
    }
  }

  /** @param {import('../shapes-sign-in.js').MySignIns} mine */
  function drawList(mine) {
    put(list, mine.sign_ins.map(line));
    put(others, mine.sign_ins.length > 1 ? h('button', { type: 'button', class: 'grave', 'data-key': 'end-others', onclick: () => act(() => api.post('/me/sign-ins/end-others')) }, 'End all but this one') : null);
  }

  /** @param {import('../shapes-sign-in.js').MySignIn} s */
  function line(s) {
    const say = s.this ? 'Sign out' : 'End';
    return h('li', {},
      h('span', {}, h('strong', {}, s.device), s.this ? ' (this one)' : '', s.second_step ? ', with a code' : ''),
      h('span', { class: 'soft' }, `since ${sayMoment(s.begun_at, settings.zone)}, last used ${sayMoment(s.used_at, settings.zone)}`),
      h('button', { type: 'button', 'data-key': `end ${s.id}`, 'aria-label': `${say}: ${s.device}, since ${sayMoment(s.begun_at, settings.zone)}`, onclick: () => end(s) }, say));
  }

  /** @param {import('../shapes-sign-in.js').MySignIn} s */
  async function end(s) {
    if (!s.this) return act(() => api.remove(`/me/sign-ins/${s.id}`));
    await act(() => api.post('/auth/sign-out'), true);
    setPerson(null);
    location.assign('/sign-in');
  }

  /** @param {() => Promise<any>} what @param {boolean} [last] */
  async function act(what, last) {
    put(trouble);
    try {
      await what();
      announce('Ended.');
      if (!last) await load();
    } catch (err) {
      put(trouble, h('p', { class: 'note bad' }, sayError(err)));
    }
  }
}
