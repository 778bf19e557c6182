import { h } from './h.js';
import { Field } from './field.js';
import { readNumber, sayNumber } from './lengths.js';

/** `<amount-field unit="m">`: an amount of yarn. `value` is `{value, unit}` or null when empty. */
export class AmountField extends Field {
  draw() {
    const { hint, error, describedBy } = this.notes();
    const input = h('input', { id: this.id_, inputmode: 'decimal', autocomplete: 'off', 'aria-describedby': describedBy });
    const unit = h('select', { 'aria-label': `Unit of ${this.label.toLowerCase()}` },
      h('option', { value: 'm' }, 'm'), h('option', { value: 'yd' }, 'yd'), h('option', { value: 'g' }, 'g'), h('option', { value: 'oz' }, 'oz'));
    unit.value = this.getAttribute('unit') || 'm';
    this.append(h('label', { for: this.id_ }, this.labelText()), ...[hint, h('div', { class: 'pair' }, input, unit), error].filter(Boolean));
  }

  get #input() { this.build(); return /** @type {HTMLInputElement} */ (this.querySelector('input')); }
  get #unit() { this.build(); return /** @type {HTMLSelectElement} */ (this.querySelector('select')); }

  get value() {
    const value = readNumber(this.#input.value);
    return value === null ? null : { value, unit: this.#unit.value };
  }

  /** @param {{value: number, unit: string} | null} v */
  set value(v) {
    this.#input.value = v ? sayNumber(v.value, 3) : '';
    if (v) this.#unit.value = v.unit;
  }

  empty() { return this.#input.value.trim() === ''; }

  check() {
    if (!this.empty() && !((this.value?.value ?? -1) >= 0)) return 'This is not an amount. Write it like 700 or 612.5.';
    return super.check();
  }
}
customElements.define('amount-field', AmountField);
