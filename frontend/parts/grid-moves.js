// Where the keyboard leads in a grid of fields, and what a pasted block holds.

/** @typedef {{row: number, col: number}} Place */

/**
 * The place that a key leads to, or null when the key is the field's own.
 * Left and right leave the field only from its edge, so that text can be
 * mended in the middle.
 * @param {{key: string, shiftKey?: boolean, ctrlKey?: boolean, metaKey?: boolean, altKey?: boolean}} e
 * @param {Place} at @param {{rows: number, cols: number}} size
 * @param {{atStart: boolean, atEnd: boolean}} caret
 * @returns {Place | null}
 */
export function nextPlace(e, at, size, caret) {
  if (e.altKey || e.metaKey) return null;
  const last = { row: size.rows - 1, col: size.cols - 1 };
  const to = (/** @type {number} */ row, /** @type {number} */ col) => (
    row < 0 || col < 0 || row > last.row || col > last.col ? null : { row, col });
  if (e.ctrlKey) {
    if (e.key === 'Home') return { row: 0, col: 0 };
    return e.key === 'End' ? last : null;
  }
  switch (e.key) {
    case 'ArrowUp': return to(at.row - 1, at.col);
    case 'ArrowDown': return to(at.row + 1, at.col);
    case 'Enter': return to(at.row + (e.shiftKey ? -1 : 1), at.col);
    case 'ArrowLeft': return caret.atStart && !e.shiftKey ? to(at.row, at.col - 1) : null;
    case 'ArrowRight': return caret.atEnd && !e.shiftKey ? to(at.row, at.col + 1) : null;
    default: return null;
  }
}

/**
 * A block copied from a spreadsheet: lines of cells with tabs between. Null
 * when the text is a single value or no such block.
 * @param {string} text @returns {string[][] | null}
 */
export function readBlock(text) {
  const lines = text.replace(/\r\n?/g, '\n').replace(/\n+$/, '').split('\n');
  if (!lines.some((l) => l.includes('\t')) && !(lines.length > 1 && lines.every((l) => isPlain(l)))) return null;
  return lines.map((l) => l.split('\t').map((c) => c.trim()));
}

/** A column of a spreadsheet has one plain value on a line. @param {string} line */
const isPlain = (line) => /^\s*(?:\d+(?:[.,]\d+)?|[–—x-]|n\/a)?\s*$/i.test(line);

/**
 * Whether a pasted line holds more than one field takes: a list of sizes.
 * @param {string} text
 */
export function looksLikeList(text) {
  const numbers = text.match(/\d+/g) || [];
  return numbers.length > 1 && /[(,[;/:]|\d\s+\d/.test(text) && !/^\s*\d+[.,]\d+\s*$/.test(text) && !/^\s*\d+\s+\d+\/\d+\s*$/.test(text);
}
