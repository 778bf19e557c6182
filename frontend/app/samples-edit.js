import { h } from '../parts/h.js';
import { openForm } from '../parts/open-dialog.js';
import '../parts/form-field.js';
import '../parts/length-field.js';
import '../parts/gauge-field.js';
import '../parts/amount-field.js';
import '../parts/entry-form.js';
import * as api from './api.js';
import { announce } from './shell.js';
import { PURPOSES } from './samples-words.js';

/** @typedef {import('./samples.js').Shelf} Shelf */
/** @typedef {import('../shapes-filming.js').Sample} Sample */

/**
 * A new sample, or the gauge and details of one that is there.
 * @param {Shelf} shelf @param {Sample | null} s
 */
export function editSample(shelf, s) {
  const once = new api.OnceKey();
  const { design, view } = shelf;
  const unit = design.gauge.unit;
  const filmed = design.sizes.find((z) => z.filmed)?.id;
  openForm({ title: s ? s.label : 'Add a sample', say: s ? 'Save' : 'Add', gone: view.gone, save, done },
    !s || shelf.mayMake ? [
      h('form-field', { name: 'label', label: 'Called', required: true, maxlength: 120, autocomplete: 'off', hint: 'How you tell it from the others: the grey one.', value: s?.label }),
      h('div', { class: 'side' },
        h('form-field', { name: 'size_id', label: 'Size', kind: 'select', quiet: true, '.options': design.sizes.map((z) => [z.id, z.name]), value: s?.size_id ?? filmed }),
        h('form-field', { name: 'purpose', label: 'What it is for', kind: 'select', quiet: true, '.options': PURPOSES, value: s?.purpose }),
        h('form-field', { name: 'version_id', label: 'Made from', kind: 'select', quiet: true, '.options': [['', 'not known'], ...[...design.versions].reverse().map((v) => [v.id, `version ${v.number}`])], value: s ? s.version_id || '' : design.versions.at(-1)?.id }))] : null,
    s ? null : [
      h('form-field', { name: 'held_by', label: 'With', kind: 'select', quiet: true, '.options': [['', 'nobody of the studio'], ...shelf.people.map((p) => [p.id, p.handle])], value: view.me.id }),
      h('form-field', { name: 'held_note', label: 'Where it lies', maxlength: 500, autocomplete: 'off' })],
    h('gauge-field', { name: 'before', label: 'Gauge before washing', partial: true, unit, '.value': s?.before }),
    h('gauge-field', { name: 'after', label: 'Gauge after washing', partial: true, unit, '.value': s?.after }),
    h('amount-field', { name: 'yarn', label: 'Yarn used', '.value': s?.yarn ?? null }));

  /** @param {Record<string, any>} values */
  async function save(values) {
    const body = tidy(values, s);
    return s ? api.patch(`/samples/${s.id}`, body, { revision: s.revision }) : api.post(`${shelf.path}/samples`, body, { key: once.for(body) });
  }

  /** @param {Sample} now */
  async function done(now) {
    await shelf.refresh();
    announce(s ? `${now.label} is changed.` : `${now.label} is added.`);
  }
}

/**
 * What is empty is cleared on a sample that is there, and left out of a new one.
 * @param {Record<string, any>} values @param {Sample | null} s
 */
function tidy(values, s) {
  const body = { ...values };
  for (const key of ['before', 'after']) {
    if (body[key]) body[key] = Object.fromEntries(Object.entries(body[key]).filter(([, v]) => v !== null));
  }
  for (const key of ['version_id', 'held_by', 'before', 'after', 'yarn']) {
    if (!(key in body) || body[key]) continue;
    if (s) body[key] = null;
    else delete body[key];
  }
  return body;
}

/** @param {Shelf} shelf @param {Sample} s */
export function editMeasurements(shelf, s) {
  const { design, view } = shelf;
  const of = new Map(s.measurements.map((m) => [m.point_id, m.length]));
  const fields = design.points.map((p) => h('length-field', { label: p.name, hint: p.how_to_measure || undefined, unit: view.me.unit, 'data-point': p.id, '.value': of.get(p.id) ?? null }));
  openForm({
    title: `${s.label}: finished measurements`, say: 'Save', gone: view.gone,
    save: async () => {
      for (const f of fields) f.removeAttribute('name');
      const measurements = fields.filter((f) => f.value).map((f, i) => {
        f.setAttribute('name', `measurements[${i}]`);
        return { point_id: f.getAttribute('data-point'), ...f.value };
      });
      return api.put(`/samples/${s.id}/measurements`, { measurements }, { revision: s.revision });
    },
    done: async () => { await shelf.refresh(); announce(`${s.label} is measured.`); },
  }, fields.length ? fields : h('p', {}, 'The design has no points of measure yet.'));
}
