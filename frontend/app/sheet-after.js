import { h, put } from '../parts/h.js';
import '../parts/data-table.js';
import { sayMoment } from '../parts/dates.js';
import { readTimeCode } from '../parts/time-code.js';
import * as api from './api.js';
import { announce } from './shell.js';
import { sayError } from './problem.js';

/** @typedef {import('./filming-sheet.js').Desk} Desk */

/** After the recording: notes for the edit, chapters, cards, captions, the link. @param {Desk} desk */
export function after(desk) {
  const { sheet, view } = desk;
  const n = sheet.installment;
  const file = (/** @type {string} */ name, /** @type {string} */ words) => h('a', { class: 'button', href: `/api/v1/installments/${n.id}/${name}`, download: `${sheet.design.slug}-${n.position}-${name}` }, words);
  // Before anything is recorded there is nothing on these to take to the shoot.
  const paper = sheet.shots.some((shot) => shot.takes.length) ? 'sec' : 'sec no-print';
  return [
    h('section', { class: paper, 'aria-labelledby': 'notes-title' }, h('h2', { id: 'notes-title' }, 'Notes for the edit'),
      h('ol', { class: 'plain edit-notes' }, sheet.notes.map((x) => h('li', { class: x.done ? 'mended' : undefined },
        h('span', { class: 'mono' }, x.take ? `take ${x.take}` : '', x.at ? ` ${x.at}` : ''), h('span', { class: x.kind === 'number_changed' || x.kind === 'record_again' ? 'pin' : undefined }, x.words, x.waits ? h('span', { class: 'brass' }, ` – ${x.waits}`) : null, x.done ? h('span', { class: 'leaf' }, ' mended') : null)))),
      h('div', { class: 'acts no-print' }, file('edit-notes.txt', 'The notes as text'))),
    h('section', { class: paper, 'aria-labelledby': 'chapters-title' }, h('h2', { id: 'chapters-title' }, 'Chapters'),
      sheet.chapters.length ? chapters(desk) : h('p', { class: 'soft' }, 'None yet: they follow the accepted shots.'),
      sheet.trouble.map((x) => h('p', { class: 'brass' }, x)),
      sheet.chapters.length ? h('div', { class: 'acts no-print' }, file('chapters.vtt', 'WebVTT'), file('chapters.txt', 'List for the description')) : null),
    sheet.cards ? h('section', { class: 'sec', 'aria-labelledby': 'cards-title' }, h('h2', { id: 'cards-title' }, 'On screen, for all sizes'),
      h('pre', { class: 'cards', tabindex: '0' }, sheet.cards), h('div', { class: 'acts no-print' }, file('cards.txt', 'The cards as text'))) : null,
    h('section', { class: paper, 'aria-labelledby': 'out-title' }, h('h2', { id: 'out-title' }, 'Captions and link'),
      h('p', {}, n.captioned_at ? `Captioned ${sayMoment(n.captioned_at, view.settings.zone)}.` : 'Not captioned yet.'),
      h('p', {}, n.link ? h('a', { href: n.link, rel: 'noreferrer', target: '_blank' }, n.link) : n.aired_at ? h('span', { class: 'brass' }, 'It has aired, and its address is not noted.') : 'The address comes when it has aired.'))];
}

/** @param {Desk} desk */
function chapters(desk) {
  const out = h('data-table', { caption: 'Where each shot begins in the finished video; what the takes give can be typed over' });
  out.columns = [
    { label: 'Shot', head: true, cell: (/** @type {any} */ c) => c.title },
    { label: 'Begins at', cell: (/** @type {any} */ c) => (desk.mayFilm ? field(c, desk) : h('span', { class: 'mono' }, c.at)) },
    { label: 'From', cell: (/** @type {any} */ c) => (c.reckoned ? 'the takes' : 'typed') },
  ];
  out.rows = desk.sheet.chapters;
  return out;
}

/** @param {{shot_id: string, title: string, at: string}} c @param {Desk} desk */
function field(c, desk) {
  const wrong = h('p', { class: 'error', role: 'alert' });
  const input = h('input', { class: 'code mono', value: c.at, autocomplete: 'off', 'aria-label': `Where ${c.title} begins; empty for what the takes give`, 'data-key': `chapter-${c.shot_id}`, onchange: save });
  return h('span', { class: 'chapter-field' }, input, wrong);

  async function save() {
    const text = input.value.trim().replace(',', '.');
    if (text && readTimeCode(text) === null) {
      put(wrong, 'Write it like 12:04.');
      return;
    }
    try {
      const shot = await api.get(`/shots/${c.shot_id}`);
      await api.patch(`/shots/${c.shot_id}`, { chapter: text || null }, { revision: shot.revision });
      await desk.refresh();
      announce(`${c.title} begins at ${text || 'where the takes put it'}.`);
    } catch (err) {
      put(wrong, sayError(err));
    }
  }
}
