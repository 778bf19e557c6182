import { h, put } from '../parts/h.js';
import { openForm } from '../parts/open-dialog.js';
import '../parts/form-field.js';
import '../parts/entry-form.js';
import * as api from './api.js';
import { announce } from './shell.js';
import { sayError } from './problem.js';
import { sayClock } from './sheet-clock.js';
import { REMEDIES } from './filming-steps.js';

/** @typedef {import('./filming-sheet.js').Desk} Desk */
/** @typedef {import('../shapes-shots.js').SheetShot} SheetShot */
/** @typedef {import('../shapes-filming.js').Take} Take */

/**
 * The clock beside the camera. It starts with the recording; a shot is stamped
 * when it begins, and a slip is caught with the place where it was heard. Every
 * stamp is written at once; one that could not be written is kept and sent
 * again with the next.
 */
export class Recorder {
  /** @type {string} the take that is being recorded */
  take = '';
  #since = 0;
  #timer = 0;
  #face = h('span', { class: 'clock mono', role: 'timer', 'aria-live': 'off' }, '0:00');
  #wrong = h('p', { class: 'error', role: 'alert' });
  /** @type {Map<string, Record<string, any>>} stamps that are not written yet, by shot */
  #waiting = new Map();
  #chain = Promise.resolve();

  /** @param {Desk} desk */
  constructor(desk) {
    this.desk = desk;
    desk.view.gone.addEventListener('abort', () => clearInterval(this.#timer), { once: true });
  }

  get running() { return this.#since > 0; }
  get ms() { return this.running ? Date.now() - this.#since : 0; }

  draw() {
    return h('section', { class: `recorder no-print${this.running ? ' running' : ''}`, 'aria-label': 'Recording' },
      this.running ? [
        h('p', {}, h('b', {}, `Take ${this.#number()} is being recorded `), this.#face),
        h('div', { class: 'row-acts' },
          h('button', { type: 'button', class: 'main', 'data-key': 'slip-now', onclick: () => this.#slip() }, 'A slip, just now'),
          h('button', { type: 'button', 'data-key': 'stop', onclick: () => this.#stop() }, 'The recording ends'))]
        : h('div', { class: 'row-acts' },
          h('button', { type: 'button', class: 'main', 'data-key': 'start', onclick: () => this.#start() }, 'The recording starts now'),
          h('p', { class: 'soft' }, 'This starts a take and a clock; stamp each shot as it begins.')),
      this.#wrong);
  }

  #number() { return this.desk.sheet.installment.takes.find((k) => k.id === this.take)?.number ?? ''; }

  /** @param {SheetShot} shot */
  stampButton(shot) {
    if (!this.running) return null;
    const stamped = shot.takes.find((k) => k.take_id === this.take);
    return h('button', { type: 'button', class: stamped ? undefined : 'main', 'data-key': `stamp-${shot.id}`, 'aria-label': `${shot.title} begins now`, onclick: () => this.#stamp(shot) }, stamped ? `Begins now (was ${stamped.at || 'not stamped'})` : 'Begins now');
  }

  async #start() {
    put(this.#wrong);
    const at = Date.now();
    try {
      const sample = this.desk.sheet.shots.find((x) => x.plan?.sample_id)?.plan?.sample_id;
      const made = await api.post(`/installments/${this.desk.sheet.installment.id}/takes`, sample ? { sample_id: sample } : {}, { key: `rec-${at}-${Math.round(Math.random() * 1e9)}` });
      this.take = made.id;
      this.#since = at;
      this.#timer = setInterval(() => { this.#face.textContent = sayClock(this.ms, false); }, 500);
      announce(`Take ${made.number} has begun.`);
      await this.desk.refresh();
    } catch (err) {
      put(this.#wrong, sayError(err));
    }
  }

  async #stop() {
    const seconds = Math.max(1, Math.round(this.ms / 1000));
    try {
      await this.#flush();
      await api.patch(`/takes/${this.take}`, { seconds }, { revision: (await api.get(`/takes/${this.take}`)).revision });
      clearInterval(this.#timer);
      this.#since = 0;
      announce('The take is noted. Accept its shots when they were looked through.');
      await this.desk.refresh();
    } catch (err) {
      put(this.#wrong, sayError(err));
    }
  }

  /** @param {SheetShot} shot */
  #stamp(shot) {
    this.#waiting.set(shot.id, { at: sayClock(this.ms, true) });
    this.#chain = this.#chain.then(() => this.#flush()).then(() => {
      announce(`${shot.title} is stamped.`);
      return this.desk.refresh();
    }).catch((err) => put(this.#wrong, `${sayError(err)} The stamp is kept and goes out with the next.`));
  }

  async #flush() {
    if (this.#waiting.size === 0) return;
    const sent = new Map(this.#waiting);
    await this.#write(this.take, sent);
    for (const [shot, what] of sent) if (this.#waiting.get(shot) === what) this.#waiting.delete(shot);
    put(this.#wrong);
  }

  #slip() {
    const at = sayClock(this.ms, true);
    const once = new api.OnceKey();
    const take = this.take;
    openForm({
      title: `A slip at ${at}`, say: 'Note it', gone: this.desk.view.gone,
      save: (values) => api.post(`/takes/${take}/slips`, { at, ...values }, { key: once.for(values) }),
      done: async () => { announce(`The slip at ${at} is noted.`); await this.desk.refresh(); },
    },
    h('form-field', { name: 'wrong', label: 'What was said or shown', kind: 'area', required: true, maxlength: 1000 }),
    h('form-field', { name: 'should_be', label: 'What it should be', kind: 'area', maxlength: 1000 }),
    h('form-field', { name: 'remedy', label: 'Remedy', kind: 'select', quiet: true, '.options': Object.entries(REMEDIES) }));
  }

  /**
   * Changes one shot of a take; null takes it out.
   * @param {string} take @param {string} shot @param {Record<string, any> | null} what
   */
  async put(take, shot, what) {
    await this.#write(take, new Map([[shot, what]]));
    await this.desk.refresh();
  }

  /** @param {string} take @param {Map<string, Record<string, any> | null>} changes */
  async #write(take, changes) {
    const now = /** @type {Take} */ (await api.get(`/takes/${take}`));
    const shots = now.shots.filter((x) => changes.get(x.shot_id) !== null).map((x) => tidy({ ...x, ...changes.get(x.shot_id) }));
    for (const [id, what] of changes) if (what && !now.shots.some((x) => x.shot_id === id)) shots.push(tidy({ shot_id: id, ...what }));
    await api.put(`/takes/${take}/shots`, { shots }, { revision: now.revision });
  }
}

/** Leaves out what is not there. @param {Record<string, any>} x */
function tidy(x) {
  return Object.fromEntries(Object.entries(x).filter(([, v]) => v !== null && v !== undefined));
}
