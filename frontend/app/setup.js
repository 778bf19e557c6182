import { h, put } from '../parts/h.js';
import '../parts/entry-form.js';
import * as api from './api.js';
import { go, holdWhile } from './router.js';
import { announce } from './shell.js';
import { hasRole } from './session.js';
import { designFields, designBody } from './design-fields.js';
import { SizesEditor } from './setup-sizes.js';
import { PointsEditor } from './setup-points.js';
import { CautionsPanel } from './setup-cautions.js';
import { CoveragePanel } from './setup-coverage.js';
import { designHints } from './design-hints.js';

export const sheets = ['setup'];

/** @typedef {import('../shapes.js').Design} Design */

/**
 * A design's own facts: what it is, its sizes, its points of measure. The three
 * share one revision, so each save hands the new one to the others.
 * @param {import('../shapes.js').View} view
 */
export async function draw(view) {
  const { page, lede, params, gone, title, me, settings } = view;
  const path = `/designs/${encodeURIComponent(params.slug)}`;
  /** @type {Design} */
  let design = await api.get(path, { signal: gone });
  title(`Set up ${design.name}`);
  const mayChange = hasRole(me, 'designer');
  lede.textContent = mayChange ? 'What it is, its sizes, where it is measured, and what to watch for' : 'Only the designer changes this page.';

  const sizes = new SizesEditor(design, async (body) => saved(await api.put(`${path}/sizes`, body, { revision: design.revision }), 'The sizes are saved.'), gone);
  const points = new PointsEditor(design, async (body) => saved(await api.put(`${path}/points`, body, { revision: design.revision }), 'The points are saved.'), gone);
  const coverage = new CoveragePanel(design, { gone, unit: me.unit });
  const cautions = new CautionsPanel(design, { gone, zone: settings.zone, mayChange }, (revision) => { design.revision = revision; });
  const form = h('entry-form', { class: 'narrow', say: 'Save the design', '.save': saveDesign }, designFields(design));
  holdWhile(() => (sizes.changed || points.changed ? 'There are sizes or points that are not saved.' : ''));

  put(page,
    h('section', { class: 'sec', id: 'design', 'aria-labelledby': 'design-title' }, h('h2', { id: 'design-title' }, 'The design'),
      form, designHints(form, gone)),
    h('section', { class: 'sec', id: 'sizes', 'aria-labelledby': 'sizes-title' }, h('h2', { id: 'sizes-title' }, 'Sizes'),
      h('p', { class: 'soft' }, 'From the smallest to the largest, with the body each is made for. A size that has testers, samples or reports can\'t be taken out.'), sizes.root),
    h('section', { class: 'sec', id: 'coverage', 'aria-labelledby': 'coverage-title' }, h('h2', { id: 'coverage-title' }, 'Whom the sizes serve'), coverage.root),
    h('section', { class: 'sec', id: 'points', 'aria-labelledby': 'points-title' }, h('h2', { id: 'points-title' }, 'Points of measure'),
      h('p', { class: 'soft' }, 'Where the finished piece is measured, what the counts give there, and what is intended for each size.'), points.root),
    h('section', { class: 'sec', id: 'cautions', 'aria-labelledby': 'cautions-title' }, h('h2', { id: 'cautions-title' }, 'Cautions'), cautions.root));
  if (!mayChange) for (const control of page.querySelectorAll('#design :is(input, select, textarea, button), #sizes :is(input, button), #points :is(input, select, textarea, button)')) control.setAttribute('disabled', '');

  /** @param {Record<string, any>} values */
  async function saveDesign(values) {
    const slug = design.slug;
    saved(await api.patch(path, designBody(values, false), { revision: design.revision }), 'The design is saved.');
    if (design.slug !== slug) go(`/d/${encodeURIComponent(design.slug)}/setup`, { replace: true });
  }

  /** @param {Design} now @param {string} words */
  function saved(now, words) {
    design = now;
    title(`Set up ${design.name}`);
    sizes.take(design);
    points.take(design);
    coverage.take(design);
    cautions.take(design);
    announce(words);
    return design;
  }
}
