import { h, put } from '../parts/h.js';
import { openForm } from '../parts/open-dialog.js';
import '../parts/form-field.js';
import '../parts/entry-form.js';
import * as api from './api.js';
import { announce } from './shell.js';
import { hasRole } from './session.js';
import { sayError } from './problem.js';
import { editCorrection } from './corrections-edit.js';
import { sayState } from './corrections-words.js';
import { go } from './router.js';

/** @typedef {import('./testing.js').Desk} Desk */
/** @typedef {import('../shapes-testing.js').Remark} Remark */

/**
 * What testers and editors said about places in the text: open ones first.
 * @param {Element} section @param {Desk} desk
 */
export function drawRemarks(section, desk) {
  const open = desk.remarks.filter((r) => !r.settled_at);
  const settled = desk.remarks.filter((r) => r.settled_at);
  const mayAnswer = hasRole(desk.view.me, 'designer', 'tech_editor');
  const wasOpen = /** @type {HTMLDetailsElement | null} */ (section.querySelector('details'))?.open;
  put(section, h('div', { class: 'sec-head' }, h('h2', { id: 'remarks-title' }, 'Remarks on the text'),
    desk.design.versions.length ? h('button', { type: 'button', 'data-key': 'add-remark', onclick: () => add(desk) }, 'Add a remark') : null),
  open.length ? h('ul', { class: 'plain rows' }, open.map((r) => item(r, desk, mayAnswer))) : h('p', { class: 'soft' }, 'No remark is open.'),
  settled.length ? h('details', { '.open': Boolean(wasOpen) }, h('summary', { 'data-key': 'settled' }, `Settled: ${settled.length}`), h('ul', { class: 'plain rows' }, settled.map((r) => item(r, desk, mayAnswer)))) : null);
}

/** @param {Remark} r @param {Desk} desk @param {boolean} may */
function item(r, desk, may) {
  const known = desk.corrections.find((c) => c.remark_id === r.id && c.state !== 'withdrawn');
  const wrong = h('p', { class: 'error', role: 'alert' });
  return h('li', { class: 'remark' },
    h('p', {}, h('b', {}, r.place), h('span', { class: 'soft' }, ` · ${r.handle || 'forgotten'}, version ${r.version}`)),
    h('p', {}, r.body), r.answer ? h('p', { class: 'answer' }, r.answer) : null,
    may ? h('div', { class: 'row-acts' },
      h('button', { type: 'button', 'data-key': `answer-${r.id}`, 'aria-label': `${r.answer ? 'Change the answer to' : 'Answer'} the remark on ${r.place}`, onclick: () => answer(r, desk) }, r.answer ? 'Change the answer' : 'Answer'),
      h('button', { type: 'button', 'data-key': `settle-${r.id}`, 'aria-label': `${r.settled_at ? 'Open again' : 'Settle'} the remark on ${r.place}`, onclick: settle }, r.settled_at ? 'Open again' : 'Settle'),
      known ? h('a', { href: `/d/${encodeURIComponent(desk.design.slug)}/corrections#correction-${known.number}` }, `Correction ${known.number}: ${sayState(known)}`) : h('button', { type: 'button', 'data-key': `correct-${r.id}`, 'aria-label': `Write a correction from the remark on ${r.place}`, onclick: () => correct(r, desk).catch((err) => put(wrong, sayError(err))) }, 'Write a correction')) : null, wrong);

  async function settle() {
    try {
      await api.patch(`/remarks/${r.id}`, { settled: !r.settled_at }, { revision: r.revision });
      await desk.refresh();
      announce(r.settled_at ? 'The remark is open again.' : 'The remark is settled.');
    } catch (err) {
      put(wrong, sayError(err));
    }
  }
}

/** Its writer is taken as who found it, unless the form says otherwise. @param {Remark} r @param {Desk} desk */
function correct(r, desk) {
  const { view, path, design } = desk;
  const since = design.versions.find((v) => v.number === r.version);
  return editCorrection({ view, path, design, refresh: (saved) => go(`/d/${encodeURIComponent(design.slug)}/corrections#correction-${saved.number}`) }, null,
    { place: r.place, since_version_id: since?.id, remark_id: r.id, about: r.body });
}

/** @param {Remark} r @param {Desk} desk */
function answer(r, desk) {
  openForm({
    title: `Answer: ${r.place}`, say: 'Save the answer', gone: desk.view.gone,
    save: (values) => api.patch(`/remarks/${r.id}`, values, { revision: r.revision }),
    done: () => desk.refresh(),
  }, h('p', {}, r.body), h('form-field', { name: 'answer', label: 'Answer', kind: 'area', required: true, maxlength: 4000, value: r.answer }),
  h('check-field', { name: 'settled', label: 'This settles it', '.value': Boolean(r.settled_at) }));
}

/** @param {Desk} desk */
function add(desk) {
  const once = new api.OnceKey();
  openForm({
    title: 'Add a remark', say: 'Add', gone: desk.view.gone,
    save: (values) => api.post(`${desk.path}/remarks`, values, { key: once.for(values) }),
    done: async () => { await desk.refresh(); announce('The remark is added.'); },
  }, h('form-field', { name: 'version_id', label: 'Version', kind: 'select', quiet: true, '.options': [...desk.design.versions].reverse().map((v) => [v.id, `version ${v.number}`]) }),
  h('form-field', { name: 'place', label: 'Where in the text', required: true, maxlength: 200, autocomplete: 'off' }),
  h('form-field', { name: 'body', label: 'What', kind: 'area', required: true, maxlength: 4000 }));
}
