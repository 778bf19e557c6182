import { h } from '../parts/h.js';
import { openForm } from '../parts/open-dialog.js';
import '../parts/form-field.js';
import * as api from './api.js';
import { announce } from './shell.js';
import { saveAs } from './data-words.js';

/** @typedef {import('../shapes.js').Person} Person */

/**
 * For somebody who asks the designer: what is kept about them as a file, and
 * erasing it.
 * @param {Person} p @param {AbortSignal} gone @param {() => Promise<void>} done
 */
export function forgetPerson(p, gone, done) {
  openForm({ title: `Forget ${p.handle}`, say: 'Erase it for good', gone, save, done: async () => { announce('Forgotten.'); await done(); } },
    h('p', {}, 'Their name, handle, e-mail address, password, body measurements and everything that they wrote are erased. What they measured stays, as the work of nobody. Do this when they ask for it; it can’t be undone.'),
    h('button', { type: 'button', onclick: async () => saveAs(`tenter-data-${p.handle}.json`, await api.get(`/people/${p.id}/data`, { signal: gone })) }, 'First download what is kept, for them'),
    h('form-field', { name: 'confirm', label: `Type their handle, ${p.handle}`, required: true, autocapitalize: 'off', spellcheck: 'false', autocomplete: 'off' }));

  /** @param {Record<string, any>} values */
  async function save(values) {
    await api.post(`/people/${p.id}/forget`, values);
  }
}
