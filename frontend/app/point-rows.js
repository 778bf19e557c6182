// Points of measure as they are typed, and as the API takes them.
import { sayNumber, readNumber } from '../parts/lengths.js';
import { Problem } from './problem.js';

/**
 * @typedef {object} PointRow
 * @property {string} [id]
 * @property {string} name
 * @property {'stitch'|'row'} axis
 * @property {string} expr
 * @property {string} add
 * @property {string} tolerance
 * @property {string} repeatability_cm
 * @property {string} repeat
 * @property {boolean} girth
 * @property {string} how_to_measure
 * @property {string} body_dimension
 * @property {string} ease_low_cm
 * @property {string} ease_high_cm
 * @property {string[]} intended in the order of the sizes
 */

/** @returns {PointRow} @param {number} sizes */
export const emptyPoint = (sizes) => ({
  name: '', axis: 'stitch', expr: '', add: '', tolerance: '', repeatability_cm: '', repeat: '', girth: false,
  how_to_measure: '', body_dimension: '', ease_low_cm: '', ease_high_cm: '', intended: new Array(sizes).fill(''),
});

/** @param {import('../shapes.js').Design} design @returns {PointRow[]} */
export function pointsFrom(design) {
  const say = (/** @type {import('../shapes.js').Length | undefined} */ l) => (l ? sayNumber(l.value, 4) + (l.unit === design.unit ? '' : ` ${l.unit}`) : '');
  const figure = (/** @type {number | null} */ n) => (n === null || n === undefined ? '' : sayNumber(n, 3));
  return design.points.map((p) => ({
    id: p.id, name: p.name, axis: p.axis, expr: p.expr, girth: p.girth, how_to_measure: p.how_to_measure,
    add: p.add && p.add.value !== 0 ? say(p.add) : '', tolerance: say(p.tolerance),
    repeatability_cm: figure(p.repeatability_cm), repeat: p.repeat > 1 ? String(p.repeat) : '',
    body_dimension: p.body_dimension || '', ease_low_cm: figure(p.ease_low_cm), ease_high_cm: figure(p.ease_high_cm),
    intended: design.sizes.map((s) => say(p.intended.find((i) => i.size_id === s.id)?.length)),
  }));
}

/**
 * @param {PointRow[]} rows @param {{id: string}[]} sizes
 * @param {(text: string) => {value: number, unit: string} | null} read
 */
export function pointsBody(rows, sizes, read) {
  /** @type {{message: string, location: string}[]} */
  const errors = [];
  const length = (/** @type {string} */ text, /** @type {string} */ location) => {
    const found = read(text);
    if (!found) errors.push({ location, message: text.trim() ? 'This is not a length. Write it like 1.5 or 3/4 in.' : 'Write a length here.' });
    return found;
  };
  const number = (/** @type {string} */ text, /** @type {string} */ location) => {
    const found = readNumber(text);
    if (found === null) errors.push({ location, message: 'This is not a number.' });
    return found;
  };
  const points = rows.map((row, r) => {
    const at = `points[${r}]`;
    /** @type {Record<string, any>} */
    const out = { name: row.name.trim(), axis: row.axis, expr: row.expr.trim(), girth: row.girth, how_to_measure: row.how_to_measure, tolerance: length(row.tolerance, `${at}.tolerance`) };
    if (row.id) out.id = row.id;
    if (row.add.trim()) out.add = length(row.add, `${at}.add`);
    if (row.body_dimension.trim()) out.body_dimension = row.body_dimension.trim();
    for (const key of /** @type {const} */ (['repeatability_cm', 'repeat', 'ease_low_cm', 'ease_high_cm'])) {
      if (row[key].trim()) out[key] = number(row[key], `${at}.${key}`);
    }
    out.intended = sizes.flatMap((s, i) => {
      if (!row.intended[i]?.trim()) return [];
      const found = length(row.intended[i], `${at}.intended[${i}]`);
      return found ? [{ size_id: s.id, ...found }] : [];
    });
    return out;
  });
  if (errors.length) throw new Problem(422, { detail: 'Not saved yet: something can\'t be read.', errors });
  return { points };
}
