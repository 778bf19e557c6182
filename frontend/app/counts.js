import { h, put } from '../parts/h.js';
import { sayMoment } from '../parts/dates.js';
import * as api from './api.js';
import { go, holdWhile } from './router.js';
import { announce } from './shell.js';
import { hasRole } from './session.js';
import { sayError } from './problem.js';
import { SheetEditor } from './counts-editor.js';
import { drawVersions } from './counts-versions.js';
import { takeOutSeveral } from './take-out.js';
import { SignOffPanel } from './counts-sign-off.js';

export const sheets = ['setup', 'counts', 'tape-strip'];

/** @typedef {import('../shapes.js').Design} Design */
/** @typedef {import('../shapes.js').Sheet} Sheet */

/**
 * The count sheet of one version: the latest, or the one named by ?v=.
 * @param {import('../shapes.js').View} view
 */
export async function draw(view) {
  const { page, lede, params, query, gone, title, me, settings } = view;
  const path = `/designs/${encodeURIComponent(params.slug)}`;
  /** @type {Design} */
  const design = await api.get(path, { signal: gone });
  title('Counts');
  const version = pick(design, query.get('v'));
  if (!version) {
    put(page, h('p', {}, 'This design has no version yet.'));
    return;
  }
  /** @type {Sheet} */
  const sheet = await api.get(`/versions/${version.id}`, { signal: gone });
  if (sheet.sizes.length === 0) {
    lede.textContent = design.name;
    put(page, h('p', {}, 'A count has one value for each size. ', h('a', { href: `/d/${encodeURIComponent(design.slug)}/setup#sizes` }, 'Set up the sizes first'), '.'));
    return;
  }
  const mayChange = hasRole(me, 'designer');
  const signOff = new SignOffPanel(version.id, view, () => editor.changed);
  /** @type {SheetEditor} */
  const editor = new SheetEditor(design, sheet, { gone, unit: me.unit, readOnly: !mayChange || Boolean(sheet.given_out_at), query, saved: () => signOff.load() });
  holdWhile(() => (editor.changed ? 'The count sheet is not saved.' : ''));

  put(lede, `${design.name}, version ${sheet.number}`, sheet.note ? `: ${sheet.note}` : '', ` · written in ${design.terms.toUpperCase()} terms`, takeOutSeveral(path, [['counts', 'the latest counts'], ['counts-all', 'every version’s counts'], ['rules', 'the rules'], ['versions', 'the versions'], ['sign-offs', 'the sign-offs'], ['sizes', 'the sizes'], ['points', 'the points'], ['intended', 'what is intended']]));
  put(page, versions(design, sheet), sheet.given_out_at ? givenOut() : null, editor.root, signOff.root, drawVersions(design, sheet, gone, settings.zone));
  signOff.load();
  editor.start();

  function givenOut() {
    const trouble = h('p', { class: 'error', role: 'alert' });
    return h('div', { class: 'note' },
      h('p', {}, `Version ${sheet.number} was given to testers on ${sayMoment(sheet.given_out_at, settings.zone)}: it never changes. Corrections go into a new version.`),
      mayChange ? [h('div', { class: 'acts' }, h('button', { type: 'button', onclick: () => addVersion(trouble) }, 'Make a new version from the latest')), trouble] : null);
  }

  /** @param {HTMLElement} trouble */
  async function addVersion(trouble) {
    try {
      const made = await api.post(`${path}/versions`, { note: '' }, { key: once.for({ from: sheet.id }) });
      announce(`Version ${made.number} is made.`);
      go(`/d/${encodeURIComponent(design.slug)}/counts`);
    } catch (err) {
      trouble.textContent = sayError(err);
    }
  }
}

const once = new api.OnceKey();

/** @param {Design} design @param {string | null} number */
function pick(design, number) {
  const latest = [...design.versions].sort((a, b) => b.number - a.number)[0];
  return design.versions.find((v) => String(v.number) === number) || latest;
}

/** @param {Design} design @param {Sheet} sheet */
function versions(design, sheet) {
  if (design.versions.length < 2) return null;
  const ordered = [...design.versions].sort((a, b) => b.number - a.number);
  return h('nav', { class: 'versions', 'aria-label': 'Versions' }, h('span', { class: 'soft' }, 'Versions: '),
    ordered.map((v) => h('a', { href: `/d/${encodeURIComponent(design.slug)}/counts?v=${v.number}`, 'aria-current': v.id === sheet.id ? 'page' : undefined },
      String(v.number), v.given_out_at ? h('span', { class: 'soft' }, ' given out') : null)));
}
