import { h } from '../parts/h.js';
import { openForm } from '../parts/open-dialog.js';
import '../parts/form-field.js';
import '../parts/entry-form.js';
import * as api from './api.js';
import { announce } from './shell.js';
import { KINDS, saySource, sayUnit } from './schedule-words.js';
import { word } from './words.js';

/** @param {import('./schedule.js').Table} table */
export function editEstimates(table) {
  const rows = table.plan.estimates.map((e) => {
    const stated = e.source === 'stated';
    const field = (/** @type {'low'|'likely'|'high'} */ part, /** @type {string} */ label) => h('form-field', { label, kind: 'number', min: '0', step: 'any', inputmode: 'decimal', 'data-part': part, value: stated ? String(e[part]) : undefined });
    const fields = [field('low', 'At best'), field('likely', 'Usually'), field('high', 'At worst')];
    return { e, fields, row: h('fieldset', {}, h('legend', {}, `${word(KINDS, e.kind)}, ${sayUnit(stated || e.unit !== 'days' || e.kind === 'reports' ? e : { ...e, unit: 'hours' })}`),
      stated ? null : h('p', { class: 'hint' }, `Now ${e.low}, ${e.likely}, ${e.high} ${e.unit === 'times' ? '' : e.unit}, ${saySource(e)}.`), h('div', { class: 'side three' }, fields)) };
  });
  openForm({ title: 'Estimates for this design', say: 'Save', gone: table.view.gone, save, done: async () => { await table.refresh(); announce('The estimates are saved.'); } },
    h('p', { class: 'soft' }, 'What is left empty goes on as the studio has learned it.'), rows.map((r) => r.row));

  async function save() {
    const estimates = [];
    for (const { e, fields } of rows) {
      for (const f of fields) f.removeAttribute('name');
      if (fields.every((f) => f.value === null)) continue;
      for (const f of fields) f.setAttribute('name', `estimates[${estimates.length}].${f.getAttribute('data-part')}`);
      const [low, likely, high] = fields.map((f) => f.value);
      if (low === null || likely === null || high === null) {
        const empty = fields.find((f) => f.value === null);
        empty.setError('Give all three, or none.');
        empty.focus();
        throw new Error('An estimate has three numbers.');
      }
      estimates.push({ kind: e.kind, low, likely, high });
    }
    return api.put(`${table.path}/estimates`, { estimates }, { revision: table.plan.revision });
  }
}
