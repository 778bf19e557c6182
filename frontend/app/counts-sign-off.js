// The tech editor's word on a version.
import { h, put } from '../parts/h.js';
import { sayMoment } from '../parts/dates.js';
import { openForm } from '../parts/open-dialog.js';
import '../parts/entry-form.js';
import '../parts/form-field.js';
import * as api from './api.js';
import { sayError } from './problem.js';
import { announce } from './shell.js';
import { hasRole } from './session.js';

/** @typedef {import('../shapes-counts.js').SignOffs} SignOffs */

export class SignOffPanel {
  #body = h('div', {}, h('p', { class: 'soft' }, 'One moment.'));
  root = h('section', { class: 'sec', id: 'sign-off', 'aria-labelledby': 'sign-off-title' }, h('h2', { id: 'sign-off-title' }, 'Tech editor\'s sign-off'), this.#body);

  /** @param {string} versionID @param {import('../shapes.js').View} view @param {() => boolean} unsaved */
  constructor(versionID, view, unsaved) {
    this.path = `/versions/${versionID}/sign-off`;
    this.view = view;
    this.unsaved = unsaved;
  }

  async load() {
    try {
      this.#draw(await api.get(this.path, { signal: this.view.gone }));
    } catch (err) {
      if (!this.view.gone.aborted) put(this.#body, h('p', { class: 'pin', role: 'alert' }, sayError(err)));
    }
  }

  /** @param {SignOffs} s */
  #draw(s) {
    put(this.#body, s.standing ? this.#standing(s) : this.#open(s), this.#earlier(s));
  }

  /** @param {SignOffs} s */
  #standing(s) {
    const on = /** @type {NonNullable<SignOffs['standing']>} */ (s.standing);
    return [
      h('p', {}, h('b', {}, `Version ${s.version.number} is signed off`), ` by ${on.name || 'somebody who is no longer here'} on ${sayMoment(on.signed_at, this.view.settings.zone)}.`, on.note ? ` ${on.note}` : ''),
      answers(on.answers), h('p', { class: 'soft' }, 'Any later change of the counts, the sizes, the points or the gauge withdraws it.'),
      hasRole(this.view.me, 'designer', 'tech_editor') ? h('div', { class: 'acts no-print' }, h('button', { type: 'button', onclick: () => this.#withdraw() }, 'Withdraw the sign-off')) : null,
    ];
  }

  /** @param {SignOffs} s */
  #open(s) {
    const n = s.failures.length;
    const state = n ? `${n === 1 ? 'One failure needs' : `${n} failures need`} an answer in writing first, or the counts mending.` : s.ready ? 'Nothing in the sheet fails.' : 'There are no counts to sign off yet.';
    const intro = h('p', {}, `Version ${s.version.number} is not signed off. `, state);
    if (!hasRole(this.view.me, 'tech_editor')) return [intro, failures(s), h('p', { class: 'soft' }, 'A tech editor signs it off here.')];
    if (!s.ready && n === 0) return intro;
    return [intro, h('entry-form', { class: 'narrow', say: `Sign off version ${s.version.number}`, '.save': (/** @type {Record<string, any>} */ values) => this.#sign(s, values) },
      s.failures.map((f, i) => h('form-field', { name: `answers[${i}].answer`, label: f.message, kind: 'area', rows: 2, required: true, hint: 'Why it may stand.', value: said(s, f) })),
      h('form-field', { name: 'note', label: 'Note', kind: 'area', rows: 2 }))];
  }

  /** @param {SignOffs} s @param {Record<string, any>} values */
  async #sign(s, values) {
    if (this.unsaved()) throw new Error('Save the sheet first: what is signed is what was saved.');
    const given = s.failures.map((f, i) => ({ kind: f.kind, name: f.name, size: f.size, answer: values[`answers[${i}].answer`] }));
    await api.post(this.path, { note: values.note, answers: given }, { revision: s.revision });
    announce(`Version ${s.version.number} is signed off.`);
    await this.load();
  }

  #withdraw() {
    openForm({
      title: 'Withdraw the sign-off', say: 'Withdraw', gone: this.view.gone,
      save: (values) => api.post(`${this.path}/withdraw`, values),
      done: () => { announce('The sign-off is withdrawn.'); return this.load(); },
    }, h('form-field', { name: 'why', label: 'Why', kind: 'area', required: true }));
  }

  /** @param {SignOffs} s */
  #earlier(s) {
    if (s.earlier.length === 0) return null;
    const zone = this.view.settings.zone;
    return h('details', {}, h('summary', {}, s.earlier.length === 1 ? 'One earlier sign-off was withdrawn' : `${s.earlier.length} earlier sign-offs were withdrawn`),
      h('ul', { class: 'plain rows' }, s.earlier.map((e) => h('li', {}, `${e.name || 'somebody'}, ${sayMoment(e.signed_at, zone)}; withdrawn ${sayMoment(e.withdrawn_at, zone)}: ${e.withdrawn_why}`, answers(e.answers)))));
  }
}

/** What was answered to the same failure before, to start from. @param {SignOffs} s @param {{kind: string, name: string, size: string}} f */
function said(s, f) {
  return s.earlier.flatMap((e) => e.answers).find((a) => a.kind === f.kind && a.name === f.name && a.size === f.size)?.answer;
}

/** @param {SignOffs} s */
const failures = (s) => (s.failures.length ? h('ul', {}, s.failures.map((f) => h('li', { class: 'finding' }, f.message))) : null);

/** @param {{message: string, answer: string}[]} list */
const answers = (list) => (list.length ? h('dl', { class: 'answers' }, list.map((a) => [h('dt', {}, a.message), h('dd', {}, a.answer)])) : null);
