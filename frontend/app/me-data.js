import { h, put } from '../parts/h.js';
import { openForm } from '../parts/open-dialog.js';
import '../parts/form-field.js';
import * as api from './api.js';
import { sayError } from './problem.js';
import { setPerson } from './session.js';
import { forgetAll } from './photo-drafts.js';
import { sayMoment } from '../parts/dates.js';
import { columnsOf, sayValue, saveAs } from './data-words.js';

/** @typedef {import('../shapes-keeping.js').PersonData} PersonData */
/** @typedef {import('../shapes-keeping.js').DataSection} DataSection */

/** What is kept about me: see it, download it, have it erased. @param {import('../shapes.js').View} view */
export function dataSection({ me, gone, settings }) {
  const shown = h('div', { class: 'keeping-said', 'aria-live': 'polite' });
  const trouble = h('div', { role: 'alert' });
  return h('section', { class: 'sec', id: 'kept' }, h('h2', {}, 'What is kept about me'),
    h('p', {}, 'Everything that this studio keeps about you, down to the last date. ', h('a', { href: '/privacy' }, 'Who sees what of a tester')),
    h('div', { class: 'acts' },
      h('button', { type: 'button', onclick: () => reached(async () => put(shown, sections(await read(), settings.zone))) }, 'Look at it'),
      h('button', { type: 'button', onclick: () => reached(async () => saveAs(`tenter-data-${me.handle}.json`, await read())) }, 'Download it'),
      h('a', { class: 'button', href: '/api/v1/me/photos.zip', download: true }, 'Download my photos'),
      h('button', { type: 'button', class: 'grave', onclick: ask }, 'Erase it …')),
    trouble, shown);

  /** @returns {Promise<PersonData>} */
  function read() { return api.get('/me/data', { signal: gone }); }

  /** @param {() => Promise<void>} what */
  async function reached(what) {
    put(trouble);
    try {
      await what();
    } catch (err) {
      put(trouble, h('p', { class: 'note bad' }, sayError(err)));
    }
  }

  function ask() {
    openForm({ title: 'Erase what is kept about me', say: 'Erase it for good', gone, save, done: leave },
      h('p', {}, 'Your name, handle, e-mail address and password, your body measurements and everything that you wrote are erased, and you can’t sign in any more. What you measured stays, as the work of nobody.'),
      h('p', {}, 'This can’t be undone. Copies that the studio has made for safety keep you until they are replaced.'),
      h('form-field', { name: 'confirm', label: `Type your handle, ${me.handle}`, required: true, autocapitalize: 'off', spellcheck: 'false', autocomplete: 'off' }),
      h('form-field', { name: 'password', label: 'Your password', kind: 'password', required: true, autocomplete: 'current-password' }));
  }

  /** @param {Record<string, any>} values */
  async function save(values) {
    await api.post('/me/forget', values);
  }

  async function leave() {
    dropDrafts(me.id);
    await forgetAll(me.id);
    setPerson(null);
    location.assign('/sign-in');
  }
}

/** Drafts of reports that this browser keeps for the person. @param {string} person */
function dropDrafts(person) {
  try {
    Object.keys(localStorage).filter((key) => key.includes(person)).forEach((key) => localStorage.removeItem(key));
  } catch {
    // A browser that keeps nothing has nothing to erase.
  }
}

/** @param {PersonData} data @param {string} zone */
function sections(data, zone) {
  const some = data.sections.filter((s) => s.rows.length > 0);
  return [h('p', { class: 'soft' }, `As of ${sayMoment(data.at, zone)}. The download also has the ids.`),
    some.map((s) => h('details', { class: 'kept' }, h('summary', {}, s.says, h('span', { class: 'soft' }, ` ${s.rows.length}`)), rowsOf(s, zone)))];
}

/** @param {DataSection} section @param {string} zone */
function rowsOf(section, zone) {
  const columns = columnsOf(section.rows);
  return h('div', { class: 'wide', tabindex: '0', role: 'region', 'aria-label': section.says },
    h('table', {}, h('thead', {}, h('tr', {}, columns.map((c) => h('th', { scope: 'col' }, c.replaceAll('_', ' '))))),
      h('tbody', {}, section.rows.map((row) => h('tr', {}, columns.map((c) => h('td', {}, sayValue(row[c], zone))))))));
}
