import { sayMoment } from '../parts/dates.js';

/**
 * The columns to show of rows as they stand in the database: ids are for
 * programs, and a column in which nothing stands says nothing.
 * @param {Record<string, any>[]} rows
 * @returns {string[]}
 */
export function columnsOf(rows) {
  const names = [...new Set(rows.flatMap((row) => Object.keys(row)))];
  const told = names.filter((name) => name !== 'id' && !name.endsWith('_id') && rows.some((row) => row[name] !== null && row[name] !== ''));
  return told.sort((a, b) => rank(a) - rank(b) || (a < b ? -1 : 1));
}

const FIRST = ['design', 'call', 'size', 'point', 'name', 'handle', 'email', 'at', 'kind', 'dimension', 'value', 'unit', 'number'];

/** @param {string} name */
function rank(name) {
  const at = FIRST.indexOf(name);
  return at < 0 ? FIRST.length : at;
}

const MOMENT = /^\d{4}-\d\d-\d\dT\d\d:\d\d/;

/**
 * A value in words.
 * @param {unknown} value
 * @param {string} zone
 */
export function sayValue(value, zone) {
  if (value === null || value === undefined || value === '') return '–';
  if (value === true) return 'yes';
  if (value === false) return 'no';
  const text = String(value);
  return MOMENT.test(text) ? sayMoment(text, zone) : text;
}

/**
 * Keeps an answer of the server as a file.
 * @param {string} name
 * @param {unknown} data
 */
export function saveAs(name, data) {
  const address = URL.createObjectURL(new Blob([JSON.stringify(data, null, 2)], { type: 'application/json' }));
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
}
