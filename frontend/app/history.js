import { h, put } from '../parts/h.js';
import { sayMoment } from '../parts/dates.js';
import * as api from './api.js';
import { takeOutSeveral } from './take-out.js';
import { changesOf, sayDeed } from './history-words.js';

export const sheets = ['history'];

/** @param {import('../shapes.js').View} view */
export async function draw({ page, lede, params, settings, gone, title }) {
  const path = `/designs/${encodeURIComponent(params.slug)}`;
  const design = await api.get(path, { signal: gone });
  title('History');
  lede.textContent = `${design.name}: who changed what, newest first`;
  lede.append(takeOutSeveral(path, [['events', 'every change']]));
  const list = h('ol', { class: 'plain rows history' });
  const more = h('button', { type: 'button', onclick: () => load() }, 'Earlier changes');
  put(page, list, h('div', { class: 'acts' }, more));
  let after = '';
  await load();
  if (!list.firstChild) put(page, h('p', { class: 'soft' }, 'Nothing has been changed yet.'));

  async function load() {
    const found = await api.get(`${path}/history?limit=50${after && `&after=${encodeURIComponent(after)}`}`, { signal: gone });
    const from = list.childElementCount;
    list.append(...found.items.map((/** @type {import('../shapes.js').Event} */ e) => item(e, settings.zone)));
    after = found.next || '';
    more.hidden = !after;
    if (from > 0) list.children[from]?.focus();
  }
}

/** @param {import('../shapes.js').Event} e @param {string} zone */
function item(e, zone) {
  const changes = changesOf(e.before, e.after);
  return h('li', { tabindex: '-1' },
    h('p', { class: 'when' }, h('time', { datetime: e.at }, sayMoment(e.at, zone))),
    h('div', {}, h('p', {}, h('b', {}, e.actor || 'the server'), ` ${sayDeed(e.entity, e.action)}`),
      changes.length ? h('details', {}, h('summary', {}, changes.length === 1 ? 'One value' : `${changes.length} values`),
        h('dl', { class: 'pairs' }, changes.map((c) => [h('dt', {}, c.where), h('dd', {}, c.from === '' ? null : h('del', {}, c.from), c.from !== '' && c.to !== '' ? ' → ' : '', c.to === '' ? null : h('ins', {}, c.to))]))) : null));
}
