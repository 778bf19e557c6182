import { h, put, freshId } from '../parts/h.js';
import { CellGrid } from '../parts/cell-grid.js';
import { emptyCount, readCell } from './sheet-model.js';
import { CountPaste } from './counts-paste.js';
import { copyButton, printLine } from './count-line.js';
import { COUNT_UNITS } from './words.js';

/** @typedef {import('./sheet-model.js').CountRow} CountRow */
/** @typedef {ReturnType<typeof import('./sheet-model.js').placeFindings>} Placed */

/**
 * The grid of counts: column 0 is the name, then one for each size. Findings
 * stand in a line under the row at fault, tied to its cells.
 */
export class CountGrid {
  /** @param {import('./counts-editor.js').SheetEditor} editor @param {HTMLElement} root */
  constructor(editor, root) {
    this.editor = editor;
    this.root = root;
    this.notice = h('p', { class: 'soft', role: 'status' });
    this.paste = new CountPaste(editor, this);
    this.cells = new CellGrid(root, {
      write: (at, text) => this.write(at.row, at.col, text),
      block: (at, block) => this.paste.block(at, block),
      paste: (at, text) => this.paste.text(at, text),
      step: (back) => this.editor.step(back),
    }, editor.given.gone);
  }

  get rows() { return this.editor.typed.counts; }

  draw() {
    const { sizes, given } = this.editor;
    put(this.root,
      h('div', { class: 'wide' }, h('table', { class: 'grid counts' },
        h('thead', {}, h('tr', {}, h('th', { scope: 'col' }, 'Count'), sizes.map((s) => h('th', { scope: 'col', class: 'num' }, s.name)),
          h('th', { scope: 'col' }, 'Of'), h('th', { scope: 'col' }, 'What it is'), h('td'))),
        this.rows.map((row, r) => this.#row(row, r)))),
      this.notice,
      given.readOnly ? null : h('div', { class: 'acts no-print' },
        h('button', { type: 'button', onclick: () => this.#add() }, 'Add a count'),
        h('button', { type: 'button', onclick: () => this.paste.ask() }, 'Paste pattern lines'),
        h('button', { type: 'button', onclick: () => this.editor.step(true) }, 'Undo'),
        h('button', { type: 'button', onclick: () => this.editor.step(false) }, 'Redo'),
        h('span', { class: 'soft' }, 'Or paste a pattern line into a name or first value: it fills the row. A skipped size is written –.')));
  }

  /** @param {CountRow} row @param {number} r */
  #row(row, r) {
    const { sizes, given } = this.editor;
    const name = row.name || `count ${r + 1}`;
    const input = (/** @type {number} */ col, /** @type {string} */ label, /** @type {string} */ value, /** @type {string} */ at) => h('input', {
      'data-row': r, 'data-col': col, 'data-at': at, 'aria-label': label, '.value': value, autocomplete: 'off', spellcheck: 'false', readonly: given.readOnly,
      inputmode: 'text', oninput: (/** @type {any} */ e) => this.write(r, col, e.target.value),
    });
    const unit = h('select', { 'aria-label': `${name} is a number of`, disabled: given.readOnly, onchange: (/** @type {any} */ e) => { row.unit = e.target.value; this.editor.touched(); } },
      COUNT_UNITS.map(([v, words]) => h('option', { value: v }, words)));
    unit.value = row.unit;
    return h('tbody', {},
      h('tr', {},
        h('th', { scope: 'row', class: 'first' }, input(0, `Name of count ${r + 1}`, row.name, `counts[${r}].name`)),
        sizes.map((s, i) => h('td', {}, input(i + 1, `${name}, size ${s.name}`, row.cells[i] ?? '', `counts[${r}].values[${i}]`))),
        h('td', { class: 'unit' }, unit),
        h('td', { class: 'what' }, h('input', { 'aria-label': `What ${name} is`, '.value': row.note, readonly: given.readOnly, oninput: (/** @type {any} */ e) => { row.note = e.target.value; this.editor.touched(`note ${r}`); } })),
        h('td', { class: 'moves no-print' }, copyButton(name, () => printLine(row.cells.map((c) => readCell(c) ?? null), this.editor.design.grouping)), given.readOnly ? null : [
          h('button', { type: 'button', class: 'plain', 'aria-label': `Move ${name} up`, onclick: () => this.#move(r, -1) }, '↑'),
          h('button', { type: 'button', class: 'plain', 'aria-label': `Move ${name} down`, onclick: () => this.#move(r, 1) }, '↓'),
          h('button', { type: 'button', class: 'plain', 'aria-label': `Take out ${name}`, onclick: () => this.#takeOut(r) }, 'Take out')])),
      h('tr', { class: 'section-rows', 'data-section': r, hidden: true }, h('td', { colspan: sizes.length + 4 })),
      h('tr', { class: 'findings', 'data-findings': r, hidden: true }, h('td', { colspan: sizes.length + 4 })));
  }

  /** @param {number} r @param {number} col @param {string} text */
  write(r, col, text) {
    if (col === 0) this.rows[r].name = text;
    else this.rows[r].cells[col - 1] = text;
    this.editor.touched(`cell ${r} ${col}`);
  }

  /** The rows that each running row number stands for. @param {import('../shapes.js').Sheet['sections']} sections */
  showSections(sections) {
    for (const line of this.root.querySelectorAll('[data-section]')) {
      const row = this.rows[Number(line.getAttribute('data-section'))];
      const found = sections.find((s) => s.name === row?.name);
      const first = row?.unit === 'row_number' && row === this.rows.find((r) => r.unit === 'row_number');
      /** @type {HTMLElement} */ (line).hidden = !found && !first;
      const rows = found ? found.rows : row?.cells.map((c) => readCell(c) ?? null) || [];
      put(/** @type {Element} */ (line.firstElementChild), h('p', { class: 'section-text' }, `${printLine(rows, this.editor.design.grouping)} rows, from ${found ? `after ${found.after}` : 'the first'} to ${row?.name}`));
    }
  }

  /** Marks the cells at fault and says why under the first of their rows. @param {Placed} placed */
  mark(placed) {
    for (const cell of this.root.querySelectorAll('input.at-fault')) { cell.classList.remove('at-fault'); cell.removeAttribute('aria-describedby'); }
    for (const line of this.root.querySelectorAll('[data-findings]')) { /** @type {HTMLElement} */ (line).hidden = true; put(/** @type {Element} */ (line.firstElementChild)); }
    for (const p of placed) {
      if (p.rows.length === 0) continue;
      const id = freshId('finding');
      const line = /** @type {HTMLElement} */ (this.root.querySelector(`[data-findings="${p.rows.at(-1)}"]`));
      line.hidden = false;
      line.firstElementChild?.append(h('p', { id, class: 'finding' }, p.finding.message.toLowerCase().includes(`size ${p.finding.size}`.toLowerCase()) ? null : h('b', {}, `size ${p.finding.size}: `), p.finding.message));
      for (const r of p.rows) {
        const cell = this.cells.cell({ row: r, col: p.size + 1 });
        if (!cell || p.size < 0) continue;
        cell.classList.add('at-fault');
        cell.setAttribute('aria-describedby', `${cell.getAttribute('aria-describedby') || ''} ${id}`.trim());
      }
    }
  }

  /** A link from elsewhere to the count at fault. @param {string | null} name @param {string | null} size */
  goTo(name, size) {
    const row = this.rows.findIndex((c) => c.name === name);
    if (row >= 0) this.cells.focus({ row, col: Math.max(0, this.editor.sizes.findIndex((s) => s.name === size)) + 1 });
  }

  #add() {
    this.rows.push(emptyCount(this.editor.sizes.length));
    this.editor.draw();
    this.cells.focus({ row: this.rows.length - 1, col: 0 });
  }

  /** @param {number} r */
  #takeOut(r) {
    this.rows.splice(r, 1);
    this.editor.draw();
    this.editor.touched();
    this.cells.focus({ row: Math.min(r, this.rows.length - 1), col: 0 });
  }

  /** @param {number} r @param {number} by */
  #move(r, by) {
    if (!this.rows[r + by]) return;
    [this.rows[r], this.rows[r + by]] = [this.rows[r + by], this.rows[r]];
    this.editor.draw();
    this.editor.touched();
    this.cells.focus({ row: r + by, col: 0 });
  }
}
