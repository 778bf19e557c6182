import { h, put } from './h.js';

/**
 * @typedef {object} Column
 * @property {string} label
 * @property {(row: any) => import('./h.js').Child} cell
 * @property {boolean} [num] figures, set to the right
 * @property {boolean} [head] names the row
 */

/**
 * What a cell holds as one thing, so that beside a label on a card its words
 * stay together; an empty cell stays empty.
 * @param {import('./h.js').Child} child
 */
function whole(child) {
  const box = h('div', { class: 'cell' }, child);
  return box.textContent || box.firstElementChild ? box : null;
}

/**
 * `<data-table caption="…" empty="…">`: a table that turns into cards on a
 * small screen (style sheet `data-table`). Set `.columns`, then `.rows`.
 */
export class DataTable extends HTMLElement {
  /** @type {Column[]} */
  columns = [];
  /** @type {any[]} */
  #rows = [];

  connectedCallback() { this.#draw(); }

  get rows() { return this.#rows; }
  set rows(rows) {
    this.#rows = rows;
    if (this.isConnected) this.#draw();
  }

  #draw() {
    if (this.#rows.length === 0) {
      put(this, h('p', { class: 'soft' }, this.getAttribute('empty') || 'Nothing here yet.'));
      return;
    }
    const caption = this.getAttribute('caption');
    // The roles are spoken out because the card layout takes the table's own display away, and its meaning with it.
    put(this, h('table', { role: 'table' },
      caption ? h('caption', {}, caption) : null,
      h('thead', { role: 'rowgroup' }, h('tr', { role: 'row' }, this.columns.map((c) => (c.label ? h('th', { role: 'columnheader', scope: 'col', class: c.num ? 'num' : undefined }, c.label) : h('td', { role: 'cell' }))))),
      h('tbody', { role: 'rowgroup' }, this.#rows.map((row) => this.#row(row)))));
  }

  /** @param {any} row */
  #row(row) {
    return h('tr', { role: 'row' }, this.columns.map((c) => (c.head
      ? h('th', { role: 'rowheader', scope: 'row' }, whole(c.cell(row)))
      : h('td', { role: 'cell', class: c.num ? 'num' : undefined, 'data-label': c.label }, whole(c.cell(row))))));
  }
}
customElements.define('data-table', DataTable);
