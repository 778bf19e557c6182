import { looksLikeList } from '../parts/grid-moves.js';
import * as api from './api.js';
import { sayError } from './problem.js';
import { emptyCount, sayCell } from './sheet-model.js';
import { reviewFound } from './counts-found.js';

/** @typedef {{name?: string, unit?: string, note?: string, values: (number|null)[], text: string, line: number, start: number, end: number, measure?: boolean}} ReadLine */
/** @typedef {{line: number, start: number, end: number, text: string, problem: string}} Unread */
/** @typedef {{lists: ReadLine[], problems: Unread[]}} ReadAnswer */

/** What is pasted into the grid: a pattern line, several, or a spreadsheet's block. */
export class CountPaste {
  /** @param {import('./counts-editor.js').SheetEditor} editor @param {import('./counts-grid.js').CountGrid} grid */
  constructor(editor, grid) {
    this.editor = editor;
    this.grid = grid;
  }

  /**
   * A text into a name or a first value; other cells take it as it is. One list
   * fills the row; of several, each is offered to keep or drop.
   * @param {{row: number, col: number}} at @param {string} text
   */
  text(at, text) {
    if (at.col > 1 || !(looksLikeList(text) || text.trim().includes('\n'))) return false;
    this.#into(text, at.row);
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

  /** A place to paste a part of the pattern into. @param {string} [text] @param {ReadAnswer} [read] */
  ask(text = '', read = undefined) {
    reviewFound(this.editor, { text, read, find: (t) => this.#find(t), keep: (kept) => this.#take(kept, -1) });
  }

  /** @param {string} text @returns {Promise<ReadAnswer>} */
  #find(text) {
    const { sizes } = this.editor;
    return api.post('/counts/read', { text, sizes: sizes.length, names: sizes.map((s) => s.name) });
  }

  /** @param {string} text @param {number} row */
  async #into(text, row) {
    try {
      const read = await this.#find(text);
      if (read.lists.length === 1 && read.problems.length === 0) {
        this.#take(read.lists, row);
        this.grid.notice.textContent = 'One line read.';
      } else {
        this.ask(text, read);
      }
    } catch (err) {
      this.grid.notice.textContent = sayError(err);
    }
  }

  /** A line whose name is in the sheet fills that row; others are added. @param {ReadLine[]} lists @param {number} row for the first, -1 for none */
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
