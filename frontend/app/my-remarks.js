import { h, put, freshId } from '../parts/h.js';

/** @typedef {{place: string, body: string}} Row */

/** Remarks on places in the text: those sent before, and rows for new ones. */
export class RemarkRows {
  #rows = h('div', {});
  /** @param {import('../shapes-testing.js').Remark[]} sent @param {() => void} changed */
  constructor(sent, changed) {
    this.changed = changed;
    this.element = h('fieldset', { class: 'my-remarks' }, h('legend', {}, 'Remarks on places in the text'),
      sent.length ? h('ul', { class: 'plain rows' }, sent.map((r) => h('li', {}, h('b', {}, r.place), ` ${r.body}`, r.answer ? h('p', { class: 'soft' }, `Answer: ${r.answer}`) : null))) : null,
      this.#rows,
      h('button', { type: 'button', onclick: () => this.#add({ place: '', body: '' }, true) }, 'Add a remark'));
  }

  /** @returns {Row[]} */
  get value() {
    return [...this.#rows.children].map((row) => ({ place: text(row, 'input'), body: text(row, 'textarea') }));
  }

  /** @param {Row[]} rows */
  set value(rows) {
    put(this.#rows);
    for (const r of rows) this.#add(r, false);
  }

  get filled() { return this.value.filter((r) => r.body.trim() !== ''); }

  /** @param {Row} r @param {boolean} focus */
  #add(r, focus) {
    const [place, body] = [freshId('place'), freshId('body')];
    const row = h('div', { class: 'my-remark' },
      h('label', { for: place }, 'Where'), h('input', { id: place, maxlength: 200, autocomplete: 'off', '.value': r.place }),
      h('label', { for: body }, 'What'), h('textarea', { id: body, maxlength: 4000, rows: 3, '.value': r.body }),
      h('button', { type: 'button', class: 'plain', onclick: () => this.#remove(row) }, 'Take this remark out'));
    this.#rows.append(row);
    if (focus) row.querySelector('input').focus();
    this.#name();
  }

  /** @param {HTMLElement} row */
  #remove(row) {
    row.remove();
    /** @type {HTMLElement} */ (this.element.querySelector(':scope > button')).focus();
    this.#name();
    this.changed();
  }

  /** Named by their place in the request, for the server's word on them. */
  #name() {
    [...this.#rows.children].forEach((row, i) => {
      row.querySelector('input')?.setAttribute('data-at', `remarks[${i}].place`);
      row.querySelector('textarea')?.setAttribute('data-at', `remarks[${i}].body`);
    });
  }
}

/** @param {Element} row @param {string} kind */
const text = (row, kind) => /** @type {HTMLInputElement} */ (row.querySelector(kind)).value;
