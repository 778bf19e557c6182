// The count sheet as it is typed: rows of text, read into numbers when it is
// saved or checked.
import { readNumber } from '../parts/lengths.js';
import { Problem } from './problem.js';

/** @typedef {import('../shapes.js').Sheet} Sheet */
/** @typedef {import('../shapes.js').Finding} Finding */
/** @typedef {{name: string, unit: import('../shapes.js').CountUnit, note: string, cells: string[]}} CountRow */
/** @typedef {{name: string, kind: 'holds'|'multiple', expr: string, of: string, plus: string}} RuleRow */
/** @typedef {{counts: CountRow[], rules: RuleRow[]}} Typed */

const SKIPPED = /^(?:|–|—|-|--|x|n\/a)$/i;

/**
 * What a cell stands for: a number, null where the size skips the line, or
 * undefined when it can't be read.
 * @param {string} text
 */
export function readCell(text) {
  const tidy = text.trim();
  if (SKIPPED.test(tidy)) return null;
  const n = readNumber(tidy);
  return n === null || n < 0 ? undefined : n;
}

/** @param {number | null} value */
export const sayCell = (value) => (value === null || value === undefined ? '–' : String(value));

/** @param {number} sizes @returns {CountRow} */
export const emptyCount = (sizes) => ({ name: '', unit: 'stitch', note: '', cells: new Array(sizes).fill('') });
/** @returns {RuleRow} */
export const emptyRule = () => ({ name: '', kind: 'holds', expr: '', of: '', plus: '' });

/** @param {Sheet} sheet @returns {Typed} */
export function typedFrom(sheet) {
  const say = (/** @type {number | null | undefined} */ n) => (n === null || n === undefined ? '' : String(n));
  return {
    counts: sheet.counts.map((c) => ({ name: c.name, unit: c.unit, note: c.note || '', cells: c.values.map(sayCell) })),
    rules: sheet.rules.map((r) => ({ name: r.name, kind: r.kind, expr: r.expr, of: say(r.of), plus: say(r.plus) })),
  };
}

/**
 * As the API takes it. A row without a name and without a value is left out.
 * @param {Typed} typed
 */
export function sheetBody(typed) {
  /** @type {{message: string, location: string}[]} */
  const errors = [];
  const counts = typed.counts.map((row, r) => ({
    name: row.name.trim(), unit: row.unit, note: row.note,
    values: row.cells.map((text, c) => {
      const value = readCell(text);
      if (value === undefined) errors.push({ location: `counts[${r}].values[${c}]`, message: 'This is not a count. Write a number, or – where the size skips the line.' });
      return value ?? null;
    }),
  }));
  const whole = (/** @type {string} */ text, /** @type {string} */ location) => {
    const n = readNumber(text);
    if (n === null || !Number.isInteger(n)) errors.push({ location, message: 'This is not a whole number.' });
    return n;
  };
  const rules = typed.rules.map((row, r) => {
    const rule = { name: row.name.trim(), kind: row.kind, expr: row.expr.trim() };
    if (row.kind !== 'multiple') return rule;
    return { ...rule, of: whole(row.of, `rules[${r}].of`), plus: row.plus.trim() === '' ? 0 : whole(row.plus, `rules[${r}].plus`) };
  });
  if (errors.length) throw new Problem(422, { detail: 'Something in the sheet can\'t be read.', errors });
  return { counts, rules };
}

/** The count names in an expression. @param {string} expr */
export const namesIn = (expr) => new Set(expr.match(/[\p{L}_][\p{L}\p{N}_]*/gu) || []);

/**
 * Which cells each finding is about, and where its sentence is shown: at the
 * count, the rule, or the point of its name.
 * @param {Finding[]} findings @param {Typed} typed
 * @param {{name: string, expr: string}[]} points @param {{name: string}[]} sizes
 */
export function placeFindings(findings, typed, points, sizes) {
  return findings.map((finding) => {
    const kind = finding.kind === 'step' ? 'count' : finding.kind === 'intended' || finding.kind === 'ease' ? 'point' : 'rule';
    const expr = kind === 'point' ? points.find((p) => p.name === finding.name)?.expr : typed.rules.find((r) => r.name === finding.name)?.expr;
    const names = kind === 'count' ? new Set([finding.name]) : namesIn(expr || '');
    return {
      finding, kind,
      size: sizes.findIndex((s) => s.name === finding.size),
      rows: typed.counts.flatMap((c, i) => (names.has(c.name) ? [i] : [])),
    };
  });
}
