import { h, put } from '../parts/h.js';
import '../parts/form-field.js';
import '../parts/entry-form.js';
import * as api from './api.js';
import { go } from './router.js';
import { setPerson, isStaff, studio } from './session.js';
import { askForCode } from './second-step.js';
import { sayMoment } from '../parts/dates.js';
import { UNITS, TERMS } from './words.js';

/**
 * The invitation's token stands after the #, so that it never reaches a log;
 * it is taken out of the address as soon as it has been read.
 * @param {import('../shapes.js').View} view
 */
export async function draw({ page, lede, settings, title }) {
  const token = location.hash.slice(1);
  title('Join');
  if (!token) {
    put(page, h('p', {}, 'Open the whole invitation link, with the part after the #. Is it lost, or has it been used? The studio can give you a new one.'),
      h('p', {}, 'You have chosen a password already? ', h('a', { href: '/sign-in' }, 'Sign in')));
    return;
  }
  const found = await api.post('/invitations/look', { token });
  lede.textContent = `${settings.name} invites ${found.name || found.handle}`;
  const what = found.design_name ? `You were asked to test ${found.design_name}${found.size_name ? `, size ${found.size_name}` : ''}. ` : '';
  put(page,
    h('p', {}, what, `This link works once, until ${sayMoment(found.expires_at, settings.zone)}.`),
    h('entry-form', { class: 'narrow', say: found.has_password ? 'Set the new password and sign in' : 'Join', '.save': save },
      h('form-field', { name: 'password', label: found.has_password ? 'New password' : 'Choose a password', kind: 'password', required: true, minlength: 10, autocomplete: 'new-password', hint: 'At least 10 characters. Three or four words that only you put together are good.' }),
      h('form-field', { name: 'unit', label: 'I measure in', kind: 'select', quiet: true, '.options': UNITS, value: found.unit }),
      h('form-field', { name: 'terms', label: 'I read stitch names in', kind: 'select', quiet: true, '.options': TERMS, value: found.terms })),
    h('p', { class: 'narrow' }, h('a', { href: '/privacy' }, 'Who here sees what of a tester')));

  /** @param {Record<string, any>} values */
  async function save(values) {
    const { person, second_step: second } = await api.post('/invitations/accept', { token, ...values });
    if (second) askForCode(page, second.token, enter);
    else await enter(person);
  }

  /** @param {import('../shapes.js').Person} person */
  async function enter(person) {
    setPerson(null);
    await studio();
    go(isStaff(person) ? '/' : '/my', { replace: true });
  }
}
