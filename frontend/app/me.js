import { h, put } from '../parts/h.js';
import '../parts/form-field.js';
import '../parts/entry-form.js';
import * as api from './api.js';
import { setPerson } from './session.js';
import { announce } from './shell.js';
import { reload } from './router.js';
import { isStaff } from './session.js';
import { calendarSection, workSection } from './me-work.js';
import { UNITS, TERMS, ROLES, word } from './words.js';
import { showMyBody } from './me-body.js';
import { dataSection } from './me-data.js';
import { lettersSection } from './me-letters.js';
import { signInSection } from './me-sign-ins.js';
import { secondStepSection } from './me-second-step.js';

export const sheets = ['sign-ins', 'keeping'];

/** @param {import('../shapes.js').View} view */
export async function draw(view) {
  const { page, lede, me, title } = view;
  if (me.set_up_first) {
    title(me.name || me.handle);
    put(page, secondStepSection(view), signInSection(view));
    return;
  }
  const more = await Promise.all([isStaff(me) ? workSection(view) : null, calendarSection(view), lettersSection(view)]);
  title(me.name || me.handle);
  lede.textContent = `${me.handle} · ${me.roles.map((r) => word(ROLES, r)).join(', ')}`;
  const said = h('p', { class: 'leaf', role: 'status' });
  put(page,
    h('section', { class: 'sec narrow' }, h('h2', {}, 'How I read and measure'),
      h('entry-form', { '.save': saveMe },
        h('form-field', { name: 'name', label: 'Name', maxlength: 120, value: me.name, autocomplete: 'name' }),
        h('form-field', { name: 'unit', label: 'Lengths in', kind: 'select', quiet: true, '.options': UNITS, value: me.unit }),
        h('form-field', { name: 'terms', label: 'Stitch names in', kind: 'select', quiet: true, '.options': TERMS, value: me.terms })), said),
    more,
    h('section', { class: 'sec narrow' }, h('h2', {}, 'Password'),
      h('entry-form', { say: 'Change password', '.save': savePassword },
        h('form-field', { name: 'current', label: 'Present password', kind: 'password', required: true, autocomplete: 'current-password' }),
        h('form-field', { name: 'new', label: 'New password', kind: 'password', required: true, minlength: 10, autocomplete: 'new-password', hint: 'At least 10 characters. Your sign-ins elsewhere end.' }))),
    secondStepSection(view), signInSection(view));

  showMyBody(page).then(() => page.append(dataSection(view)));

  /** @param {Record<string, any>} values */
  async function saveMe(values) {
    setPerson(await api.patch('/me', values, { revision: me.revision }));
    announce('Saved.');
    reload();
  }

  /** @param {Record<string, any>} values @param {import('../parts/entry-form.js').EntryForm} form */
  async function savePassword(values, form) {
    await api.post('/me/password', values);
    for (const f of form.fields) f.value = '';
    put(said, 'The password is changed.');
  }
}
