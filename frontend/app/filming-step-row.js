import { h, put } from '../parts/h.js';
import { sayMoment } from '../parts/dates.js';
import * as api from './api.js';
import { announce } from './shell.js';
import { sayError } from './problem.js';
import { openSteps, stepsOf } from './filming-steps.js';
import { askEarly, wantsEarly } from './release-early.js';

/** @typedef {import('./filming.js').Shoot} Shoot */
/** @typedef {import('../shapes-filming.js').Installment} Installment */

/**
 * Recorded, edited, captioned, scheduled, aired: what is done, and the one that
 * comes next with its button. @param {Installment} n @param {Shoot} shoot
 */
export function drawSteps(n, shoot) {
  const { zone } = shoot.view.settings;
  const open = openSteps(n);
  const wrong = h('p', { class: 'error', role: 'alert' });
  const steps = [{ step: 'recorded', at: n.state === 'unrecorded' ? null : 'yes' }, ...stepsOf(n)];
  return h('div', {}, h('ol', { class: 'plain steps', 'aria-label': `Steps of ${n.title}` }, steps.map(({ step, at }) => h('li', { class: at ? 'done' : undefined },
    h('span', { class: 'step-name' }, step, h('span', { class: 'unseen' }, at ? ', done' : ', not yet')),
    at && at !== 'yes' ? h('span', { class: 'soft when' }, sayMoment(at, zone)) : null,
    shoot.mayFilm && step === open.next ? button(step, true, `Mark as ${step}`) : null,
    shoot.mayFilm && step === open.last ? button(step, false, 'Take back') : null))), wrong);

  /** @param {string} step @param {boolean} done @param {string} words */
  function button(step, done, words) {
    return h('button', { type: 'button', class: done ? undefined : 'plain', 'data-key': `step-${n.id}-${done}`, 'aria-label': done ? `${words}: ${n.title}` : `Take back: ${n.title} ${step}`, onclick: () => mark(step, done) }, words);
  }

  /** @param {string} step @param {boolean} done */
  async function mark(step, done) {
    const save = (/** @type {object} */ more) => api.patch(`/installments/${n.id}`, { [step]: done, ...more }, { revision: n.revision });
    try {
      await save({});
      await said();
    } catch (err) {
      if (n.air_on && wantsEarly(err)) {
        askEarly({ what: n.title, on: n.air_on, today: shoot.view.settings.today, gone: shoot.view.gone, save: () => save({ before_its_day: true }), done: said });
        return;
      }
      put(wrong, sayError(err));
    }

    async function said() {
      await shoot.refresh();
      announce(done ? `${n.title} is ${step}.` : `${n.title} is not ${step} any more.`);
    }
  }
}
