import { h, put } from '../parts/h.js';
import { sayDay, sayMoment } from '../parts/dates.js';
import * as api from './api.js';
import { saySizes, sayVersions } from './corrections-words.js';

export const sheets = ['corrections'];

/** @typedef {import('../shapes-corrections.js').PublicCorrections} PublicCorrections */

/**
 * What was announced of a released design, for everybody, on screen and on
 * paper. @param {import('../shapes.js').View} view
 */
export async function draw(view) {
  /** @type {PublicCorrections} */
  const all = await api.get(`/public/designs/${encodeURIComponent(view.params.design)}/corrections`, { signal: view.gone });
  const zone = view.settings.zone;
  view.title(`Corrections to ${all.design}`);
  put(view.lede, h('p', {}, [all.studio, `released ${sayDay(all.released_on)}`].filter(Boolean).join(' · ')),
    h('p', { class: 'no-print' }, h('a', { href: all.feed }, 'Follow as a feed (Atom)'), ' · ', h('button', { type: 'button', onclick: () => print() }, 'Print')));
  put(view.page, all.items.length === 0 ? h('p', {}, 'Nothing in the text had to be corrected so far.')
    : h('ol', { class: 'plain corrections public' }, all.items.map((c) => h('li', {}, h('article', { class: `correction ${c.withdrawn_at ? 'withdrawn' : ''}`, id: `correction-${c.number}`, 'aria-labelledby': `c${c.number}-title` },
      h('h2', { id: `c${c.number}-title` }, c.place, c.withdrawn_at ? h('span', { class: 'tag' }, 'taken back') : null),
      c.withdrawn_at ? h('p', { class: 'note' }, `Taken back ${sayMoment(c.withdrawn_at, zone)}: ${c.withdrawn_why || ''} What the text said before is right.`) : null,
      h('dl', { class: 'pairs' }, h('dt', {}, 'It said'), h('dd', {}, c.was), h('dt', {}, 'It now says'), h('dd', {}, h('b', {}, c.is_now)), h('dt', {}, 'For'), h('dd', {}, saySizes(c.sizes)),
        h('dt', {}, 'Versions'), h('dd', {}, sayVersions(c)), h('dt', {}, 'Announced'), h('dd', {}, sayMoment(c.announced_at, zone))))))));
  document.getElementById(location.hash.slice(1))?.scrollIntoView();
}
