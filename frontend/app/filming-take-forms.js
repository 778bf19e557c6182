import { h } from '../parts/h.js';
import { openForm } from '../parts/open-dialog.js';
import { readLasting, readTimeCode, writeLasting } from '../parts/time-code.js';
import '../parts/form-field.js';
import '../parts/entry-form.js';
import * as api from './api.js';
import { announce } from './shell.js';
import { REMEDIES } from './filming-steps.js';

/** @typedef {import('./filming.js').Shoot} Shoot */
/** @typedef {import('../shapes-filming.js').Installment} Installment */
/** @typedef {import('../shapes-filming.js').Take} Take */
/** @typedef {import('../shapes-filming.js').Slip} Slip */

/** @param {Shoot} shoot @param {Installment} n @param {Take | null} t */
export function editTake(shoot, n, t) {
  const once = new api.OnceKey();
  const camera = shoot.samples.filter((s) => !s.retired || s.id === t?.sample?.id);
  const lasting = h('form-field', { 'data-at': 'seconds', label: 'How long', autocomplete: 'off', hint: 'Minutes and seconds, 25:10.', value: writeLasting(t?.seconds ?? null) });
  openForm({ title: t ? `Take ${t.number} of ${n.title}` : `A take of ${n.title}`, say: t ? 'Save' : 'Note it', gone: shoot.view.gone, save, done },
    h('div', { class: 'side' }, h('form-field', { name: 'recorded_on', label: 'Recorded on', kind: 'date', required: true, value: t?.recorded_on ?? shoot.view.settings.today }), lasting),
    h('form-field', { name: 'sample_id', label: 'With', kind: 'select', quiet: true, '.options': [['', 'no sample'], ...camera.map((s) => [s.id, s.label])], value: t ? t.sample?.id || '' : n.sample?.id || '' }),
    h('form-field', { name: 'note', label: 'Note', kind: 'area', maxlength: 2000, value: t?.note }));

  /** @param {Record<string, any>} values */
  async function save(values) {
    const seconds = lasting.empty() ? null : readLasting(lasting.value);
    if (!lasting.empty() && seconds === null) {
      lasting.setError('This is not a length of time. Write it like 25:10.');
      lasting.focus();
      throw new Error('How long the take is can’t be read.');
    }
    const body = { ...values, seconds, sample_id: values.sample_id || null };
    if (t) return api.patch(`/takes/${t.id}`, body, { revision: t.revision });
    const made = Object.fromEntries(Object.entries(body).filter(([, v]) => v !== null));
    return api.post(`/installments/${n.id}/takes`, made, { key: once.for(made) });
  }

  /** @param {Take} now */
  async function done(now) {
    await shoot.refresh();
    announce(t ? `Take ${now.number} is changed.` : `Take ${now.number} is noted. Accept it when it was looked through.`);
  }
}

/** @param {Shoot} shoot @param {Take} t @param {Slip | null} s */
export function editSlip(shoot, t, s) {
  const once = new api.OnceKey();
  openForm({ title: s ? `Slip at ${s.at}` : `A slip in take ${t.number}`, say: s ? 'Save' : 'Note it', gone: shoot.view.gone, save, done },
    h('form-field', { name: 'at', label: 'Where in the take', required: true, autocomplete: 'off', hint: 'Time code, 12:04 or 1:02:03.5.', value: s?.at }),
    h('form-field', { name: 'wrong', label: 'What was said or shown', kind: 'area', required: true, maxlength: 1000, value: s?.wrong }),
    h('form-field', { name: 'should_be', label: 'What it should be', kind: 'area', maxlength: 1000, value: s?.should_be }),
    h('form-field', { name: 'remedy', label: 'Remedy', kind: 'select', quiet: true, hint: 'To record again takes the installment back to unrecorded until it is mended.', '.options': Object.entries(REMEDIES), value: s?.remedy }));

  /** @param {Record<string, any>} values @param {any} form */
  async function save(values, form) {
    if (readTimeCode(values.at) === null) {
      const field = form.fields.find((/** @type {any} */ f) => f.name === 'at');
      field.setError('This is not a time code. Write it like 12:04.');
      field.focus();
      throw new Error('The time code can’t be read.');
    }
    const body = { ...values, at: values.at.trim().replace(',', '.') };
    return s ? api.patch(`/slips/${s.id}`, body, { revision: s.revision }) : api.post(`/takes/${t.id}/slips`, body, { key: once.for(body) });
  }

  /** @param {Slip} now */
  async function done(now) {
    await shoot.refresh();
    announce(`The slip at ${now.at} is noted.`);
  }
}
