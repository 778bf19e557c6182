// What a tester reads about their own work.
import { sayDay, sayDaysLeft } from '../parts/dates.js';

/** @typedef {import('../shapes-testing.js').Assignment} Assignment */

/** @type {Record<Assignment['state'], string>} */
const STATES = {
  asked: 'waiting for your answer',
  accepted: 'being made',
  reported: 'report sent',
  approved: 'report approved, thank you',
  withdrawn: 'withdrawn',
};

/** @param {Assignment} a */
export const sayState = (a) => STATES[a.state] || a.state;

/** Whether something is still expected of the tester. @param {Assignment} a */
export const isOpen = (a) => a.state === 'asked' || a.state === 'accepted';

/**
 * The day by which the report is wanted, with what is left while it is open.
 * @param {Assignment} a @param {string} [today]
 */
export function sayDue(a, today) {
  const day = `due ${sayDay(a.due_on, today)}`;
  return isOpen(a) ? `${day} (${sayDaysLeft(a.days_left)})` : day;
}

/** Open ones first, the nearest day first. @param {Assignment[]} list */
export function inOrder(list) {
  return [...list].sort((a, b) => Number(isOpen(b)) - Number(isOpen(a)) || a.due_on.localeCompare(b.due_on) || a.id.localeCompare(b.id));
}

/** The unit of a count as it stands behind its number. @param {string} unit @param {number} value */
export function sayCountUnit(unit, value) {
  /** @type {Record<string, [string, string]>} */
  const words = { stitch: ['stitch', 'stitches'], row: ['row', 'rows'], repeat: ['repeat', 'repeats'] };
  if (unit === 'row_number') return '';
  const pair = words[unit];
  return pair ? pair[value === 1 ? 0 : 1] : unit;
}

/** The hook or needle, its size said once. @param {string} tool @param {string} size like "5 mm"; '' for none */
export function sayTool(tool, size) {
  const said = size !== '' && ` ${tool} `.includes(` ${size} `);
  return [tool, said ? '' : size].filter(Boolean).join(', ');
}
