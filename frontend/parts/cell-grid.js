import { nextPlace, readBlock } from './grid-moves.js';

/** @typedef {import('./grid-moves.js').Place} Place */

/**
 * Spreadsheet keyboard for a table of inputs that carry `data-row` and
 * `data-col`: arrows, enter and shift+enter move, tab goes on as always, escape
 * takes back what was typed into the cell, control+z and control+y (or shift+z)
 * undo and redo, and a block from a spreadsheet is spread over the cells.
 */
export class CellGrid {
  #before = '';

  /**
   * @param {HTMLElement} root
   * @param {object} on
   * @param {(at: Place, text: string) => void} on.write a cell got a value by paste or escape
   * @param {(at: Place, text: string) => boolean} [on.paste] takes a paste over; true when it did
   * @param {(at: Place, block: string[][]) => void} on.block
   * @param {(back: boolean) => void} [on.step] undo, or redo when not back; the field's own when left out
   * @param {AbortSignal} gone
   */
  constructor(root, on, gone) {
    this.root = root;
    this.on = on;
    root.addEventListener('focusin', (e) => this.#enter(e), { signal: gone });
    root.addEventListener('keydown', (e) => this.#key(e), { signal: gone });
    root.addEventListener('paste', (e) => this.#paste(e), { signal: gone });
  }

  /** @param {Place} at @returns {HTMLInputElement | null} */
  cell(at) { return this.root.querySelector(`input[data-row="${at.row}"][data-col="${at.col}"]`); }

  /** @param {Place} at */
  focus(at) {
    const cell = this.cell(at);
    cell?.focus();
    cell?.scrollIntoView({ block: 'nearest', inline: 'nearest' });
  }

  get size() {
    const cells = [...this.root.querySelectorAll('input[data-row]')].map((c) => placeOf(c));
    return { rows: Math.max(0, ...cells.map((c) => c.row + 1)), cols: Math.max(0, ...cells.map((c) => c.col + 1)) };
  }

  /** @param {FocusEvent} e */
  #enter(e) {
    const cell = cellOf(e);
    if (!cell) return;
    this.#before = cell.value;
    cell.select();
  }

  /** @param {KeyboardEvent} e */
  #key(e) {
    const cell = cellOf(e);
    if (!cell || e.isComposing) return;
    if (e.key === 'Escape' && cell.value !== this.#before) {
      e.preventDefault();
      e.stopPropagation();
      cell.value = this.#before;
      cell.select();
      this.on.write(placeOf(cell), cell.value);
      return;
    }
    if (this.#undo(e)) return;
    const [from, to] = [cell.selectionStart ?? 0, cell.selectionEnd ?? 0];
    const all = from === 0 && to === cell.value.length;
    const next = nextPlace(e, placeOf(cell), this.size, { atStart: (from === 0 && to === 0) || all, atEnd: from === cell.value.length || all });
    if (!next && e.key === 'Enter') e.preventDefault(); // never sends the form round the grid
    if (!next) return;
    e.preventDefault();
    this.focus(next);
  }

  /** @param {KeyboardEvent} e */
  #undo(e) {
    const key = e.key.toLowerCase();
    if (!this.on.step || !(e.ctrlKey || e.metaKey) || e.altKey || (key !== 'z' && key !== 'y')) return false;
    e.preventDefault();
    this.on.step(key === 'z' && !e.shiftKey);
    return true;
  }

  /** @param {ClipboardEvent} e */
  #paste(e) {
    const cell = cellOf(e);
    const text = e.clipboardData?.getData('text/plain') || '';
    if (!cell || cell.readOnly || !text) return;
    const at = placeOf(cell);
    const block = readBlock(text);
    if (block) this.on.block(at, block);
    else if (!this.on.paste?.(at, text)) return;
    e.preventDefault();
  }
}

/** @param {Event} e @returns {HTMLInputElement | null} */
const cellOf = (e) => /** @type {HTMLElement} */ (e.target).closest('input[data-row]');

/** @param {Element} cell @returns {Place} */
const placeOf = (cell) => ({ row: Number(cell.getAttribute('data-row')), col: Number(cell.getAttribute('data-col')) });
