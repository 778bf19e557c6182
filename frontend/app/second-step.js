import { h, put } from '../parts/h.js';
import '../parts/form-field.js';
import '../parts/entry-form.js';
import * as api from './api.js';

/**
 * Asks for the code that a sign-in waits for.
 * @param {Element} page
 * @param {string} token
 * @param {(person: import('../shapes.js').Person) => Promise<void> | void} done
 */
export function askForCode(page, token, done) {
  const code = h('form-field', { name: 'code', label: 'Code', required: true, autocomplete: 'one-time-code', autocapitalize: 'characters', spellcheck: 'false', maxlength: 60,
    hint: 'Six digits from your device, or a recovery code.' });
  put(page, h('p', { class: 'narrow' }, 'The password is right. Now the code.'), h('entry-form', { class: 'narrow', say: 'Sign in', '.save': save }, code),
    h('p', { class: 'soft' }, 'Device and recovery codes lost? The designer can take the second step away.'));
  /** @type {HTMLElement | null} */ (code.querySelector('input'))?.focus();

  /** @param {Record<string, any>} values */
  async function save(values) {
    const { person } = await api.post('/auth/second-step', { token, code: values.code });
    await done(person);
  }
}
