import { h, put } from '../parts/h.js';
import { CellGrid } from '../parts/cell-grid.js';
import { clearProblems, showProblem } from '../parts/show-problem.js';
import { readLength } from '../parts/lengths.js';
import { sizesFrom, sizesBody, emptySize } from './size-rows.js';
import { chooseBody, keepBody } from './setup-body.js';

/** @typedef {import('../shapes.js').Design} Design */

/** The table of sizes and the body measurements that each is made for. */
export class SizesEditor {
  root = h('div', { class: 'editor' });
  /** Where measurements that were just put in come from. */
  from = '';
  #saved = '';

  /**
   * @param {Design} design
   * @param {(body: object) => Promise<Design>} save
   * @param {AbortSignal} gone
   */
  constructor(design, save, gone) {
    this.save = save;
    this.gone = gone;
    this.design = design;
    this.state = sizesFrom(design);
    this.grid = new CellGrid(this.root, {
      write: ({ row, col }, text) => this.#write(row, col, text),
      block: (at, block) => this.#block(at, block),
    }, gone);
    this.take(design);
  }

  get changed() { return JSON.stringify(this.state) !== this.#saved; }

  /** @param {Design} design what the server has; an unsaved table stays as it is */
  take(design) {
    const keep = this.#saved !== '' && this.changed;
    this.design = design;
    if (keep) return;
    this.state = sizesFrom(design);
    this.#saved = JSON.stringify(this.state);
    this.draw();
  }

  draw() {
    const { rows, dimensions } = this.state;
    put(this.root,
      h('div', { class: 'wide' }, h('table', { class: 'grid' },
        h('thead', {}, h('tr', {}, h('th', { scope: 'col' }, 'Size'),
          dimensions.map((d, i) => h('th', { scope: 'col' }, h('input', { 'aria-label': `Body measurement ${i + 1}, its name`, value: d, maxlength: 40, oninput: (/** @type {any} */ e) => { dimensions[i] = e.target.value; } }))),
          h('th', { scope: 'col' }, 'Filmed'), h('th', { scope: 'col' }, h('span', { class: 'unseen' }, 'Order')))),
        h('tbody', {}, rows.map((_, r) => this.#row(r))))),
      h('div', { class: 'acts' },
        h('button', { type: 'button', onclick: () => this.#add() }, 'Add a size'),
        h('button', { type: 'button', onclick: () => this.#addDimension() }, 'Add a body measurement'),
        h('button', { type: 'button', onclick: () => chooseBody(this.design, this.gone, (start) => this.#start(start)) }, 'Start from a body table'),
        this.design.sizes.some((s) => s.body.length) ? h('button', { type: 'button', onclick: () => keepBody(this.design, this.gone) }, 'Keep as a body table') : null,
        h('span', { class: 'soft' }, `Lengths in ${this.design.unit} unless you write the unit with them.`)),
      this.from ? h('p', { class: 'soft' }, `Body measurements from ${this.from}.`) : null,
      h('div', { class: 'trouble', role: 'alert' }),
      h('div', { class: 'acts' }, h('button', { type: 'button', class: 'main', onclick: () => this.#send() }, 'Save the sizes')));
  }

  /** @param {number} r */
  #row(r) {
    const { rows, dimensions } = this.state;
    const row = rows[r];
    const input = (/** @type {number} */ col, /** @type {string} */ label, /** @type {string} */ value, /** @type {string} */ at) => h('input', {
      'data-row': r, 'data-col': col, 'data-at': at, 'aria-label': label, '.value': value, autocomplete: 'off',
      oninput: (/** @type {any} */ e) => this.#write(r, col, e.target.value),
    });
    const name = row.name || `size ${r + 1}`;
    return h('tr', {},
      h('td', { class: 'first' }, input(0, `Name of size ${r + 1}`, row.name, `sizes[${r}].name`)),
      dimensions.map((d, c) => h('td', {}, input(c + 1, `${d || 'measurement'}, ${name}`, row.body[c] || '', `sizes[${r}].body[${c}]`))),
      h('td', {}, h('label', { class: 'bare tick' }, h('input', { type: 'radio', name: 'filmed-size', 'aria-label': `${name} is the filmed size`, '.checked': row.filmed, onchange: () => rows.forEach((x, i) => { x.filmed = i === r; }) }))),
      h('td', { class: 'moves' },
        h('button', { type: 'button', class: 'plain', 'aria-label': `Move ${name} up`, onclick: () => this.#move(r, -1) }, '↑'),
        h('button', { type: 'button', class: 'plain', 'aria-label': `Move ${name} down`, onclick: () => this.#move(r, 1) }, '↓'),
        h('button', { type: 'button', class: 'plain', 'aria-label': `Take out ${name}`, onclick: () => { rows.splice(r, 1); this.draw(); } }, 'Take out')));
  }

  /** @param {number} r @param {number} col @param {string} text */
  #write(r, col, text) {
    if (col === 0) this.state.rows[r].name = text;
    else this.state.rows[r].body[col - 1] = text;
  }

  /** @param {{row: number, col: number}} at @param {string[][]} block */
  #block(at, block) {
    block.forEach((cells, i) => {
      while (this.state.rows.length <= at.row + i) this.state.rows.push(emptySize());
      cells.forEach((text, j) => { if (at.col + j <= this.state.dimensions.length) this.#write(at.row + i, at.col + j, text); });
    });
    this.draw();
    this.grid.focus(at);
  }

  /**
   * Sizes of a body table: one whose name is here gets its measurements, others
   * come after. @param {import('./body-start.js').Start} start
   */
  #start(start) {
    const { rows, dimensions } = this.state;
    if (dimensions.length === 1 && dimensions[0] === '') dimensions.length = 0;
    const columns = start.dimensions.map((d) => (dimensions.includes(d) ? dimensions.indexOf(d) : dimensions.push(d) - 1));
    for (const size of start.rows) {
      const row = rows.find((r) => r.name === size.name) || rows[rows.push({ ...emptySize(), name: size.name }) - 1];
      size.body.forEach((text, i) => { row.body[columns[i]] = text; });
      for (let i = 0; i < dimensions.length; i += 1) row.body[i] ??= '';
    }
    this.from = start.sources.join('; ');
    this.draw();
    this.grid.focus({ row: 0, col: 0 });
  }

  #add() {
    this.state.rows.push(emptySize());
    this.draw();
    this.grid.focus({ row: this.state.rows.length - 1, col: 0 });
  }

  #addDimension() {
    this.state.dimensions.push('');
    this.draw();
    /** @type {HTMLElement} */ (this.root.querySelector(`thead th:nth-child(${this.state.dimensions.length + 1}) input`)).focus();
  }

  /** @param {number} r @param {number} by */
  #move(r, by) {
    const { rows } = this.state;
    if (!rows[r + by]) return;
    [rows[r], rows[r + by]] = [rows[r + by], rows[r]];
    this.draw();
    /** @type {HTMLElement[]} */ ([...this.root.querySelectorAll(`tbody tr:nth-child(${r + by + 1}) button`)])[by < 0 ? 0 : 1]?.focus();
  }

  async #send() {
    clearProblems(this.root);
    try {
      const body = sizesBody(this.state, (text) => readLength(text, this.design.unit));
      const now = await this.save(body);
      this.#saved = '';
      this.take(now);
    } catch (err) {
      showProblem(this.root, err);
    }
  }
}
