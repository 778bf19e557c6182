import { h, put } from './h.js';
import { Field } from './field.js';
import { readLength, readNumber, sayNumber } from './lengths.js';

/** @type {[string, number][]} */
const FRACTIONS = [['¼', 0.25], ['½', 0.5], ['¾', 0.75]];

/**
 * `<tape-field unit="cm|in">`: one measurement, for a thumb: a number pad, the
 * unit beside it switched by one tap (the number stays, only its unit changes),
 * and quarter inches as buttons, which a number pad lacks. `.drawn` is set above
 * it. `value` is `{value, unit}` or null. `ask()` shows a soft question. What
 * should be heard comes as a `say` event.
 */
export class TapeField extends Field {
  /** @type {Node | null} */
  drawn = null;
  /** @type {'cm'|'in'} */
  #unit = 'cm';

  draw() {
    const { hint, error, describedBy } = this.notes();
    this.#unit = this.getAttribute('unit') === 'in' ? 'in' : 'cm';
    const input = h('input', { id: this.id_, inputmode: 'decimal', autocomplete: 'off', 'aria-describedby': `${this.id_}-unit ${describedBy} ${this.id_}-ask`, onchange: () => this.#tidy() });
    const unit = h('button', { type: 'button', class: 'unit', id: `${this.id_}-unit`, onclick: () => this.#switch() });
    const quarters = h('div', { class: 'quarters', role: 'group', 'aria-label': `Quarter inches of ${this.label}` },
      FRACTIONS.map(([words, part]) => h('button', { type: 'button', 'aria-label': `${words} inch more`, onclick: () => this.#quarter(part) }, words)));
    this.append(h('div', { class: 'tape-head' }, this.drawn, h('div', {}, h('label', { for: this.id_ }, this.label), hint)),
      h('div', { class: 'pair' }, input, unit, quarters), error, h('div', { class: 'ask', id: `${this.id_}-ask` }));
    this.#showUnit();
  }

  get #input() { this.build(); return /** @type {HTMLInputElement} */ (this.querySelector('input')); }
  get controls() { return [this.#input]; }
  get unit() { this.build(); return this.#unit; }
  set unit(u) { this.build(); this.#unit = u; this.#showUnit(); }

  get value() { return this.empty() ? null : readLength(this.#input.value, this.unit); }
  /** @param {import('./lengths.js').Length | null} v */
  set value(v) {
    this.#input.value = v ? sayNumber(v.value, 4) : '';
    if (v) this.unit = v.unit;
  }

  /** What stands here, readable or not, for a draft. @type {any} */
  get draft() { return [this.#input.value, this.unit]; }
  set draft(d) { [this.#input.value, this.unit] = d; }

  empty() { return this.#input.value.trim() === ''; }

  check() {
    const read = this.value;
    if (!this.empty() && !((read?.value ?? 0) > 0)) return 'This is not a length. Write it like 41.5 or 41 1/2.';
    return super.check();
  }

  /**
   * A question about a likely slip, with one tap to take what it would be.
   * @param {import('../shapes-testing.js').Warning | null} w
   */
  ask(w) {
    this.build();
    const box = /** @type {HTMLElement} */ (this.querySelector('.ask'));
    const held = box.contains(document.activeElement);
    const meant = w?.would_be;
    put(box, w ? h('div', { class: 'note' }, h('p', {}, w.sentence),
      meant ? h('button', { type: 'button', onclick: () => this.#take(meant) }, `Make it ${sayNumber(meant.value, 3)} ${meant.unit}`) : null) : null);
    if (held) this.#input.focus();
  }

  /** @param {import('./lengths.js').Length} meant */
  #take(meant) {
    this.value = meant;
    this.ask(null);
    this.#input.focus();
    this.#say(`${this.label} is now ${sayNumber(meant.value, 3)} ${meant.unit}.`);
    this.#changed();
  }

  #switch() {
    this.unit = this.unit === 'cm' ? 'in' : 'cm';
    this.#changed();
  }

  #showUnit() {
    const unit = /** @type {HTMLElement} */ (this.querySelector('.unit'));
    unit.textContent = this.#unit;
    unit.setAttribute('aria-label', `${this.#unit}, unit of ${this.label}: switch to ${this.#unit === 'in' ? 'centimetres' : 'inches'}`);
    /** @type {HTMLElement} */ (this.querySelector('.quarters')).hidden = this.#unit !== 'in';
  }

  /** @param {number} part of an inch */
  #quarter(part) {
    const whole = Math.floor(readNumber(this.#input.value) ?? 0);
    this.#input.value = sayNumber(whole + part, 3);
    this.#say(`${this.#input.value} inches`);
    this.#changed();
  }

  #tidy() {
    const read = this.value;
    if (read && read.unit !== this.unit) this.value = read;
    this.setError(this.check());
  }

  /** @param {string} words */
  #say(words) { this.dispatchEvent(new CustomEvent('say', { bubbles: true, detail: words })); }

  #changed() { this.setError(this.empty() ? '' : this.check()); this.dispatchEvent(new Event('change', { bubbles: true })); }
}
customElements.define('tape-field', TapeField);
