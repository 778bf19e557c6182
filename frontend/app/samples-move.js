import { h, put } from '../parts/h.js';
import { openForm } from '../parts/open-dialog.js';
import '../parts/form-field.js';
import '../parts/entry-form.js';
import * as api from './api.js';
import { announce } from './shell.js';
import { goesBack, sayHolder, sayWorked, warningsFor } from './samples-words.js';

/** @typedef {import('./samples.js').Shelf} Shelf */
/** @typedef {import('../shapes-filming.js').Sample} Sample */

/**
 * Working on and handing over in one form. It warns before an unrecorded
 * installment is passed, and asks for ripping back to be said.
 * @param {Shelf} shelf @param {Sample} s
 */
export function moveSample(shelf, s) {
  const warnings = h('div', { class: 'warnings', role: 'status' });
  const through = h('form-field', {
    name: 'worked_through', label: 'Worked through', kind: 'select', quiet: true, value: s.worked_through || '', onchange: () => warn(),
    '.options': [['', 'before the end of the first'], ...shelf.run.map((n) => [n.id, `${n.position}, ${n.title}${n.state === 'unrecorded' ? ' (unrecorded)' : ''}`])],
  });
  const beyond = h('form-field', { name: 'worked_note', label: 'What was worked beyond that', maxlength: 500, autocomplete: 'off', value: s.worked_note });
  const ripped = h('check-field', { name: 'ripped_back', label: 'It was ripped back to here', hidden: true });
  const dialog = openForm({ title: s.label, say: 'Save', gone: shelf.view.gone, save, done },
    h('p', { class: 'soft' }, `Now: ${sayWorked(s.worked_through, s.worked_note, shelf.run)}; ${sayHolder(s)}.`),
    shelf.run.length ? through : null, warnings, ripped,
    beyond,
    h('form-field', { name: 'held_by', label: 'With', kind: 'select', quiet: true, value: s.held_by?.id || '', '.options': [['', 'nobody of the studio'], ...shelf.people.map((p) => [p.id, p.handle])] }),
    h('form-field', { name: 'held_note', label: 'Where it lies', maxlength: 500, autocomplete: 'off', value: s.held_note }),
    h('form-field', { name: 'note', label: 'Note', kind: 'area', maxlength: 1000 }));

  function warn() {
    const to = through.value || null;
    // What was worked beyond one installment says nothing about another.
    if (beyond.value === s.worked_note || beyond.value === '') beyond.value = to === s.worked_through ? s.worked_note : '';
    const found = warningsFor(s, to, shelf.samples, shelf.run);
    put(warnings, found.map((w) => h('p', { class: 'note bad' }, w)));
    ripped.hidden = !goesBack(s, to, shelf.run);
    if (ripped.hidden) ripped.value = false;
    const button = dialog.querySelector('button.main');
    if (button) button.textContent = found.length ? 'Work past it all the same' : 'Save';
  }

  /** @param {Record<string, any>} values */
  async function save(values) {
    const to = shelf.run.length ? values.worked_through || null : s.worked_through;
    if (goesBack(s, to, shelf.run) && !values.ripped_back) {
      ripped.setError('Tick this when the work was taken back; otherwise choose where it really is.');
      ripped.focus();
      throw new Error('The sample would go back.');
    }
    return api.post(`/samples/${s.id}/moves`, changed(values, to), { revision: s.revision });
  }

  /** Only what differs: a move that changes nothing is none. @param {Record<string, any>} values @param {string | null} to */
  function changed(values, to) {
    /** @type {Record<string, any>} */
    const body = {};
    if (to !== s.worked_through) body.worked_through = to;
    if (values.worked_note !== s.worked_note || 'worked_through' in body) body.worked_note = values.worked_note;
    if ((values.held_by || null) !== (s.held_by?.id || null)) body.held_by = values.held_by || null;
    if (values.held_note !== s.held_note || 'held_by' in body) body.held_note = values.held_note;
    if (values.ripped_back) body.ripped_back = true;
    if (values.note) body.note = values.note;
    return body;
  }

  /** @param {Sample} now */
  async function done(now) {
    await shelf.refresh();
    announce([`${s.label}: ${sayWorked(now.worked_through, now.worked_note, shelf.run)}; ${sayHolder(now)}.`, ...(now.warnings || [])].join(' '));
  }
}
