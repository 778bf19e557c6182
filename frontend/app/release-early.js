// Going out before the announced day: it is asked, with the day named.
import { h } from '../parts/h.js';
import { openForm } from '../parts/open-dialog.js';
import '../parts/entry-form.js';
import { sayEarly } from './release-words.js';

/**
 * @param {{what: string, on: string, today: string, gone: AbortSignal, save: () => Promise<any>, done: () => Promise<void>}} of
 */
export function askEarly({ what, on, today, gone, save, done }) {
  openForm({ title: 'Out before its day?', say: 'It is out already', gone, save, done },
    h('p', {}, sayEarly(what, on, today)),
    h('p', {}, 'Mark it as out only when it is there for everybody. If its day has moved, close this and change the day first.'));
}
