import { h, put } from '../parts/h.js';
import { measureDrawing, measureWords } from '../parts/measure-drawing.js';
import { sayMoment } from '../parts/dates.js';
import '../parts/tape-field.js';
import '../parts/gauge-field.js';
import '../parts/amount-field.js';
import '../parts/form-field.js';
import '../parts/entry-form.js';
import * as api from './api.js';
import { announce } from './shell.js';
import { reload } from './router.js';
import { Problem } from './problem.js';
import { DraftKeeper, draftKey, differs } from './my-draft.js';
import { RemarkRows } from './my-remarks.js';
import { UnitSwitch } from './my-unit.js';
import { SlipCheck } from './my-check.js';
import { askedNote, isAsked } from './my-asked.js';

/** @typedef {import('./my-assignment.js').Mine} Mine */
/** @typedef {import('../parts/tape-field.js').TapeField} TapeField */

const OFFLINE = 'There is no network just now. Everything that you typed is kept on this phone; send it when the network is back.';

/** The report's form: drafted as it is typed, asked about slips, then sent. */
export class ReportForm {
  #once = new api.OnceKey();
  /** What the form said at first. @type {import('./my-draft.js').Draft} */
  #first = { at: '', fields: {}, remarks: [] };

  /** @param {Mine} mine @param {import('../shapes.js').View} view */
  constructor(mine, view) {
    this.mine = mine;
    this.view = view;
    const { me } = view;
    this.keeper = new DraftKeeper(draftKey(me.id, mine.id), localStorage);
    this.points = /** @type {TapeField[]} */ (mine.points.map((p) => h('tape-field', {
      'data-draft': p.id, label: p.name, required: isAsked(mine, p.id), hint: p.how_to_measure || measureWords(p), unit: me.unit, '.drawn': measureDrawing(p) })));
    this.swatch = h('gauge-field', { 'data-draft': 'swatch', name: 'swatch', label: 'My swatch', partial: true, required: isAsked(mine, null), unit: me.unit, inputmode: 'decimal', hint: 'Counted on the washed swatch. Leave it empty when you made none.' });
    this.yarn = h('amount-field', { 'data-draft': 'yarn', name: 'yarn', label: 'Yarn used' });
    this.hours = h('form-field', { 'data-draft': 'hours', name: 'hours', label: 'Hours of work', kind: 'number', min: 0, max: 10000, step: 'any', inputmode: 'decimal' });
    this.note = h('form-field', { 'data-draft': 'note', name: 'note', label: 'Remarks on the whole', kind: 'area', maxlength: 4000 });
    this.remarks = new RemarkRows(mine.remarks, () => this.#keep());
    this.kept = h('p', { class: 'kept soft' });
    this.check = new SlipCheck(mine, this.points);
    this.element = h('div', { class: 'my-form', oninput: () => this.#keep(), onchange: (/** @type {Event} */ e) => this.#changed(e), onsay: (/** @type {CustomEvent} */ e) => announce(e.detail) },
      this.kept,
      h('entry-form', { say: this.#sendWords, '.save': () => this.#send() },
        askedNote(mine, null, 'your swatch'), this.swatch,
        h('h3', {}, 'Finished measurements'),
        h('p', { class: 'soft' }, 'Lay it flat without stretching. Leave out what you can’t measure.'),
        new UnitSwitch(me.unit, this.points).element, this.points.map((f) => [askedNote(mine, f.getAttribute('data-draft'), 'this'), f]), this.yarn, this.hours, this.note, this.remarks.element));
    this.#fill();
    addEventListener('online', () => this.#online(), { signal: view.gone });
  }

  get #fields() { return [this.swatch, ...this.points, this.yarn, this.hours, this.note]; }

  #fill() {
    const sent = this.mine.report;
    if (sent) {
      const of = new Map(sent.measurements.map((m) => [m.point_id, m.length]));
      for (const f of this.points) if (of.has(f.getAttribute('data-draft') || '') && !f.required) f.value = of.get(f.getAttribute('data-draft') || '') || null;
      if (sent.swatch && !this.swatch.required) this.swatch.value = sent.swatch;
      [this.yarn.value, this.hours.value, this.note.value] = [sent.yarn, sent.hours, sent.note];
    }
    this.#first = this.#draft();
    const draft = this.keeper.read(Date.now());
    this.hasDraft = Boolean(draft && differs(draft, this.#first));
    if (!draft || !this.hasDraft) return;
    for (const f of this.#fields) setDraft(f, draft.fields[f.getAttribute('data-draft')]);
    this.remarks.value = draft.remarks;
    put(this.kept, `Not sent yet: what you typed until ${sayMoment(draft.at, this.view.settings.zone)} is filled in. `,
      h('button', { type: 'button', onclick: () => { this.keeper.forget(); reload(); } }, 'Start afresh'));
  }

  /** @returns {import('./my-draft.js').Draft} */
  #draft() {
    return { at: new Date().toISOString(), fields: Object.fromEntries(this.#fields.map((f) => [f.getAttribute('data-draft'), getDraft(f)])), remarks: this.remarks.value };
  }

  #keep() {
    const draft = this.#draft();
    if (!differs(draft, this.#first)) { this.keeper.forget(); put(this.kept); return; }
    const kept = this.keeper.keep(draft);
    put(this.kept, kept ? 'Not sent yet; kept on this phone as you type.' : 'Not sent yet, and this browser keeps no drafts: send it before you leave the page.');
  }

  /** @param {Event} e */
  #changed(e) {
    this.#keep();
    if (!/** @type {Element} */ (e.target).closest('tape-field')) return;
    this.#sayOnSend(this.#sendWords); // the number that was asked about may be another now
    this.check.soon(this.#measured(), this.#swatch);
  }

  get #sendWords() { return this.mine.report ? 'Send the correction' : 'Send my report'; }

  /** @param {string} words */
  #sayOnSend(words) {
    const button = this.element.querySelector('entry-form button.main');
    if (button) button.textContent = words;
  }

  #online() {
    if (!this.keeper.read(Date.now())) return;
    announce('The network is back. Your report is not sent yet.');
    put(this.kept, 'The network is back. Your report is not sent yet: press the button at the end.');
  }

  /** What was counted; a count that was left out is not sent. */
  get #swatch() {
    const g = this.swatch.value;
    return g && Object.fromEntries(Object.entries(g).filter(([, v]) => v !== null));
  }

  /** The measurements that were typed; each field is named by its place among them, for the server's word on it. @returns {import('./my-check.js').Measured[]} */
  #measured() {
    return this.points.filter((f) => !f.empty() && f.value).map((f, i) => {
      f.setAttribute('name', `measurements[${i}]`);
      return { point_id: f.getAttribute('data-draft') || '', .../** @type {import('../parts/lengths.js').Length} */ (f.value) };
    });
  }

  async #send() {
    for (const f of this.points) f.removeAttribute('name');
    const measurements = this.#measured();
    const swatch = this.#swatch;
    if (measurements.length === 0 && !swatch) throw new Error('There is nothing to send yet: fill in a measurement or the swatch.');
    if (!await this.check.passes(measurements, swatch)) {
      this.#sayOnSend('Send it as it is');
      return;
    }
    const body = {
      ...(swatch && { swatch }), measurements, ...(this.yarn.value && { yarn: this.yarn.value }), ...(this.hours.value !== null && { hours: this.hours.value }),
      note: this.note.value, remarks: this.remarks.filled, ...(this.mine.report && { corrects: this.mine.report.number }),
    };
    try {
      await api.post(`/assignments/${this.mine.id}/reports`, body, { key: this.#once.for(body) });
    } catch (err) {
      if (err instanceof Problem && err.status === 0) throw new Error(OFFLINE);
      if (err instanceof Problem && err.status === 401) throw new Error('You were signed out meanwhile. What you typed is kept on this phone: sign in again, then send it.');
      throw err;
    }
    this.keeper.forget();
    announce('Your report is sent. Thank you.');
    reload();
  }
}

/** What stands in a field, readable or not. @param {any} f */
const getDraft = (f) => ('draft' in f ? f.draft : (f.build(), f.controls.map((/** @type {any} */ c) => c.value)));

/** @param {any} f @param {any} kept */
function setDraft(f, kept) {
  if (!Array.isArray(kept)) return;
  if ('draft' in f) f.draft = kept;
  else { f.build(); f.controls.forEach((/** @type {any} */ c, /** @type {number} */ i) => { if (kept[i] !== undefined) c.value = kept[i]; }); }
}
