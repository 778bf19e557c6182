import { h, put } from '../parts/h.js';
import { openForm } from '../parts/open-dialog.js';
import '../parts/form-field.js';
import '../parts/entry-form.js';
import * as api from './api.js';
import { announce } from './shell.js';
import { sayError } from './problem.js';

/** @typedef {import('./filming.js').Shoot} Shoot */
/** @typedef {import('../shapes-filming.js').Installment} Installment */

/** @param {Shoot} shoot @param {Installment | null} n */
export function editInstallment(shoot, n) {
  const once = new api.OnceKey();
  const lead = shoot.view.settings.lead_days;
  const dialog = openForm({ title: n ? `Change ${n.title}` : 'Add an installment', say: n ? 'Save' : 'Add', gone: shoot.view.gone, save, done },
    h('form-field', { name: 'title', label: 'Title', required: true, maxlength: 200, autocomplete: 'off', value: n?.title }),
    h('form-field', { name: 'covers', label: 'What it covers', kind: 'area', maxlength: 2000, hint: 'From where to where; it starts where the one before it ended.', value: n?.covers }),
    h('div', { class: 'side' },
      h('form-field', { name: 'air_on', label: 'Airs on', kind: 'date', value: n?.air_on }),
      h('form-field', { name: 'record_by', label: 'Record by', kind: 'date', hint: `Left empty: ${lead} days before it airs.`, value: n?.record_by_set ? n.record_by : undefined }),
      h('form-field', { name: 'shoot_on', label: 'To be recorded on', kind: 'date', hint: 'Left empty: by the day above.', value: n?.shoot_on })),
    h('form-field', { name: 'link', label: 'Address of the video', maxlength: 500, inputmode: 'url', autocomplete: 'off', value: n?.link }),
    n && shoot.mayPlan && n.takes.length === 0 ? takeOut(n) : null);

  /** @param {Record<string, any>} values */
  async function save(values) {
    const body = { ...values };
    for (const day of ['air_on', 'record_by', 'shoot_on']) {
      if (body[day]) continue;
      if (n) body[day] = null;
      else delete body[day];
    }
    return n ? api.patch(`/installments/${n.id}`, body, { revision: n.revision }) : api.post(`${shoot.path}/installments`, body, { key: once.for(body) });
  }

  /** @param {Installment} now */
  async function done(now) {
    await shoot.refresh();
    announce(n ? `${now.title} is changed.` : `${now.title} is added as ${now.position}.`);
  }

  /** Only what nothing was recorded for. @param {Installment} gone */
  function takeOut(gone) {
    const wrong = h('p', { class: 'error', role: 'alert' });
    return h('p', {}, h('button', { type: 'button', class: 'grave', onclick: async () => {
      try {
        await api.remove(`/installments/${gone.id}`, { revision: gone.revision });
        dialog.close();
        await shoot.refresh();
        announce(`${gone.title} is out of the run.`);
      } catch (err) {
        put(wrong, sayError(err));
      }
    } }, 'Take it out of the run'), wrong);
  }
}
