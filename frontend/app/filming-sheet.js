import { h, put } from '../parts/h.js';
import { keepFocus } from '../parts/keep-focus.js';
import { sayDay } from '../parts/dates.js';
import * as api from './api.js';
import { hasRole } from './session.js';
import { listen } from './live.js';
import { Recorder } from './sheet-recorder.js';
import { shotCard } from './sheet-shot.js';
import { after } from './sheet-after.js';
import { unlogged } from './filming-unlogged.js';

export const sheets = ['data-table', 'filming', 'sheet'];

/**
 * @typedef {object} Desk
 * @property {import('../shapes.js').View} view
 * @property {import('../shapes-shots.js').ShootSheet} sheet
 * @property {boolean} mayFilm
 * @property {Recorder} recorder
 * @property {() => Promise<void>} refresh
 */

/** @param {import('../shapes.js').View} view */
export async function draw(view) {
  const path = `/installments/${encodeURIComponent(view.params.installment)}/sheet`;
  const mayFilm = hasRole(view.me, 'designer', 'filmer');
  const sheet = await api.get(path, { signal: view.gone });
  /** @type {Desk} */
  const desk = { view, sheet, mayFilm, recorder: /** @type {any} */ (null), refresh };
  desk.recorder = new Recorder(desk);
  show(desk);
  listen(`/designs/${encodeURIComponent(view.params.slug)}/live`, refresh, view.gone);

  async function refresh() {
    desk.sheet = await api.get(path, { signal: view.gone });
    if (!view.gone.aborted) keepFocus(view.page, () => show(desk));
  }
}

/** @param {Desk} desk */
function show(desk) {
  const { view, sheet } = desk;
  const n = sheet.installment;
  view.title(`Shoot sheet: ${n.position}. ${n.title}`);
  put(view.lede,
    h('p', {}, h('a', { href: `/d/${encodeURIComponent(sheet.design.slug)}/filming#${n.id}` }, sheet.design.name), `, version ${sheet.version.number}`,
      sheet.size_name ? `, shown in size ${sheet.size_name}` : ', and no size is marked as the filmed one'),
    h('p', {}, n.air_on ? `airs ${sayDay(n.air_on, sheet.today)}` : 'no day announced', n.record_by ? `, record by ${sayDay(n.record_by, sheet.today)}` : '', n.shoot_on ? `, to be recorded ${sayDay(n.shoot_on, sheet.today)}` : ''));
  put(view.page,
    h('div', { class: 'acts lead no-print' }, h('button', { type: 'button', 'data-key': 'print', onclick: () => print() }, 'Print the sheet')),
    sheet.shots.length === 0 ? h('p', {}, 'No shot is planned yet. Add shots on the ', h('a', { href: `/d/${encodeURIComponent(sheet.design.slug)}/filming#${n.id}` }, 'filming page'), '; each names the state that its sample has to be in and the numbers to say.') : null,
    desk.mayFilm && sheet.shots.length ? desk.recorder.draw() : null,
    unlogged(sheet.unlogged.filter((u) => !sheet.shots.some((x) => x.id === u.shot_id)), { gone: view.gone, may: desk.mayFilm, refresh: desk.refresh }),
    h('ol', { class: 'plain sheet-shots' }, sheet.shots.map((shot) => shotCard(shot, desk))),
    sheet.shots.length ? after(desk) : null);
}
