import { h, put } from '../parts/h.js';
import '../parts/data-table.js';
import '../parts/form-field.js';
import '../parts/entry-form.js';
import { openDialog } from '../parts/open-dialog.js';
import * as api from './api.js';
import { takeOut } from './take-out.js';
import { hasRole } from './session.js';
import { invite } from './invitation.js';
import { forgetPerson } from './forget.js';
import { openSignIn } from './people-sign-in.js';
import { announce } from './shell.js';
import { workForm } from './work-form.js';
import { ROLES, UNITS, TERMS, word } from './words.js';

export const sheets = ['data-table', 'people'];

/** @typedef {import('../shapes.js').Person} Person */

/** @param {import('../shapes.js').View} view */
export async function draw({ page, lede, me, gone, title }) {
  title('People');
  const mayChange = hasRole(me, 'designer');
  lede.textContent = mayChange ? 'The studio and its testers' : 'The studio';
  const table = h('data-table', { empty: 'Nobody here yet.' });
  table.columns = [
    { label: 'Handle', head: true, cell: (/** @type {Person} */ p) => [p.handle, p.disabled ? h('span', { class: 'soft' }, ' (no longer here)') : null] },
    { label: 'Name', cell: (/** @type {Person} */ p) => p.name },
    { label: 'Roles', cell: (/** @type {Person} */ p) => p.roles.map((r) => word(ROLES, r)).join(', ') },
    { label: 'Measures in', cell: (/** @type {Person} */ p) => word(UNITS, p.unit) },
    ...(mayChange ? [{ label: 'E-mail', cell: (/** @type {Person} */ p) => p.email }, { label: '', cell: actsFor }] : []),
  ];
  const load = async () => { table.rows = await api.all('/people', { signal: gone }); };
  put(page, mayChange ? h('div', { class: 'acts lead' }, h('button', { type: 'button', class: 'main', onclick: () => edit(null) }, 'Add a person')) : null, table, mayChange ? takeOut('/tables/people') : null);
  await load();

  /** @param {Person} p */
  function actsFor(p) {
    return h('div', { class: 'row-acts' },
      h('button', { type: 'button', 'aria-label': `Change ${p.handle}`, onclick: () => edit(p) }, 'Change'),
      h('button', { type: 'button', 'aria-label': `Invitation link for ${p.handle}`, onclick: () => invite(`/people/${p.id}/invitation`, p) }, 'Invitation link'),
      h('button', { type: 'button', 'aria-label': `Sign-in of ${p.handle}`, onclick: () => openSignIn(p, p.id === me.id, gone) }, 'Sign-in'),
      p.roles.every((r) => r === 'tester') ? null : h('button', { type: 'button', 'aria-label': `Working days of ${p.handle}`, onclick: () => openWork(p) }, 'Working days'),
      p.id === me.id ? null : h('button', { type: 'button', class: 'plain', 'aria-label': `Forget ${p.handle}`, onclick: () => forgetPerson(p, gone, load) }, 'Forget'));
  }

  /** @param {Person} p */
  async function openWork(p) {
    const form = await workForm(p.id, gone, async () => {
      dialog.close();
      announce(`Saved when ${p.handle} works.`);
      await load(); // the row carries the person's revision
    });
    const dialog = openDialog(`When ${p.handle} works`, gone, form);
  }

  /** @param {Person | null} p */
  function edit(p) {
    const once = new api.OnceKey();
    const address = addressFields(p);
    const dialog = h('dialog', { 'aria-label': p ? `Change ${p.handle}` : 'Add a person', onclose: () => dialog.remove() },
      h('div', { class: 'sec-head' }, h('h2', {}, p ? p.handle : 'Add a person'), h('button', { type: 'button', onclick: () => dialog.close() }, 'Close')),
      h('entry-form', { say: p ? 'Save' : 'Add', '.save': save }, fields(p, address)));
    document.body.append(dialog);
    dialog.showModal();

    /** @param {Record<string, any>} values */
    async function save(values) {
      if (p) await api.patch(`/people/${p.id}`, { ...values, email: values.email.trim() || null }, { revision: p.revision });
      else {
        const body = Object.fromEntries(Object.entries(values).filter(([, v]) => v !== ''));
        await api.post('/people', body, { key: once.for(body) });
      }
      dialog.close();
      await load();
    }
  }
}

/**
 * The e-mail address, and with another one for somebody who is on file the own
 * password of who changes it.
 * @param {Person | null} p
 */
function addressFields(p) {
  const email = h('form-field', { name: 'email', label: 'E-mail', kind: 'email', autocomplete: 'off', value: p?.email });
  if (!p) return email;
  const password = h('form-field', { name: 'password', label: 'Your own password', kind: 'password', required: true, autocomplete: 'current-password',
    hint: `Asked for another address: a letter there may bring a link that sets ${p.handle}’s password. They are told that it changed.` });
  const place = h('div', { 'aria-live': 'polite' });
  email.addEventListener('input', () => {
    const moved = email.value.trim() !== (p.email || '');
    if (moved !== password.isConnected) put(place, moved ? password : null);
  });
  return [email, place];
}

/** @param {Person | null} p @param {import('../parts/h.js').Child} address */
function fields(p, address) {
  return [
    p ? null : h('form-field', { name: 'handle', label: 'Handle', required: true, autocapitalize: 'off', spellcheck: 'false', autocomplete: 'off', hint: 'How everyone calls them here; testers are known by it.' }),
    h('form-field', { name: 'name', label: 'Name', autocomplete: 'off', value: p?.name }),
    address,
    h('check-field', { name: 'roles', label: 'Roles', required: true, '.options': ROLES, '.value': p?.roles || [] }),
    p ? h('check-field', { name: 'disabled', label: 'No longer here: may not sign in', '.value': Boolean(p.disabled) }) : [
      h('form-field', { name: 'unit', label: 'Measures in', kind: 'select', quiet: true, '.options': UNITS }),
      h('form-field', { name: 'terms', label: 'Reads stitch names in', kind: 'select', quiet: true, '.options': TERMS })],
  ];
}
