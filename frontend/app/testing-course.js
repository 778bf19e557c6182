import { h } from '../parts/h.js';
import { sayDay, sayMoment } from '../parts/dates.js';
import { openForm } from '../parts/open-dialog.js';
import '../parts/form-field.js';
import '../parts/entry-form.js';
import * as api from './api.js';
import { announce } from './shell.js';
import { sayError } from './problem.js';

/** @typedef {import('./testing.js').Desk} Desk */
/** @typedef {import('../shapes-testing.js').Assignment} Assignment */

/** How far a tester is, beyond the state. @param {Assignment} a @param {Desk} desk */
export function course(a, desk) {
  const { today, zone } = desk.view.settings;
  if (a.state === 'withdrawn') return null;
  const late = a.report_id && a.days_late ? h('p', { class: a.days_late > 0 ? 'brass' : 'soft' }, a.days_late > 0 ? `sent ${days(a.days_late)} late` : `sent ${days(-a.days_late)} early`) : null;
  return [
    a.state === 'asked' && a.answer_by ? h('p', { class: a.quiet ? 'brass' : 'soft' }, `answer by ${sayDay(a.answer_by, today)}`) : null,
    a.progress && !a.report_id ? h('p', { class: 'soft' }, `${a.progress.done} of ${a.progress.of} sections${a.progress.section ? `, through ${a.progress.section}` : ''}, ${sayMoment(a.progress.at, zone)}`, a.progress.note ? h('span', { class: 'said' }, ` “${a.progress.note}”`) : null) : null,
    a.quiet && a.state === 'accepted' ? h('p', { class: 'brass' }, 'gone quiet') : null, late,
    a.yarn_sent_on ? h('p', { class: 'soft' }, `yarn sent ${sayDay(a.yarn_sent_on, today)}${a.yarn_sent_note ? `: ${a.yarn_sent_note}` : ''}`) : null,
    a.more_time ? h('div', { class: 'note' }, h('p', {}, `asks for time until ${sayDay(a.more_time.wanted_on, today)}: ${a.more_time.why}`),
      desk.may ? h('div', { class: 'row-acts' }, h('button', { type: 'button', 'data-key': `grant-${a.id}`, 'aria-label': `Grant ${a.person.handle} the time`, onclick: () => answer(a, desk, true) }, 'Grant it'), h('button', { type: 'button', 'data-key': `refuse-${a.id}`, 'aria-label': `Keep ${a.person.handle}’s day`, onclick: () => answer(a, desk, false) }, 'Keep the day')) : null) : null,
  ];
}

/** @param {number} n */
const days = (n) => (n === 1 ? 'a day' : `${n} days`);

/** @param {Assignment} a @param {Desk} desk @param {boolean} granted */
async function answer(a, desk, granted) {
  try {
    await api.post(`/assignments/${a.id}/more-time/answer`, { granted }, { revision: a.revision });
    await desk.refresh();
    announce(granted ? `${a.person.handle} has more time.` : `${a.person.handle} keeps the day.`);
  } catch (err) {
    announce(sayError(err));
  }
}

/** When the studio sent yarn. @param {Assignment} a @param {Desk} desk */
export function yarnSent(a, desk) {
  openForm({
    title: `Yarn for ${a.person.handle}`, say: 'Save', gone: desk.view.gone,
    save: (values) => api.patch(`/assignments/${a.id}`, values, { revision: a.revision }),
    done: async () => {
      await desk.refresh();
      announce('Kept.');
    },
  }, h('form-field', { name: 'yarn_sent_on', label: 'Sent on', kind: 'date', value: a.yarn_sent_on || desk.view.settings.today, hint: 'Leave it empty when none was sent after all.' }),
  h('form-field', { name: 'yarn_sent_note', label: 'What, and by which parcel', maxlength: 120, value: a.yarn_sent_note || '' }));
}
