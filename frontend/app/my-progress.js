import { h, put } from '../parts/h.js';
import { sayDay, sayMoment } from '../parts/dates.js';
import { openForm } from '../parts/open-dialog.js';
import '../parts/form-field.js';
import '../parts/entry-form.js';
import * as api from './api.js';
import { announce } from './shell.js';
import { reload } from './router.js';
import { sayError } from './problem.js';

/** @typedef {import('./my-assignment.js').Mine} Mine */

/** How far my piece is: one tap on the last section that is finished. @param {Mine} a @param {import('../shapes.js').View} view */
export function progress(a, view) {
  const now = a.progress;
  const done = now ? Math.min(now.done, a.sections.length) : -1;
  const trouble = h('div', { role: 'alert' });
  const note = h('form-field', { label: 'A word about it, if you like', maxlength: 300, autocomplete: 'off' });
  const steps = ['nothing yet', ...a.sections];
  return h('section', { class: 'sec', 'aria-labelledby': 'progress' }, h('h2', { id: 'progress' }, 'How far I am'),
    h('p', { class: 'soft' }, now ? `Told ${sayMoment(now.at, view.settings.zone)}.` : 'Tap the last part that is finished, so that the studio knows.'),
    note, h('ol', { class: 'plain my-steps' }, steps.map((name, i) => h('li', {}, h('button', {
      type: 'button', 'aria-pressed': String(i === done), class: i > 0 && i <= done ? 'done' : undefined, 'data-key': `step-${i}`, onclick: () => tell(i) }, name)))), trouble,
    a.yarn_sent_on ? h('p', {}, `The studio sent yarn on ${sayDay(a.yarn_sent_on, view.settings.today)}${a.yarn_sent_note ? `: ${a.yarn_sent_note}` : ''}.`) : null,
    a.more_time ? h('p', { class: 'note' }, `You asked for time until ${sayDay(a.more_time.wanted_on, view.settings.today)}; the studio has not answered yet.`) : null,
    h('p', {}, h('button', { type: 'button', onclick: () => moreTime(a, view) }, a.more_time ? 'Ask for another day' : 'I need more time')));

  /** @param {number} n */
  async function tell(n) {
    try {
      await api.post(`/assignments/${a.id}/check-ins`, { done: n, note: note.value || undefined });
      announce(n ? `Told: ${steps[n]} is finished.` : 'Told: nothing yet.');
      reload();
    } catch (err) {
      put(trouble, h('p', { class: 'note bad' }, sayError(err)));
    }
  }
}

/** @param {Mine} a @param {import('../shapes.js').View} view */
function moreTime(a, view) {
  openForm({
    title: 'Ask for more time', say: 'Ask', gone: view.gone,
    save: async (values) => {
      await api.post(`/assignments/${a.id}/more-time`, values);
      announce('The studio is asked.');
      reload();
    },
  }, h('p', {}, `Your report is wanted by ${sayDay(a.due_on, view.settings.today)}.`),
  h('form-field', { name: 'wanted_on', label: 'I can send it by', kind: 'date', required: true, value: a.more_time?.wanted_on }),
  h('form-field', { name: 'why', label: 'Why', kind: 'area', required: true, maxlength: 1000, value: a.more_time?.why }));
}
