import { h, put } from '../parts/h.js';
import { sayMoment } from '../parts/dates.js';
import * as api from './api.js';
import { announce } from './shell.js';
import { hasRole } from './session.js';
import { sayError } from './problem.js';
import { drawPoints } from './report-points.js';
import { drawFacts } from './report-facts.js';
import { photoRow } from './photo-view.js';

export const sheets = ['tape-strip', 'report', 'photos'];

/** @typedef {import('../shapes-testing.js').OpenedReport} Opened */
/** @typedef {import('../shapes-testing.js').Report} Report */

/** @param {import('../shapes.js').View} view */
export async function draw(view) {
  const { params, gone, me, settings } = view;
  const options = { signal: gone };
  const path = `/designs/${encodeURIComponent(params.slug)}`;
  /** @type {[import('../shapes.js').Design, Opened, import('../shapes-testing.js').Remark[]]} */
  const [design, report, remarks] = await Promise.all([
    api.get(path, options), api.get(`/reports/${encodeURIComponent(params.id)}`, options), api.all(`${path}/remarks`, options)]);
  const a = report.assignment;
  /** @type {[{items: Report[]}, import('../shapes-photos.js').Photos]} */
  const [{ items: numbers }, { items: photos }] = await Promise.all([api.get(`/assignments/${a.id}/reports`, options), api.get(`/assignments/${a.id}/photos`, options)]);
  view.title(`${a.handle}, size ${a.size}`);
  put(view.lede,
    h('p', {}, design.name, ` · version ${a.version} · number ${report.number}, ${sayMoment(report.sent_at, settings.zone)}${report.source === 'import' ? ', imported' : ''}`),
    h('p', {}, h('a', { href: `/d/${encodeURIComponent(design.slug)}/testing#reports` }, 'All reports')));
  const points = h('section', { class: 'sec', 'aria-labelledby': 'points-title' });
  const facts = h('section', { class: 'sec', 'aria-labelledby': 'facts-title' });
  const verdict = h('div', { class: 'verdict-line' });
  put(view.page, newer(report, numbers, design.slug), verdict, photos.length ? h('section', { class: 'sec', 'aria-labelledby': 'photos-title' }, h('h2', { id: 'photos-title' }, 'Photos'), photoRow(photos, gone)) : null,
    h('div', { class: 'report' }, points, facts));
  drawPoints(points, report, design, me.unit);
  drawFacts(facts, report, design, numbers, remarks.filter((r) => r.assignment_id === a.id), settings.zone);
  showVerdict(verdict, report, hasRole(me, 'designer'), settings.zone);
}

/** @param {Opened} report @param {Report[]} numbers @param {string} slug */
function newer(report, numbers, slug) {
  const now = numbers.find((r) => !r.superseded_at);
  if (!report.superseded_at || !now) return null;
  return h('p', { class: 'note' }, `A later number counts in place of this one: `, h('a', { href: `/d/${encodeURIComponent(slug)}/reports/${now.id}` }, `number ${now.number}`), '.');
}

/** @param {Element} box @param {Opened} report @param {boolean} may @param {string} zone */
function showVerdict(box, report, may, zone) {
  const wrong = h('p', { class: 'error', role: 'alert' });
  const said = report.approved_at ? h('span', { class: 'leaf' }, `Approved ${sayMoment(report.approved_at, zone)}. `) : h('span', {}, 'Not approved yet. ');
  const button = may && !report.superseded_at ? h('button', { type: 'button', class: report.approved_at ? undefined : 'main', onclick: approve }, report.approved_at ? 'Take the approval back' : 'Approve this report') : null;
  put(box, said, button, wrong);

  async function approve() {
    try {
      /** @type {Partial<Opened>} */
      const now = await api.post(`/reports/${report.id}/approve`, { approved: !report.approved_at }, { revision: report.revision });
      Object.assign(report, { approved_at: now.approved_at, revision: now.revision });
      showVerdict(box, report, may, zone);
      box.querySelector('button')?.focus();
      announce(report.approved_at ? 'The report is approved.' : 'The approval is taken back.');
    } catch (err) {
      put(wrong, sayError(err));
    }
  }
}
