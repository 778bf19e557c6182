// The table of sizes as it is typed, and as the API takes it.
import { sayNumber } from '../parts/lengths.js';
import { Problem } from './problem.js';

/** @typedef {{id?: string, name: string, filmed: boolean, body: string[]}} SizeRow */
/** @typedef {{dimensions: string[], rows: SizeRow[]}} SizeTable */

/** @returns {SizeRow} */
export const emptySize = () => ({ name: '', filmed: false, body: [] });

/**
 * @param {import('../shapes.js').Design} design
 * @returns {SizeTable}
 */
export function sizesFrom(design) {
  const dimensions = [...new Set(design.sizes.flatMap((s) => s.body.map((b) => b.dimension)))];
  if (dimensions.length === 0) dimensions.push('');
  const rows = design.sizes.map((s) => ({
    id: s.id, name: s.name, filmed: s.filmed,
    body: dimensions.map((d) => {
      const found = s.body.find((b) => b.dimension === d)?.length;
      return found ? sayNumber(found.value, 4) + (found.unit === design.unit ? '' : ` ${found.unit}`) : '';
    }),
  }));
  return { dimensions, rows };
}

/**
 * @param {SizeTable} table
 * @param {(text: string) => {value: number, unit: string} | null} read
 */
export function sizesBody(table, read) {
  /** @type {{message: string, location: string}[]} */
  const errors = [];
  const sizes = table.rows.map((row, r) => {
    const body = [];
    for (const [c, text] of row.body.entries()) {
      if (!text?.trim()) continue;
      const length = read(text);
      const dimension = (table.dimensions[c] || '').trim();
      if (!length) errors.push({ location: `sizes[${r}].body[${c}]`, message: 'This is not a length. Write it like 41.5 or 41 1/2.' });
      else if (!dimension) errors.push({ location: `sizes[${r}].body[${c}]`, message: 'Name this measurement at the head of its column.' });
      else body.push({ dimension, ...length });
    }
    return { ...(row.id ? { id: row.id } : {}), name: row.name.trim(), filmed: row.filmed, body };
  });
  if (errors.length) throw new Problem(422, { detail: 'Not saved yet: something can\'t be read.', errors });
  return { sizes };
}
