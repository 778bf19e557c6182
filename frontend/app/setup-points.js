import { h, put } from '../parts/h.js';
import { CellGrid } from '../parts/cell-grid.js';
import { clearProblems, showProblem } from '../parts/show-problem.js';
import { readLength } from '../parts/lengths.js';
import { pointsFrom, pointsBody, emptyPoint } from './point-rows.js';
import { pointDetails } from './setup-point-details.js';
import { AXES } from './words.js';

/** @typedef {import('../shapes.js').Design} Design */
/** @typedef {import('./point-rows.js').PointRow} PointRow */

/** What comes before the sizes in a row of the table. @type {[keyof PointRow, string][]} */
const LEAD = [['name', 'Point'], ['expr', 'Counts'], ['tolerance', 'Tolerance']];

/** The points of measure: one row each, with what is intended for each size. */
export class PointsEditor {
  root = h('div', { class: 'editor' });
  #saved = '';
  /** @type {Set<PointRow>} */
  #open = new Set();

  /**
   * @param {Design} design
   * @param {(body: object) => Promise<Design>} save
   * @param {AbortSignal} gone
   */
  constructor(design, save, gone) {
    this.save = save;
    this.design = design;
    this.rows = pointsFrom(design);
    this.grid = new CellGrid(this.root, {
      write: ({ row, col }, text) => this.#write(row, col, text),
      block: (at, block) => this.#block(at, block),
    }, gone);
    this.take(design);
  }

  get changed() { return JSON.stringify(this.rows) !== this.#saved; }

  /** @param {Design} design what the server has; unsaved rows stay, as long as the sizes are the same */
  take(design) {
    const sameSizes = design.sizes.map((s) => s.id).join() === this.design.sizes.map((s) => s.id).join();
    const keep = this.#saved !== '' && this.changed && sameSizes;
    this.design = design;
    if (!keep) {
      this.rows = pointsFrom(design);
      this.#saved = JSON.stringify(this.rows);
    }
    this.draw();
  }

  draw() {
    const { sizes, unit } = this.design;
    if (sizes.length === 0) {
      put(this.root, h('p', {}, 'Save the sizes first: each point has an intended measurement for each size.'));
      return;
    }
    put(this.root,
      h('div', { class: 'wide' }, h('table', { class: 'grid' },
        h('thead', {}, h('tr', {}, LEAD.map(([, words]) => h('th', { scope: 'col' }, words)), h('th', { scope: 'col' }, 'Measured'),
          sizes.map((s) => h('th', { scope: 'col', class: 'num' }, s.name)), h('th', { scope: 'col' }, h('span', { class: 'unseen' }, 'Order')))),
        h('tbody', {}, this.rows.map((row, r) => this.#row(row, r))))),
      h('div', { class: 'acts' }, h('button', { type: 'button', onclick: () => this.#add() }, 'Add a point'),
        h('span', { class: 'soft' }, `Lengths in ${unit} unless you write the unit with them. “Counts” is arithmetic over the names of the count sheet, like body or left_front + back.`)),
      h('div', { class: 'trouble', role: 'alert' }),
      h('div', { class: 'acts' }, h('button', { type: 'button', class: 'main', onclick: () => this.#send() }, 'Save the points')));
  }

  /** @param {PointRow} row @param {number} r */
  #row(row, r) {
    const { sizes } = this.design;
    const name = row.name || `point ${r + 1}`;
    const input = (/** @type {number} */ col, /** @type {string} */ label, /** @type {string} */ value, /** @type {string} */ at) => h('input', {
      'data-row': r, 'data-col': col, 'data-at': `points[${r}].${at}`, 'aria-label': label, '.value': value, autocomplete: 'off', spellcheck: 'false',
      oninput: (/** @type {any} */ e) => this.#write(r, col, e.target.value),
    });
    const axis = h('select', { 'aria-label': `Direction of ${name}`, onchange: (/** @type {any} */ e) => { row.axis = e.target.value; } }, AXES.map(([v, words]) => h('option', { value: v }, words)));
    axis.value = row.axis;
    return [
      h('tr', {},
        LEAD.map(([key, words], c) => h('td', { class: c === 0 ? 'first' : c === 1 ? 'expr' : undefined }, input(c, `${words} of ${name}`, String(row[key]), key))),
        h('td', { class: 'axis' }, axis),
        sizes.map((s, i) => h('td', {}, input(LEAD.length + i, `${name} intended for size ${s.name}`, row.intended[i] || '', `intended[${i}]`))),
        h('td', { class: 'moves' },
          h('button', { type: 'button', class: 'plain', 'aria-label': `Move ${name} up`, onclick: () => this.#move(r, -1) }, '↑'),
          h('button', { type: 'button', class: 'plain', 'aria-label': `Move ${name} down`, onclick: () => this.#move(r, 1) }, '↓'),
          h('button', { type: 'button', class: 'plain', 'aria-label': `Take out ${name}`, onclick: () => { this.rows.splice(r, 1); this.draw(); } }, 'Take out'))),
      h('tr', { class: 'more' }, h('td', { colspan: LEAD.length + sizes.length + 2 },
        h('details', { '.open': this.#open.has(row), ontoggle: (/** @type {any} */ e) => { if (e.target.open) this.#open.add(row); else this.#open.delete(row); } },
          h('summary', {}, h('span', {}, 'How it is measured', h('span', { class: 'unseen' }, `: ${name}`))), pointDetails(row, r, this.design)))),
    ];
  }

  /** @param {number} r @param {number} col @param {string} text */
  #write(r, col, text) {
    const row = /** @type {any} */ (this.rows[r]);
    if (col < LEAD.length) row[LEAD[col][0]] = text;
    else row.intended[col - LEAD.length] = text;
  }

  /** @param {{row: number, col: number}} at @param {string[][]} block */
  #block(at, block) {
    const { length } = this.design.sizes;
    block.forEach((cells, i) => {
      while (this.rows.length <= at.row + i) this.rows.push(emptyPoint(length));
      cells.forEach((text, j) => { if (at.col + j < LEAD.length + length) this.#write(at.row + i, at.col + j, text); });
    });
    this.draw();
    this.grid.focus(at);
  }

  #add() {
    this.rows.push(emptyPoint(this.design.sizes.length));
    this.draw();
    this.grid.focus({ row: this.rows.length - 1, col: 0 });
  }

  /** @param {number} r @param {number} by */
  #move(r, by) {
    if (!this.rows[r + by]) return;
    [this.rows[r], this.rows[r + by]] = [this.rows[r + by], this.rows[r]];
    this.draw();
    this.grid.focus({ row: r + by, col: 0 });
  }

  async #send() {
    clearProblems(this.root);
    try {
      const now = await this.save(pointsBody(this.rows, this.design.sizes, (text) => readLength(text, this.design.unit)));
      this.#saved = '';
      this.take(now);
    } catch (err) {
      this.#openFaulty(err);
      showProblem(this.root, err);
    }
  }

  /** A message inside a closed part would not be seen. @param {any} err */
  #openFaulty(err) {
    for (const place of err.fields?.keys() || []) {
      const r = /^points\[(\d+)\]\.(?!name|expr|tolerance|intended)/.exec(place);
      if (r && this.rows[Number(r[1])]) this.#open.add(this.rows[Number(r[1])]);
    }
    this.draw();
  }
}
