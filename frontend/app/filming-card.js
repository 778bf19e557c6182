import { h, put } from '../parts/h.js';
import { sayDay, sayDaysLeft } from '../parts/dates.js';
import * as api from './api.js';
import { announce } from './shell.js';
import { sayError } from './problem.js';
import { editInstallment } from './filming-edit.js';
import { drawSteps } from './filming-step-row.js';
import { takes } from './filming-takes.js';
import { shots } from './filming-shots.js';
import { planLine } from './filming-plan.js';
import { unlogged } from './filming-unlogged.js';

/** @typedef {import('./filming.js').Shoot} Shoot */
/** @typedef {import('../shapes-filming.js').Installment} Installment */

/** @param {Installment} n @param {Shoot} shoot */
export function installmentCard(n, shoot) {
  const { today } = shoot.view.settings;
  return h('li', { class: `shoot-item ${n.state === 'unrecorded' ? 'open' : ''}`, id: n.id },
    h('span', { class: 'no', 'aria-hidden': 'true' }, n.position),
    h('article', { 'aria-labelledby': `title-${n.id}` },
      h('div', { class: 'sec-head' }, h('h2', { id: `title-${n.id}` }, h('span', { class: 'unseen' }, `${n.position}. `), n.title), acts(n, shoot)),
      n.covers ? h('p', {}, n.covers) : null,
      h('p', {}, n.air_on ? `${n.state === 'aired' ? 'aired' : 'airs'} ${sayDay(n.air_on, today)}` : 'no day announced',
        n.days_left !== null && n.state !== 'aired' ? h('span', { class: n.days_left < 0 ? 'pin' : 'soft' }, ` (${sayDaysLeft(n.days_left)})`) : null,
        n.record_by && n.state === 'unrecorded' ? [' · ', h('span', { class: n.late ? 'pin' : undefined }, `record by ${sayDay(n.record_by, today)}${n.late ? ', late' : ''}`)] : null,
        n.link ? [' · ', h('a', { href: n.link, rel: 'noreferrer', target: '_blank' }, 'the video')] : null),
      n.needs ? h('p', { class: n.late ? 'pin' : 'strong' }, n.needs) : null,
      n.sample && n.state === 'unrecorded' ? h('p', {}, 'Until it is recorded, do not work on ', h('span', { class: 'tag dashed' }, n.sample.label), '.') : null,
      n.state === 'unrecorded' ? planLine(n.id, shoot) : null,
      shots(n, shoot), drawSteps(n, shoot), takes(n, shoot),
      unlogged(shoot.plan.unlogged.filter((u) => n.shots.some((x) => x.id === u.shot_id)), { gone: shoot.view.gone, may: shoot.mayFilm, refresh: shoot.refresh })));
}

/** @param {Installment} n @param {Shoot} shoot */
function acts(n, shoot) {
  const wrong = h('p', { class: 'error', role: 'alert' });
  const at = shoot.run.indexOf(n);
  /** @param {string} key @param {string} words @param {number} to @param {boolean} can */
  const mover = (key, words, to, can) => h('button', { type: 'button', 'data-key': `${key}-${n.id}`, 'aria-label': `${words}: ${n.title}`, 'aria-disabled': can ? undefined : 'true', onclick: () => { if (can) move(to); } }, words);
  return shoot.mayFilm ? h('div', { class: 'row-acts' },
    mover('up', 'Earlier', n.position - 1, at > 0), mover('down', 'Later', n.position + 1, at < shoot.run.length - 1),
    h('button', { type: 'button', 'data-key': `edit-${n.id}`, 'aria-label': `Change ${n.title}`, onclick: () => editInstallment(shoot, n) }, 'Change'), wrong) : null;

  /** @param {number} position */
  async function move(position) {
    try {
      const now = await api.patch(`/installments/${n.id}`, { position }, { revision: n.revision });
      await shoot.refresh();
      announce(`${n.title} is now ${now.position} of ${shoot.run.length}.`);
    } catch (err) {
      put(wrong, sayError(err));
    }
  }
}
