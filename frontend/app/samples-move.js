import { h, put } from '../parts/h.js';
import { openForm } from '../parts/open-dialog.js';
import '../parts/form-field.js';
import '../parts/entry-form.js';
import * as api from './api.js';
import { announce } from './shell.js';
import { sayHours } from './filming-words.js';
import { sayHolder, sayPlace, sayWorked } from './samples-words.js';

/** @typedef {import('./samples.js').Shelf} Shelf */
/** @typedef {import('../shapes-filming.js').Sample} Sample */
/** @typedef {import('../shapes-shots.js').Ahead} Ahead */

/**
 * Working on and handing over in one form. It says what each state would cost
 * before it is chosen: what could not be shown any more, the hours of making to
 * get there, and those that ripping back would lose.
 * @param {Shelf} shelf @param {Sample} s
 */
export async function moveSample(shelf, s) {
  /** @type {Ahead[]} */
  const ahead = (await api.get(`/samples/${s.id}/ahead`, { signal: shelf.view.gone })).items;
  const here = ahead.find((a) => a.here) || ahead[0];
  const warnings = h('div', { class: 'warnings', role: 'status' });
  const state = h('form-field', {
    'data-at': 'state', label: 'Worked to', kind: 'select', quiet: true, value: here.state_id || '', onchange: () => warn(),
    '.options': ahead.map((a) => [a.state_id || '', `${a.words}${a.here ? ', where it is' : a.warnings.length ? ', past what is unrecorded' : ''}`]),
  });
  const beyond = h('form-field', { name: 'worked_note', label: 'What was worked beyond that', maxlength: 500, autocomplete: 'off', value: s.worked_note });
  const ripped = h('check-field', { name: 'ripped_back', label: 'It was ripped back to here', hidden: true });
  const hours = h('form-field', { name: 'hours', label: 'Hours of making', kind: 'number', min: '0.01', step: 'any', inputmode: 'decimal', hint: 'From them the studio learns how fast you make.' });
  const dialog = openForm({ title: s.label, say: 'Save', gone: shelf.view.gone, save, done },
    h('p', { class: 'soft' }, `Now: ${sayPlace(s, shelf)}; ${sayHolder(s)}.`),
    ahead.length > 1 ? state : null, warnings, ripped, beyond, hours,
    h('form-field', { name: 'held_by', label: 'With', kind: 'select', quiet: true, value: s.held_by?.id || '', '.options': [['', 'nobody of the studio'], ...shelf.people.map((p) => [p.id, p.handle])] }),
    h('form-field', { name: 'held_note', label: 'Where it lies', maxlength: 500, autocomplete: 'off', value: s.held_note }),
    h('form-field', { name: 'note', label: 'Note', kind: 'area', maxlength: 1000 }));

  function chosen() { return ahead.find((a) => (a.state_id || '') === state.value) || here; }

  function warn() {
    const to = chosen();
    // What was worked beyond one state says nothing about another.
    if (beyond.value === s.worked_note || beyond.value === '') beyond.value = to.here ? s.worked_note : '';
    put(warnings,
      to.warnings.map((w) => h('p', { class: 'note bad' }, w)),
      to.back ? h('p', { class: 'note' }, `Ripping back to ${to.words} loses ${to.hours ? `about ${sayHours(to.hours)} of making` : 'work whose hours nobody has said'}.`)
        : !to.here && to.hours ? h('p', { class: 'soft' }, `About ${sayHours(to.hours)} of making from where it is.`) : null);
    ripped.hidden = !to.back;
    hours.hidden = to.back;
    if (ripped.hidden) ripped.value = false;
    const button = dialog.querySelector('button.main');
    if (button) button.textContent = to.warnings.length ? 'Work past it all the same' : to.back ? 'Rip it back' : 'Save';
  }

  /** @param {Record<string, any>} values */
  async function save(values) {
    const to = chosen();
    if (to.back && !values.ripped_back) {
      ripped.setError('Tick this when the work was taken back; otherwise choose where it really is.');
      ripped.focus();
      throw new Error('The sample would go back.');
    }
    return api.post(`/samples/${s.id}/moves`, changed(values, to), { revision: s.revision });
  }

  /** Only what differs: a move that changes nothing is none. @param {Record<string, any>} values @param {Ahead} to */
  function changed(values, to) {
    /** @type {Record<string, any>} */
    const body = {};
    if (!to.here) body.state = to.state_id;
    if (values.worked_note !== s.worked_note || 'state' in body) body.worked_note = values.worked_note;
    if ((values.held_by || null) !== (s.held_by?.id || null)) body.held_by = values.held_by || null;
    if (values.held_note !== s.held_note || 'held_by' in body) body.held_note = values.held_note;
    if (values.ripped_back) body.ripped_back = true;
    else if (values.hours) body.hours = values.hours;
    if (values.note) body.note = values.note;
    return body;
  }

  /** @param {Sample} now */
  async function done(now) {
    await shelf.refresh();
    announce([`${s.label}: ${sayWorked(now.worked_through, now.worked_note, shelf.run, shelf.stateWords(now.state_id))}; ${sayHolder(now)}.`, ...(now.warnings || [])].join(' '));
  }
}
