import { h } from './h.js';
import { Field } from './field.js';
import { showProblem, clearProblems } from './show-problem.js';

/**
 * `<entry-form>`: a native form around fields. Set `.save`, an async function
 * that gets the values by the fields' names; what it throws is shown at the
 * fields named by the server, or above the button. `say` is the button's word.
 * The children are given before it is connected or through `fill()`.
 */
export class EntryForm extends HTMLElement {
  /** @type {(values: Record<string, any>, form: EntryForm) => Promise<void> | void} */
  save = () => {};
  #form = h('form', { novalidate: true, onsubmit: (/** @type {Event} */ e) => this.#submit(e) });
  #busy = false;

  connectedCallback() {
    if (this.#form.isConnected) return;
    this.#form.append(...this.childNodes);
    const button = h('button', { class: 'main' }, this.getAttribute('say') || 'Save');
    this.#form.append(h('div', { class: 'trouble', role: 'alert' }), h('div', { class: 'acts' }, button));
    this.append(this.#form);
  }

  /** @returns {Field[]} */
  get fields() { return [...this.querySelectorAll('*')].filter((e) => e instanceof Field).map((e) => /** @type {Field} */ (e)); }

  get values() {
    return Object.fromEntries(this.fields.filter((f) => f.name).map((f) => [f.name, f.value]));
  }

  /** A place beside the button for further buttons. */
  get acts() { return /** @type {HTMLElement} */ (this.#form.querySelector('.acts')); }

  /** @param {Event} e */
  async #submit(e) {
    e.preventDefault();
    if (this.#busy) return;
    clearProblems(this);
    if (!this.#checked()) return;
    const button = /** @type {HTMLButtonElement} */ (this.acts.querySelector('button.main'));
    this.#busy = true;
    button.setAttribute('aria-disabled', 'true');
    try {
      await this.save(this.values, this);
    } catch (err) {
      showProblem(this, err);
    } finally {
      this.#busy = false;
      button.removeAttribute('aria-disabled');
    }
  }

  #checked() {
    /** @type {Field | null} */
    let first = null;
    for (const field of this.fields) {
      const wrong = field.check();
      field.setError(wrong);
      if (wrong) first ??= field;
    }
    first?.focus();
    return !first;
  }
}
customElements.define('entry-form', EntryForm);
