import { h, put } from '../parts/h.js';
import * as api from './api.js';
import { inOrder, isOpen, sayDue, sayState } from './my-words.js';

export const sheets = ['my'];

/** @typedef {import('../shapes-testing.js').Assignment} Assignment */

/** @param {import('../shapes.js').View} view */
export async function draw({ page, lede, settings, gone, title }) {
  title('My testing');
  /** @type {Assignment[]} */
  const list = await api.all('/me/assignments', { signal: gone });
  const open = list.filter(isOpen).length;
  lede.textContent = open === 0 ? 'Nothing is waiting for you.' : open === 1 ? 'One size is with you.' : `${open} sizes are with you.`;
  put(page, list.length === 0
    ? h('p', {}, 'You have no size yet. When the studio asks you to test one, it stands here.')
    : h('ul', { class: 'plain my-list' }, inOrder(list).map((a) => item(a, settings.today))));
}

/** @param {Assignment} a @param {string} today */
function item(a, today) {
  return h('li', {}, h('a', { href: `/my/${a.id}` },
    h('span', { class: 'my-name' }, a.design.name), h('span', { class: 'my-size' }, `size ${a.size.name}`),
    h('span', { class: a.late ? 'pin' : undefined }, sayDue(a, today), a.late ? ', late' : ''),
    h('span', { class: isOpen(a) ? 'strong' : 'soft' }, sayState(a))));
}
