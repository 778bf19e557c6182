import { h } from '../parts/h.js';
import * as api from './api.js';
import { announce } from './shell.js';
import { sayError } from './problem.js';

/**
 * Buttons that take a table out, as CSV or as a spreadsheet.
 * @param {string} path of the table, below /api/v1
 * @param {string} [what] of which table, where a page has several
 */
export function takeOut(path, what = '') {
  const of = what ? ` of ${what}` : '';
  const about = what ? `${what[0].toUpperCase()}${what.slice(1)}: ` : '';
  return h('p', { class: 'take-out no-print' }, h('span', { class: 'soft' }, about || 'Take this table out: '),
    h('button', { type: 'button', class: 'plain', 'aria-label': `CSV${of}`, onclick: () => fetchFile(`${path}?as=csv`) }, 'CSV'), ' ',
    h('button', { type: 'button', class: 'plain', 'aria-label': `Spreadsheet${of}`, onclick: () => fetchFile(`${path}?as=xlsx`) }, 'Spreadsheet'));
}

/** Several tables of one page, folded. @param {string} path of a design's tables @param {[name: string, what: string][]} tables */
export function takeOutSeveral(path, tables) {
  return h('details', { class: 'take-outs no-print' }, h('summary', {}, 'Take out as CSV or spreadsheet'), tables.map(([name, what]) => takeOut(`${path}/tables/${name}`, what)));
}

/**
 * Fetches a file the way a browser does, into its own downloads. The sign-in is
 * made fresh first: a download can't ask for that by itself.
 * @param {string} path below /api/v1
 */
export async function fetchFile(path) {
  try {
    await api.get('/me');
    const link = h('a', { href: `/api/v1${path}`, download: '' });
    link.click();
    announce('The file is on its way to your downloads.');
  } catch (err) {
    announce(sayError(err));
  }
}
