import { h, put } from '../parts/h.js';
import { openForm } from '../parts/open-dialog.js';
import '../parts/data-table.js';
import '../parts/form-field.js';
import '../parts/entry-form.js';
import * as api from './api.js';
import { announce } from './shell.js';
import { sayError } from './problem.js';
import { UNITS, TERMS } from './words.js';
import { openImport } from './import.js';
import { sentence } from './plan-words.js';
import { openApplicant } from './testing-applicant.js';
import { choicesFor, sayRecord, waitingFirst, ASSIGNED_STATES } from './testing-words.js';

/** @typedef {import('./testing.js').Desk} Desk */
/** @typedef {import('../shapes-testing.js').Application} Application */

/**
 * Who offered, with their sizes best first and their record; a size is given by hand.
 * @param {Element} section @param {Desk} desk
 */
export function drawApplicants(section, desk) {
  const waiting = desk.applications.filter((a) => !a.assignment).length;
  const table = h('data-table', { empty: desk.applications.length ? 'Everybody who offered has a size.' : 'Nobody has offered yet. Import the answers of your form, or add a tester by hand.' });
  table.columns = [
    { label: 'Handle', head: true, cell: (/** @type {Application} */ a) => (desk.may ? h('button', { type: 'button', class: 'plain handle', 'data-key': `applicant-${a.id}`, 'aria-label': `Offer of ${a.person.handle}`, onclick: () => openApplicant(a, desk) }, a.person.handle) : a.person.handle) },
    { label: 'Would make', cell: (/** @type {Application} */ a) => a.sizes.map(desk.sizeName).join(', then ') },
    { label: 'Record', cell: (/** @type {Application} */ a) => recordOf(a, desk) },
    { label: 'Reads', cell: (/** @type {Application} */ a) => `${a.person.unit}, ${a.person.terms.toUpperCase()} terms` },
    { label: 'Remarks', cell: (/** @type {Application} */ a) => a.remarks },
    { label: 'Makes', cell: (/** @type {Application} */ a) => (a.declined_at ? h('span', { class: 'soft' }, 'no size this time') : a.assignment ? `size ${desk.sizeName(a.assignment.size_id)}, ${ASSIGNED_STATES[a.assignment.state]}` : desk.may ? assigning(a, desk) : h('span', { class: 'soft' }, 'no size yet')) },
  ];
  const inOrder = waitingFirst(desk.applications);
  table.rows = inOrder.filter((a) => !a.assignment);
  const placed = h('data-table', {});
  placed.columns = table.columns;
  placed.rows = inOrder.filter((a) => a.assignment);
  const wasOpen = Boolean(section.querySelector('details')?.open);
  put(section, h('div', { class: 'sec-head' }, h('h2', { id: 'applicants-title' }, 'Applicants'),
    desk.may ? h('div', { class: 'row-acts' },
      h('button', { type: 'button', 'data-key': 'import-applicants', onclick: () => openImport(desk, 'applicants') }, 'Import applicants'),
      h('button', { type: 'button', 'data-key': 'add-applicant', onclick: () => addByHand(desk) }, 'Add one by hand')) : null),
  desk.applications.length ? h('p', { class: 'soft' }, `${desk.applications.length} offered, ${waiting} without a size.`) : null, table,
  placed.rows.length ? h('details', { '.open': wasOpen }, h('summary', { 'data-key': 'placed' }, `With a size: ${placed.rows.length}`), placed) : null);
}

/** What the studio knows of them and what they told. @param {Application} a @param {Desk} desk */
function recordOf(a, desk) {
  const known = desk.plan?.people.find((x) => x.person_id === a.person.id)?.record;
  return known ? sentence(known.sentence) : sayRecord(a);
}

/** @param {Application} a @param {Desk} desk */
function assigning(a, desk) {
  const call = /** @type {import('../shapes-testing.js').Call} */ (desk.call);
  const select = h('select', { 'aria-label': `Size for ${a.person.handle}` }, choicesFor(a, call.slots, desk.sizeName).map(([value, words]) => h('option', { value }, words)));
  const wrong = h('p', { class: 'error', role: 'alert' });
  const key = `assign-${a.id}`;
  return h('div', { class: 'assigning' }, select, h('button', { type: 'button', 'data-key': key, 'aria-label': `Assign this size to ${a.person.handle}`, onclick: assign }, 'Assign'), wrong);

  async function assign() {
    put(wrong);
    try {
      const made = await api.post(`/calls/${call.id}/assignments`, { person_id: a.person.id, size_id: select.value });
      await desk.refresh();
      announce(`${a.person.handle} makes size ${made.size.name}.`);
      /** @type {HTMLElement | null} */ (document.querySelector(`[data-key="invite-${made.id}"]`))?.focus();
    } catch (err) {
      put(wrong, sayError(err));
    }
  }
}

/** @param {Desk} desk */
function addByHand(desk) {
  const call = /** @type {import('../shapes-testing.js').Call} */ (desk.call);
  const once = new api.OnceKey();
  /** @type {[string, string][]} */
  const sizes = [['', '–'], ...desk.design.sizes.map((s) => /** @type {[string, string]} */ ([s.id, s.name]))];
  const places = ['Size they would like best', 'Second', 'Third'].map((label, i) => h('form-field', { 'data-at': `sizes[${i}]`, label, kind: 'select', quiet: i === 0, '.options': sizes }));
  openForm({ title: 'Add a tester by hand', say: 'Add', gone: desk.view.gone, save, done },
    h('form-field', { name: 'handle', label: 'Handle', required: true, autocapitalize: 'off', spellcheck: 'false', autocomplete: 'off' }),
    h('div', { class: 'side' }, h('form-field', { name: 'name', label: 'Name', autocomplete: 'off' }), h('form-field', { name: 'email', label: 'E-mail', kind: 'email', autocomplete: 'off' })),
    h('div', { class: 'side', 'data-at': 'sizes' }, places),
    h('div', { class: 'side' }, h('form-field', { name: 'accepted', label: 'Tests taken on so far', kind: 'number', min: 0, max: 1000 }), h('form-field', { name: 'finished', label: 'Of these finished', kind: 'number', min: 0, max: 1000 })),
    h('div', { class: 'side' }, h('form-field', { name: 'unit', label: 'Measures in', kind: 'select', quiet: true, '.options': UNITS }), h('form-field', { name: 'terms', label: 'Reads stitch names in', kind: 'select', quiet: true, '.options': TERMS })),
    h('form-field', { name: 'remarks', label: 'Remarks', kind: 'area', maxlength: 2000 }));

  /** @param {Record<string, any>} values */
  async function save(values) {
    const wanted = [...new Set(places.map((p) => p.value).filter(Boolean))];
    if (wanted.length === 0) { places[0].setError('Choose at least one size.'); places[0].focus(); throw new Error('Choose at least one size.'); }
    const body = { ...Object.fromEntries(Object.entries(values).filter(([, v]) => v !== '' && v !== null)), sizes: wanted };
    return api.post(`/calls/${call.id}/applications`, body, { key: once.for(body) });
  }

  /** @param {Application} made */
  async function done(made) {
    await desk.refresh();
    announce(`${made.person.handle} is added.`);
  }
}
