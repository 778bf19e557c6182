import { h, put } from '../parts/h.js';
import '../parts/form-field.js';
import '../parts/entry-form.js';
import * as api from './api.js';
import { go } from './router.js';
import { setPerson, isStaff } from './session.js';
import { Problem } from './problem.js';
import { askForCode } from './second-step.js';

/** @param {import('../shapes.js').View} view */
export function draw({ page, lede, query, settings, title }) {
  title('Sign in');
  lede.textContent = settings.name;
  put(page, h('entry-form', { class: 'narrow', say: 'Sign in', '.save': save },
    h('form-field', { name: 'login', label: 'Handle or e-mail', required: true, quiet: true, autocomplete: 'username', autocapitalize: 'off', spellcheck: 'false' }),
    h('form-field', { name: 'password', label: 'Password', kind: 'password', required: true, autocomplete: 'current-password' })),
  h('p', { class: 'soft' }, 'No account yet? Open the invitation link that the studio gave you. Forgotten the password? The studio can send a new link.'));

  /** @param {import('../shapes.js').Person} person */
  function enter(person) {
    // Asked anew: only then is it known what the studio wants set up first.
    setPerson(null);
    go(within(query.get('to')) || (isStaff(person) ? '/' : '/my'), { replace: true });
  }

  /** @param {Record<string, any>} values */
  async function save(values) {
    try {
      const { person, second_step: second } = await api.post('/auth/sign-in', values);
      if (second) askForCode(page, second.token, enter);
      else enter(person);
    } catch (err) {
      if (err instanceof Problem && err.status === 401) throw new Error('Handle, e-mail or password is not right.');
      throw err;
    }
  }
}

/** Only an address of ours: a link must not be able to send someone elsewhere. @param {string | null} to */
export function within(to) {
  if (!to || !/^\/(?![/\\])/.test(to)) return '';
  return new URL(to, location.origin).origin === location.origin ? to : '';
}
