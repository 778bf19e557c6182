// What to watch for in a design: what the garment has, the usual cautions, the
// published rules behind them, and who has read each.
import { h, put } from '../parts/h.js';
import { sayMoment } from '../parts/dates.js';
import { openForm } from '../parts/open-dialog.js';
import '../parts/entry-form.js';
import '../parts/form-field.js';
import * as api from './api.js';
import { sayError } from './problem.js';
import { announce } from './shell.js';

/** @typedef {import('../shapes-counts.js').DesignCautions} DesignCautions */
/** @typedef {DesignCautions['cautions'][number]} Caution */

/** @type {Record<string, string>} */
const LEVELS = { stop: 'Stop', 'stop until checked': 'Stop until checked', warn: 'Take care', note: 'Worth knowing' };

export class CautionsPanel {
  root = h('div', {}, h('p', { class: 'soft' }, 'One moment.'));

  /**
   * @param {import('../shapes.js').Design} design @param {{gone: AbortSignal, zone: string, mayChange: boolean}} given
   * @param {(revision: number) => void} raised the design's revision, which the page's other parts share
   */
  constructor(design, given, raised) {
    this.design = design;
    this.path = `/designs/${design.id}`;
    this.given = given;
    this.raised = raised;
    this.#ask(() => api.get(`${this.path}/cautions`, { signal: given.gone }));
  }

  /** The audience may be another now. @param {import('../shapes.js').Design} design */
  take(design) {
    const again = design.audience !== this.design.audience;
    this.design = design;
    if (again) this.#ask(() => api.get(`${this.path}/cautions`, { signal: this.given.gone }));
  }

  /** @param {() => Promise<DesignCautions>} call */
  async #ask(call) {
    try {
      this.#draw(await call());
    } catch (err) {
      if (!this.given.gone.aborted) put(this.root, h('p', { class: 'pin', role: 'alert' }, sayError(err)));
    }
  }

  /** @param {DesignCautions} d */
  #draw(d) {
    const features = h('check-field', { name: 'features', label: 'It has', '.options': d.offered.map((f) => [f.id, f.label]) });
    features.value = d.features;
    put(this.root,
      this.given.mayChange
        ? h('entry-form', { class: 'features', say: 'Save what it has', '.save': (/** @type {any} */ values) => this.#tell(values) }, features)
        : h('p', {}, d.features.length ? `It has: ${d.offered.filter((f) => d.features.includes(f.id)).map((f) => f.label).join('; ')}.` : 'It has none of the things that cautions are about.'),
      d.told_at ? h('p', { class: 'soft' }, `Said on ${sayMoment(d.told_at, this.given.zone)}.`) : h('p', { class: ['baby', 'child', 'youth'].includes(d.audience) ? 'pin' : 'soft' }, 'Nobody has said yet what it has. Save it also when it has none of these.'),
      d.cautions.length ? h('ul', { class: 'plain rows cautions' }, d.cautions.map((c) => this.#caution(c))) : h('p', {}, 'No caution is known here for whom it is for and what it has.'),
      h('p', { class: 'note' }, d.deferral));
  }

  /** @param {Caution} c */
  #caution(c) {
    const read = c.acknowledged;
    return h('li', {},
      h('h3', {}, h('span', { class: c.level === 'note' ? 'soft' : 'brass' }, `${LEVELS[c.level] || c.level}: `), c.title),
      h('p', {}, c.text),
      h('details', {}, h('summary', {}, c.rules.length === 1 ? 'The published rule and what it covers' : `The ${c.rules.length} published rules and what they cover`), h('ul', { class: 'plain rows' }, c.rules.map(rule))),
      read ? h('p', {}, `Acknowledged by ${read.name || 'somebody who is no longer here'} on ${sayMoment(read.at, this.given.zone)}.`, read.note ? ` ${read.note}` : '')
        : h('p', { class: c.holds_release ? 'pin' : 'soft' }, c.holds_release ? 'Not acknowledged yet: it holds release.' : 'Not acknowledged yet; it holds nothing.'),
      this.given.mayChange ? h('div', { class: 'acts no-print' }, read
        ? h('button', { type: 'button', class: 'plain', 'aria-label': `Take it back: the acknowledgement of ${c.title}`, onclick: () => this.#send(c, 'take-back', {}) }, 'Take it back')
        : h('button', { type: 'button', 'aria-label': `I have read this: ${c.title}`, onclick: () => this.#read(c) }, 'I have read this')) : null);
  }

  /** @param {{features: string[]}} values */
  async #tell(values) {
    const d = await api.put(`${this.path}/features`, { features: values.features }, { revision: this.design.revision });
    this.raised(d.revision);
    this.#draw(d);
    announce('What it has is saved.');
  }

  /** @param {Caution} c */
  #read(c) {
    openForm({
      title: c.title, say: 'I have read this', gone: this.given.gone,
      save: ({ note }) => api.post(`${this.path}/cautions/${c.id}/acknowledge`, { note }),
      done: (d) => { this.#draw(d); announce('Acknowledged.'); },
    }, h('p', {}, c.text), h('form-field', { name: 'note', label: 'What was decided about it', kind: 'area', rows: 3 }),
    h('p', { class: 'soft' }, 'Your name and today\'s date are kept with it. It says that you have read this, not that the garment meets any rule.'));
  }

  /** @param {Caution} c @param {string} verb @param {object} body */
  #send(c, verb, body) { return this.#ask(() => api.post(`${this.path}/cautions/${c.id}/${verb}`, body)); }
}

/** @param {import('../shapes-counts.js').SafetyRule} r */
function rule(r) {
  const line = (/** @type {string} */ label, /** @type {string} */ text) => (text ? [h('dt', {}, label), h('dd', {}, text)] : null);
  return h('li', {}, h('h4', {}, r.instrument || 'Practice and advice'),
    h('dl', { class: 'pairs' }, line('Where', r.jurisdiction), line('Covers', r.covers), line('Ages', r.ages), line('Says', r.says), line('Leaves out', r.exempt),
      line('Figures', r.figures.map((f) => `${f.what}: ${f.value} ${f.unit}`).join('; ')), line('Source', r.source + (r.from_memory ? ' (from memory: look it up before relying on it)' : ''))));
}
