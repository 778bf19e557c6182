import { h } from './h.js';
import { Field } from './field.js';
import { readNumber, sayNumber } from './lengths.js';

/**
 * `<gauge-field>`: stitches and rows over a span. With `partial`, either count
 * may be missing and an empty field is no gauge (null).
 * `value` is `{stitches, rows, span, unit}`.
 */
export class GaugeField extends Field {
  draw() {
    const { hint, error, describedBy } = this.notes();
    /** @param {string} key @param {string} words */
    const part = (key, words) => h('div', {}, h('label', { for: `${this.id_}-${key}` }, words),
      h('input', { id: `${this.id_}-${key}`, 'data-part': key, inputmode: this.getAttribute('inputmode') || 'text', autocomplete: 'off', 'aria-describedby': describedBy }));
    const unit = h('select', { 'aria-label': 'Unit of the span' }, h('option', {}, 'cm'), h('option', {}, 'in'));
    unit.addEventListener('change', () => this.#usualSpan());
    this.append(h('fieldset', {}, h('legend', {}, this.labelText()), hint,
      h('div', { class: 'gauge' }, part('stitches', 'Stitches'), part('rows', 'Rows'), part('span', 'Over'), unit), error));
    this.value = { stitches: null, rows: null, span: this.getAttribute('unit') === 'in' ? 4 : 10, unit: this.getAttribute('unit') || 'cm' };
  }

  /** @param {string} key @returns {HTMLInputElement} */
  #part(key) { this.build(); return /** @type {any} */ (this.querySelector(`[data-part="${key}"]`)); }
  get #unit() { this.build(); return /** @type {HTMLSelectElement} */ (this.querySelector('select')); }

  /** 4 in and 10 cm are the usual spans, and not the same one. */
  #usualSpan() {
    const span = this.#part('span');
    if (span.value === '4' && this.#unit.value === 'cm') span.value = '10';
    else if (span.value === '10' && this.#unit.value === 'in') span.value = '4';
  }

  get value() {
    const [stitches, rows, span] = ['stitches', 'rows', 'span'].map((k) => readNumber(this.#part(k).value));
    if (this.hasAttribute('partial') && this.empty()) return null;
    return { stitches, rows, span, unit: this.#unit.value };
  }

  /** @param {any} v */
  set value(v) {
    for (const key of ['stitches', 'rows', 'span']) {
      if (v || key !== 'span') this.#part(key).value = v?.[key] || v?.[key] === 0 ? sayNumber(v[key], 3) : '';
    }
    if (v) this.#unit.value = v.unit;
  }

  empty() { return !this.#part('stitches').value.trim() && !this.#part('rows').value.trim(); }

  check() {
    if (this.empty()) return this.required ? 'Fill this in.' : '';
    const typed = ['stitches', 'rows', 'span'].filter((k) => this.#part(k).value.trim() || !this.hasAttribute('partial') || k === 'span');
    const wrong = typed.filter((k) => !((readNumber(this.#part(k).value) ?? 0) > 0));
    return wrong.length ? `Write ${wrong.join(' and ')} as a number greater than zero, like 14 or 13.5.` : '';
  }
}
customElements.define('gauge-field', GaugeField);
