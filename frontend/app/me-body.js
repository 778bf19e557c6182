import { h, put } from '../parts/h.js';
import * as api from './api.js';
import { announce } from './shell.js';
import { reload } from './router.js';
import { sayError } from './problem.js';
import { sentence } from './plan-words.js';

/** @typedef {import('../shapes-recruiting.js').OwnBody} OwnBody */

/**
 * Adds what I told of my body with my offers, and the way to take it back,
 * where there is any. @param {Element} page
 */
export async function showMyBody(page) {
  const here = h('div', {});
  page.append(here);
  try {
    const { items } = await api.get('/me/body');
    if (items.length > 0) put(here, myBody(items));
  } catch (err) {
    put(here, h('p', { class: 'note bad' }, sayError(err)));
  }
}

/** @param {OwnBody[]} told */
function myBody(told) {
  const trouble = h('div', { role: 'alert' });
  return h('section', { class: 'sec narrow' }, h('h2', {}, 'What I told of my body'),
    h('p', { class: 'soft' }, 'Only you and the designer see this.'), trouble,
    h('ul', { class: 'plain rows' }, told.map((b) => h('li', {}, h('p', {}, `${b.design}: ${b.body.map((x) => `${x.dimension} ${x.length.value} ${x.length.unit}`).join(', ')}`),
      b.advice ? h('p', { class: 'soft' }, sentence(b.advice.why)) : null,
      h('button', { type: 'button', 'aria-label': `Remove my measurements for ${b.design}`, onclick: () => remove(b) }, 'Remove')))));

  /** @param {OwnBody} b */
  async function remove(b) {
    try {
      await api.remove(`/applications/${b.application_id}/body`);
      announce('Removed.');
      reload();
    } catch (err) {
      put(trouble, h('p', { class: 'note bad' }, sayError(err)));
    }
  }
}
