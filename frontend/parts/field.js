import { h, freshId } from './h.js';

/**
 * What every field has: a label, a hint, a line for what is wrong, and the ties
 * between them. The attributes `name`, `label`, `hint`, `required` and `value`
 * are read once, when the field is first needed. `name` is the place in the
 * request's body, so that the server's word on `gauge.span` finds its field.
 */
export class Field extends HTMLElement {
  id_ = freshId('field');
  #drawn = false;

  connectedCallback() {
    this.build();
  }

  /** Draws once, on connection or on the first use of value. */
  build() {
    if (this.#drawn) return;
    this.#drawn = true;
    this.draw();
    if (this.hasAttribute('value')) this.value = this.getAttribute('value');
  }

  /** @returns {void} */
  draw() {}

  get name() { return this.getAttribute('name') || ''; }
  get label() { return this.getAttribute('label') || ''; }
  get required() { return this.hasAttribute('required'); }

  /** The controls that take the focus and carry aria-invalid. @returns {HTMLElement[]} */
  get controls() { return [...this.querySelectorAll('input, select, textarea')].map((e) => /** @type {HTMLElement} */ (e)); }

  /** @type {any} */
  get value() { return null; }
  set value(_v) {}

  /** What is wrong with what was typed, '' when nothing is. @returns {string} */
  check() {
    return this.required && this.empty() ? 'Fill this in.' : '';
  }

  empty() { return this.value === '' || this.value === null || this.value === undefined; }

  /** @param {string} message '' takes it away */
  setError(message) {
    this.build();
    const line = this.querySelector('.error');
    if (line) line.textContent = message;
    for (const c of this.controls) {
      if (message) c.setAttribute('aria-invalid', 'true');
      else c.removeAttribute('aria-invalid');
    }
  }

  focus() { this.build(); this.controls[0]?.focus(); }

  /** Hint and error, to stand before and after the control. */
  notes() {
    const hint = this.getAttribute('hint');
    return {
      hint: hint ? h('p', { class: 'hint', id: `${this.id_}-hint` }, hint) : null,
      error: h('p', { class: 'error', id: `${this.id_}-error` }),
      describedBy: `${hint ? `${this.id_}-hint ` : ''}${this.id_}-error`,
    };
  }

  labelText() {
    return [this.label, this.required || this.hasAttribute('quiet') ? null : h('span', { class: 'soft' }, ' (optional)')];
  }
}
