import { h, put } from '../parts/h.js';
import '../parts/form-field.js';
import '../parts/entry-form.js';
import * as api from './api.js';
import { announce } from './shell.js';
import { sayError } from './problem.js';

/** @typedef {import('./schedule.js').Table} Table */
/** @typedef {import('../shapes-schedule.js').Tried} Tried */

/**
 * Trying a change before it is saved: another air date, one more sample, more
 * hours. @param {Table} table
 */
export function whatIf(table) {
  const open = table.run.filter((n) => n.state !== 'aired');
  const air = open.map((n) => ({ n, field: h('form-field', { 'data-at': `air_on[${n.id}]`, label: `${n.position}. ${n.title} airs on`, kind: 'date', value: n.air_on || undefined }) }));
  const people = table.plan.people.map((p) => ({ p, field: h('form-field', { label: `Hours a day of ${p.handle}`, kind: 'number', min: '0.25', max: '24', step: 'any', inputmode: 'decimal', hint: p.days.join(', '), value: String(p.hours_per_day) }) }));
  const sample = h('form-field', { label: 'One more sample for the camera', kind: 'select', quiet: true, '.options': [['none', 'none'], ['', 'at the beginning'], ...table.states.map((x) => [x.id, `worked to ${x.words}`])], value: 'none' });
  const result = h('div', { role: 'status', class: 'tried' });
  return h('section', { class: 'sec no-print', 'aria-labelledby': 'try-title' }, h('h2', { id: 'try-title' }, 'What if'),
    h('p', { class: 'soft' }, 'Change something here and see what it does. Nothing is saved until you say so.'),
    h('entry-form', { say: 'Try it', '.save': attempt },
      h('div', { class: 'side' }, air.map((a) => a.field)), h('div', { class: 'side' }, people.map((p) => p.field)), sample), result);

  function wishes() {
    /** @type {Record<string, any>} */
    const body = {};
    const moved = air.filter(({ n, field }) => (field.value || null) !== n.air_on);
    if (moved.length) body.air_on = moved.map(({ n, field }) => ({ installment_id: n.id, air_on: field.value || null }));
    const changed = people.filter(({ p, field }) => field.value !== null && field.value !== p.hours_per_day);
    if (changed.length) body.people = changed.map(({ p, field }) => ({ person_id: p.person_id, hours_per_day: field.value }));
    if (sample.value !== 'none') body.samples = [sample.value ? { state: sample.value } : {}];
    return body;
  }

  async function attempt() {
    const body = wishes();
    if (Object.keys(body).length === 0) {
      put(result, h('p', {}, 'Nothing is changed yet.'));
      return;
    }
    /** @type {Tried} */
    const tried = await api.post(`${table.path}/schedule/try`, body);
    put(result, h('h3', {}, 'Then'), h('ul', {}, tried.changes.map((c) => h('li', {}, c))),
      table.mayPlan ? h('div', { class: 'acts' }, h('button', { type: 'button', class: 'main', onclick: () => keep(body) }, body.samples ? 'Save days and hours, and add the sample' : 'Save it')) : null);
  }

  /** @param {Record<string, any>} body */
  async function keep(body) {
    try {
      for (const a of body.air_on || []) {
        const n = await api.get(`/installments/${a.installment_id}`);
        await api.patch(`/installments/${a.installment_id}`, { air_on: a.air_on }, { revision: n.revision });
      }
      for (const p of body.people || []) {
        const work = await api.get(`/people/${p.person_id}/work`);
        /** @type {Record<string, any>} */
        const next = { days: work.days, hours_per_day: p.hours_per_day, away: work.away };
        if (work.stitches_per_hour) next.stitches_per_hour = work.stitches_per_hour;
        await api.put(`/people/${p.person_id}/work`, next, { revision: work.revision });
      }
      for (const x of body.samples || []) {
        const size = table.design.sizes.find((z) => z.filmed) || table.design.sizes[0];
        await api.post(`${table.path}/samples`, { label: 'another sample', purpose: 'camera', size_id: size.id, ...(x.state ? { state: x.state } : {}) });
      }
      put(result, h('p', { class: 'leaf' }, 'It is saved.'));
      announce('It is saved.');
      await table.refresh();
    } catch (err) {
      put(result, h('p', { class: 'error', role: 'alert' }, sayError(err)));
    }
  }
}
