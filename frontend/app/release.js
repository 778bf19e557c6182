// Release: what goes out on which day, to work through, and the gates that hold
// the design and each installment back.
import { h, put } from '../parts/h.js';
import { keepFocus } from '../parts/keep-focus.js';
import { openForm } from '../parts/open-dialog.js';
import '../parts/entry-form.js';
import '../parts/form-field.js';
import * as api from './api.js';
import { hasRole } from './session.js';
import { listen } from './live.js';
import { announce } from './shell.js';
import { drawDays } from './release-days.js';
import { designGates, installmentGates, takenBack } from './release-gates.js';
import { tallyDays, tallyGates } from './release-words.js';

export const sheets = ['release'];

/**
 * @typedef {object} Outgoing
 * @property {import('../shapes.js').View} view
 * @property {string} path of the design
 * @property {import('../shapes-release.js').Release} release
 * @property {boolean} mayOpen may open gates, name the version and release the text
 * @property {boolean} mayTick may tick the rest off
 * @property {() => Promise<void>} refresh
 */

/** @param {import('../shapes.js').View} view */
export async function draw(view) {
  const path = `/designs/${encodeURIComponent(view.params.slug)}`;
  view.title('Release');
  /** @type {Outgoing} */
  const out = { view, path, release: /** @type {any} */ (null), mayOpen: hasRole(view.me, 'designer'), mayTick: hasRole(view.me, 'designer', 'filmer'), refresh };
  await refresh();
  listen(`${path}/live`, refresh, view.gone);
  // On paper nothing can be unfolded.
  addEventListener('beforeprint', () => { for (const d of view.page.querySelectorAll('details:not(.no-print)')) /** @type {HTMLDetailsElement} */ (d).open = true; }, { signal: view.gone });

  async function refresh() {
    out.release = await api.get(`${path}/release`, { signal: view.gone });
    if (!view.gone.aborted) keepFocus(view.page, () => show(out));
  }
}

/** @param {Outgoing} out */
function show(out) {
  const { view, release: r } = out;
  const shut = new Set([...view.page.querySelectorAll('details:not([open])')].map((d) => d.getAttribute('data-part')));
  const known = new Set([...view.page.querySelectorAll('details')].map((d) => d.getAttribute('data-part')));
  put(view.lede, h('p', {}, r.design.name), h('p', {}, tallyDays(r.days), '; ', tallyGates(r.gates), '.'));
  put(view.page,
    h('div', { class: 'acts lead no-print' }, h('button', { type: 'button', 'data-key': 'print', onclick: () => print() }, 'Print the checklist')),
    version(out),
    h('section', { class: 'sec', 'aria-labelledby': 'days' }, h('h2', { id: 'days' }, 'What goes out when'), drawDays(out)),
    h('section', { class: 'sec', 'aria-labelledby': 'gates' }, h('h2', { id: 'gates' }, 'Gates of the whole design'), designGates(out)),
    r.installments.length ? h('section', { class: 'sec', 'aria-labelledby': 'run' }, h('h2', { id: 'run' }, 'What holds each installment back'), installmentGates(out)) : null,
    takenBack(out));
  for (const d of view.page.querySelectorAll('details')) {
    const part = d.getAttribute('data-part');
    if (known.has(part)) d.open = !shut.has(part);
  }
}

/** Which version goes out, and who may say so. @param {Outgoing} out */
function version(out) {
  const r = out.release;
  const latest = r.versions[r.versions.length - 1].number;
  return h('p', { class: 'going-out' }, h('b', {}, `Version ${r.out_version} goes out`), r.out_version === latest ? ', the latest' : `, although there is version ${latest}`,
    r.signed ? '. A tech editor has signed it off.' : h('span', { class: 'pin' }, '. No tech editor’s sign-off of it stands.'),
    out.mayOpen && r.versions.length > 1 ? [' ', h('button', { type: 'button', class: 'plain no-print', 'data-key': 'version', onclick: () => nameVersion(out) }, 'Name another version')] : null);
}

/** @param {Outgoing} out */
function nameVersion(out) {
  const r = out.release;
  const field = h('form-field', { kind: 'select', name: 'version', label: 'Goes out', hint: 'The latest one follows each new version that you begin; a named one stays.',
    '.options': [['', 'the latest'], ...[...r.versions].reverse().map((v) => [String(v.number), `version ${v.number}`])] });
  field.value = r.design.out_version === null ? '' : String(r.design.out_version);
  openForm({ title: 'The version that goes out', say: 'Name it', gone: out.view.gone,
    save: (values) => api.patch(out.path, { out_version: values.version ? Number(values.version) : null }, { revision: r.design.revision }),
    done: async () => { await out.refresh(); announce(`Version ${out.release.out_version} goes out.`); } }, field);
}
