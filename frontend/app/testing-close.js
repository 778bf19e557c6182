import { h } from '../parts/h.js';
import { openForm } from '../parts/open-dialog.js';
import '../parts/data-table.js';
import '../parts/form-field.js';
import '../parts/entry-form.js';
import * as api from './api.js';
import { announce } from './shell.js';
import { sayError } from './problem.js';

/** @typedef {import('./testing.js').Desk} Desk */
/** @typedef {import('../shapes-recruiting.js').CallSummary} CallSummary */

/** Closes the call with what came of it and a thank-you. @param {Desk} desk */
export async function closeCall(desk) {
  const call = /** @type {import('../shapes-testing.js').Call} */ (desk.call);
  /** @type {CallSummary} */
  let summary;
  try {
    summary = await api.get(`/calls/${call.id}/summary`, { signal: desk.view.gone });
  } catch (err) {
    if (!desk.view.gone.aborted) announce(sayError(err));
    return;
  }
  openForm({
    title: `Close ${call.title}`, say: 'Close the call', gone: desk.view.gone,
    save: ({ thanks }) => api.patch(`/calls/${call.id}`, { closed: true, thanks }, { revision: call.revision }),
    done: async () => {
      await desk.refresh();
      announce('The call is closed. The thank-you is among what is to be told.');
    },
  }, h('p', {}, summary.sentence), summary.short.length ? h('p', { class: 'pin' }, 'A closed call takes no more testers; it can be opened again.') : null,
  h('form-field', { name: 'thanks', label: 'Your thank-you to all who reported', kind: 'area', maxlength: 4000, hint: 'It goes below a line that thanks each for their size.',
    value: call.thanks || 'Without you we would not know that every size can be made as it is written.' }));
}

/** What came of a call, as it stands under a closed one. @param {CallSummary} summary */
export function callSummary(summary) {
  const table = h('data-table', {});
  table.columns = [
    { label: 'Size', head: true, cell: (/** @type {any} */ z) => h('span', {}, h('span', { class: 'of-card' }, 'Size '), z.name) },
    ...[['Asked', 'asked'], ['Withdrew', 'withdrawn'], ['Reported', 'reported'], ['In time', 'in_time'], ['Approved', 'approved'], ['Not sent', 'awaited']]
      .map(([label, key]) => ({ label, num: true, cell: (/** @type {any} */ z) => z[key] })),
  ];
  table.rows = summary.sizes;
  return h('div', {}, h('p', {}, summary.sentence), table);
}
