import { h } from './h.js';
import { Field } from './field.js';

/**
 * `<form-field kind="text|email|password|date|number|area|select">`.
 * A select gets its `.options`: `[[value, words], …]`. Other attributes that
 * the native control knows (autocomplete, maxlength, min, max, inputmode,
 * spellcheck, placeholder is refused on purpose) are handed on.
 * `value` is a string; for a number it is a number or null.
 */
export class FormField extends Field {
  static HANDED_ON = ['autocomplete', 'maxlength', 'minlength', 'min', 'max', 'step', 'inputmode', 'spellcheck', 'autocapitalize', 'rows'];
  /** @type {[string, string][]} */
  options = [];

  draw() {
    const kind = this.getAttribute('kind') || 'text';
    const { hint, error, describedBy } = this.notes();
    /** @type {Record<string, any>} */
    const given = { id: this.id_, 'aria-describedby': describedBy, 'aria-required': this.required ? 'true' : undefined };
    for (const name of FormField.HANDED_ON) if (this.hasAttribute(name)) given[name] = this.getAttribute(name);
    const control = kind === 'select' ? h('select', given, this.options.map(([value, words]) => h('option', { value }, words)))
      : kind === 'area' ? h('textarea', given)
        : h('input', { type: kind, ...given });
    this.append(h('label', { for: this.id_ }, this.labelText()), ...[hint, control, error].filter(Boolean));
  }

  get control() {
    this.build();
    return /** @type {HTMLInputElement} */ (this.controls[0]);
  }

  /** @type {any} */
  get value() {
    const raw = this.control.value;
    if (this.getAttribute('kind') !== 'number') return raw;
    return raw.trim() === '' ? null : Number(raw);
  }

  set value(v) { this.control.value = v ?? ''; }

  empty() { return this.control.value.trim() === ''; }

  check() {
    const native = this.control.validity;
    if (native.badInput || native.typeMismatch || native.rangeUnderflow || native.rangeOverflow || native.tooShort) return this.control.validationMessage;
    return super.check();
  }
}
customElements.define('form-field', FormField);

/** `<check-field>`: one box to tick, or several (`.options`), as a list of values. */
export class CheckField extends Field {
  /** @type {[string, string][]} */
  options = [];

  draw() {
    const { hint, error, describedBy } = this.notes();
    if (this.options.length === 0) {
      const box = h('input', { type: 'checkbox', id: this.id_, 'aria-describedby': describedBy });
      this.append(h('label', { class: 'tick', for: this.id_ }, box, this.label), ...[hint, error].filter(Boolean));
      return;
    }
    const boxes = this.options.map(([value, words]) => h('label', { class: 'tick' }, h('input', { type: 'checkbox', value }), words));
    this.append(h('fieldset', { 'aria-describedby': describedBy }, h('legend', {}, this.label), hint, h('div', { class: 'ticks' }, boxes), error));
  }

  /** @type {any} */
  get value() {
    this.build();
    const boxes = /** @type {HTMLInputElement[]} */ (this.controls);
    return this.options.length ? boxes.filter((b) => b.checked).map((b) => b.value) : boxes[0].checked;
  }

  set value(v) {
    this.build();
    for (const b of /** @type {HTMLInputElement[]} */ (this.controls)) {
      b.checked = this.options.length ? (v || []).includes(b.value) : Boolean(v) && v !== 'false';
    }
  }

  empty() { return this.options.length ? this.value.length === 0 : !this.value; }
}
customElements.define('check-field', CheckField);
