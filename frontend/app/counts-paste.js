import { h, put } from '../parts/h.js';
import { looksLikeList } from '../parts/grid-moves.js';
import * as api from './api.js';
import { sayError } from './problem.js';
import { emptyCount, sayCell } from './sheet-model.js';

/** @typedef {{name?: string, unit?: string, note?: string, values: (number|null)[], text: string, line?: number}} ReadLine */
/** @typedef {{line: number, text: string, problem: string}} Unread */

/** What is pasted into the grid: a pattern line, several, or a spreadsheet's block. */
export class CountPaste {
  /** @param {import('./counts-editor.js').SheetEditor} editor @param {import('./counts-grid.js').CountGrid} grid */
  constructor(editor, grid) {
    this.editor = editor;
    this.grid = grid;
  }

  /**
   * A text into a name or a first value; other cells take it as it is.
   * @param {{row: number, col: number}} at @param {string} text
   */
  text(at, text) {
    if (at.col > 1 || !(looksLikeList(text) || text.trim().includes('\n'))) return false;
    this.#read(text, at.row);
    return true;
  }

  /** Cells with tabs between; rows are added as needed. @param {{row: number, col: number}} at @param {string[][]} block */
  block(at, block) {
    const { rows } = this.grid;
    const width = this.editor.sizes.length;
    block.forEach((cells, i) => {
      while (rows.length <= at.row + i) rows.push(emptyCount(width));
      cells.forEach((text, j) => {
        const col = at.col + j;
        if (col === 0) rows[at.row + i].name = text;
        else if (col <= width) rows[at.row + i].cells[col - 1] = text;
      });
    });
    this.editor.draw();
    this.editor.touched();
    this.grid.cells.focus(at);
    this.grid.notice.textContent = `${block.length} row${block.length === 1 ? '' : 's'} pasted.`;
  }

  /** A place to paste many lines into. */
  ask() {
    const text = h('textarea', { id: 'pattern-lines', rows: 10, spellcheck: 'false', 'aria-describedby': 'pattern-hint' });
    const trouble = h('div', { role: 'alert' });
    const dialog = h('dialog', { 'aria-label': 'Paste pattern lines', onclose: () => dialog.remove() },
      h('div', { class: 'sec-head' }, h('h2', {}, 'Paste pattern lines'), h('button', { type: 'button', onclick: () => dialog.close() }, 'Close')),
      h('label', { for: 'pattern-lines' }, 'Lines'),
      h('p', { class: 'hint', id: 'pattern-hint' }, `One count in each line, for ${this.editor.sizes.length} sizes, like “back: 62 (68, 76) (82, 90)” or “body | sts | base round | 122 (134, 150)”. A line whose name is in the sheet fills that row; others are added.`),
      text, trouble,
      h('div', { class: 'acts' }, h('button', { type: 'button', class: 'main', onclick: async () => {
        const unread = await this.#read(text.value, -1, trouble);
        if (unread === 0) dialog.close();
      } }, 'Read the lines')));
    document.body.append(dialog);
    dialog.showModal();
  }

  /**
   * @param {string} text @param {number} row to fill with the first list, -1 for none
   * @param {HTMLElement} [trouble]
   * @returns {Promise<number>} how many lines could not be read
   */
  async #read(text, row, trouble = this.grid.notice) {
    try {
      /** @type {{lists: ReadLine[], problems?: Unread[]}} */
      const { lists, problems = [] } = await api.post('/counts/read', { text, sizes: this.editor.sizes.length });
      const lines = text.split('\n');
      this.#take(lists.map((l) => ({ ...l, name: l.name || leadingName(lines[(l.line || 1) - 1] || '') })), row);
      put(trouble, lists.length ? `${lists.length} line${lists.length === 1 ? '' : 's'} read. ` : '', problems.map((p) => h('p', { class: 'pin' }, `Line ${p.line}: ${p.problem}`)));
      return problems.length;
    } catch (err) {
      put(trouble, h('span', { class: 'pin' }, sayError(err)));
      return 1;
    }
  }

  /** @param {ReadLine[]} lists @param {number} row */
  #take(lists, row) {
    if (lists.length === 0) return;
    const { rows } = this.grid;
    lists.forEach((line, i) => {
      const named = line.name ? rows.findIndex((c) => c.name === line.name) : -1;
      let at = i === 0 && row >= 0 ? row : named;
      if (at < 0) at = rows.push(emptyCount(this.editor.sizes.length)) - 1;
      const into = rows[at];
      into.cells = line.values.map(sayCell);
      if (line.name && !into.name) into.name = line.name;
      if (line.unit) into.unit = /** @type {any} */ (line.unit);
      if (line.note && !into.note) into.note = line.note;
    });
    this.editor.draw();
    this.editor.touched();
    if (row >= 0) this.grid.cells.focus({ row, col: rows[row].name ? 1 : 0 });
  }
}

/**
 * `back: 62 (68, 76)` names its count; `Row 1: …` and `Size 2: …` name a place in the text.
 * @param {string} line
 */
export function leadingName(line) {
  const found = /^\s*([A-Za-z_][A-Za-z0-9_]*)\s*[:=|]/.exec(line);
  return found ? found[1] : '';
}
