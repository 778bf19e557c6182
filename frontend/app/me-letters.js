import { h } from '../parts/h.js';
import '../parts/form-field.js';
import '../parts/entry-form.js';
import * as api from './api.js';
import { announce } from './shell.js';

/** Which letters I want by e-mail. @param {import('../shapes.js').View} view */
export async function lettersSection({ me, gone }) {
  /** @type {import('../shapes-letters.js').MyLetters} */
  const mine = await api.get('/me/letters', { signal: gone });
  return h('section', { class: 'sec narrow', id: 'letters' }, h('h2', {}, 'E-mail to me'),
    h('p', { class: 'soft' }, me.email ? `Goes to ${me.email}. What answers you, or asks something of you alone, comes in any case: invitations, your size, more time, measuring again.` : 'There is no e-mail address of yours on file, so nothing comes.'),
    h('entry-form', { '.save': save },
      h('check-field', { name: 'wanted', label: 'I want', '.options': mine.groups.map((g) => [g.group, g.says]), '.value': mine.groups.filter((g) => g.wanted).map((g) => g.group) })));

  /** @param {Record<string, any>} values */
  async function save(values) {
    await api.post('/me/letters', { refused: mine.groups.map((g) => g.group).filter((g) => !values.wanted.includes(g)) });
    announce('Saved.');
  }
}
