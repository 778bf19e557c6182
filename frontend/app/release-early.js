// Going out before the announced day: the server refuses it until it is said on
// purpose, after everything else that could be wrong; then it is asked here,
// with the day named.
import { h } from '../parts/h.js';
import { openForm } from '../parts/open-dialog.js';
import '../parts/entry-form.js';
import { Problem } from './problem.js';
import { sayEarly } from './release-words.js';

/** Whether the server wants to hear that the day is meant. @param {unknown} err */
export const wantsEarly = (err) => err instanceof Problem && err.fields.has('before_its_day');

/**
 * @param {{what: string, on: string, today: string, gone: AbortSignal, save: () => Promise<any>, done: () => Promise<void>}} of
 */
export function askEarly({ what, on, today, gone, save, done }) {
  openForm({ title: 'Out before its day?', say: 'It is out already', gone, save, done },
    h('p', {}, sayEarly(what, on, today)),
    h('p', {}, 'Mark it as out only when it is there for everybody. If its day has moved, close this and change the day first.'));
}
