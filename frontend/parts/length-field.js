import { h } from './h.js';
import { Field } from './field.js';
import { readLength, sayNumber } from './lengths.js';

/**
 * `<length-field unit="cm|in">`: a length as it is read from a tape. Takes
 * `41 1/2`, `41,5`, `41½ in`; a typed unit switches the unit beside it.
 * `value` is `{value, unit}`, or null when the field is empty.
 */
export class LengthField extends Field {
  draw() {
    const { hint, error, describedBy } = this.notes();
    const input = h('input', { id: this.id_, inputmode: 'text', autocomplete: 'off', autocapitalize: 'off', spellcheck: 'false', 'aria-describedby': describedBy, 'aria-required': this.required ? 'true' : undefined, onchange: () => this.#tidy() });
    const unit = h('select', { 'aria-label': `Unit of ${this.label}` }, h('option', {}, 'cm'), h('option', {}, 'in'));
    unit.value = this.getAttribute('unit') || 'cm';
    this.append(h('label', { for: this.id_ }, this.labelText()), ...[hint, h('div', { class: 'pair' }, input, unit), error].filter(Boolean));
  }

  get #input() { this.build(); return /** @type {HTMLInputElement} */ (this.querySelector('input')); }
  get #unit() { this.build(); return /** @type {HTMLSelectElement} */ (this.querySelector('select')); }

  get value() {
    const text = this.#input.value;
    return text.trim() === '' ? null : readLength(text, /** @type {any} */ (this.#unit.value));
  }

  /** @param {import('./lengths.js').Length | null} v */
  set value(v) {
    this.#input.value = v ? sayNumber(v.value, 4) : '';
    if (v) this.#unit.value = v.unit;
  }

  get unit() { return /** @type {'cm'|'in'} */ (this.#unit.value); }
  set unit(u) { this.#unit.value = u; }

  /** What stands in the field, for a draft. */
  get typed() { return this.#input.value; }

  empty() { return this.#input.value.trim() === ''; }

  check() {
    if (!this.empty() && this.value === null) return 'This is not a length. Write it like 41.5 or 41 1/2.';
    return super.check();
  }

  #tidy() {
    const read = this.value;
    if (read && read.unit !== this.#unit.value) {
      this.#input.value = sayNumber(read.value, 4);
      this.#unit.value = read.unit;
    }
    this.setError(this.empty() ? '' : this.check());
  }
}
customElements.define('length-field', LengthField);
