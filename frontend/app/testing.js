import { h, put } from '../parts/h.js';
import { keepFocus } from '../parts/keep-focus.js';
import { sayDay, sayDaysLeft, daysBetween } from '../parts/dates.js';
import * as api from './api.js';
import { takeOutSeveral } from './take-out.js';
import { hasRole } from './session.js';
import { listen } from './live.js';
import { editCall, setClosed } from './testing-call.js';
import { callSummary, closeCall } from './testing-close.js';
import { openSignUp } from './testing-sign-up.js';
import { drawReminders } from './testing-reminders.js';
import { drawSlots } from './testing-slots.js';
import { fetchPlan, drawPlan } from './testing-plan.js';
import { drawApplicants } from './testing-applicants.js';
import { drawAssignments } from './testing-assignments.js';
import { drawReports } from './testing-reports.js';
import { drawRemarks } from './testing-remarks.js';

export const sheets = ['data-table', 'people', 'testing', 'plan', 'letters'];

/** @type {[name: string, what: string][]} */
const TABLES = [['applicants', 'the applicants'], ['bodies', 'applicants’ bodies'], ['calls', 'the calls'], ['assignments', 'who makes what'], ['check-ins', 'how far they are'], ['extensions', 'more time'], ['consents', 'consents'], ['reports', 'the reports'], ['measurements', 'every measurement'], ['remarks', 'the remarks'], ['corrections', 'the corrections']];

/** @typedef {import('../shapes-testing.js').Call} Call */
/**
 * Everything that the sections of the page stand on.
 * @typedef {object} Desk
 * @property {import('../shapes.js').View} view
 * @property {boolean} may whether this person may change things
 * @property {string} path of the design
 * @property {import('../shapes.js').Design} design
 * @property {Call | null} call
 * @property {import('../shapes-testing.js').Application[]} applications
 * @property {import('../shapes-testing.js').Assignment[]} assignments
 * @property {import('../shapes-testing.js').Comparison} comparison
 * @property {import('../shapes-testing.js').Remark[]} remarks
 * @property {import('../shapes-corrections.js').Correction[]} corrections
 * @property {import('../shapes-recruiting.js').Plan | null} [plan] who should make which size; null when it can't be said, and why in planTrouble
 * @property {string} [planTrouble]
 * @property {import('./what-if.js').WhatIf} [whatIf] what the designer decided before the plan is made
 * @property {Set<string>} [left] persons whose change is not to be taken
 * @property {import('../shapes-recruiting.js').Reminder[]} [reminders] what is due to be told; the designer's
 * @property {import('../shapes-letters.js').Post | null} [post] how e-mail stands; the designer's
 * @property {import('../shapes-recruiting.js').CallSummary | null} [summary] of a closed call
 * @property {(id: string) => string} sizeName
 * @property {() => Promise<void>} refresh
 */

/** @param {import('../shapes.js').View} view */
export async function draw(view) {
  const path = `/designs/${encodeURIComponent(view.params.slug)}`;
  const options = { signal: view.gone };
  /** @type {[import('../shapes.js').Design, Call[]]} */
  const [design, calls] = await Promise.all([api.get(path, options), api.all(`${path}/calls`, options)]);
  view.title('Testing');
  const asked = view.query.get('call');
  const call = calls.find((c) => c.id === asked) || calls.filter((c) => !c.closed_at).at(-1) || calls.at(-1) || null;
  const may = hasRole(view.me, 'designer');
  const parts = ['call', 'slots', 'plan', 'applicants', 'assignments', 'reminders', 'reports', 'remarks'].map((name) => h('section', { class: `sec testing-${name}`, 'aria-labelledby': `${name}-title`, id: name }));
  put(view.page, others(calls, call, view.params.slug), call ? jumps() : null, parts);

  /** @type {Desk} */
  const desk = {
    view, may, path, design, call, applications: [], assignments: [], comparison: { points: [], rows: [] }, remarks: [], corrections: [],
    sizeName: (id) => design.sizes.find((s) => s.id === id)?.name || '?', refresh,
  };
  await refresh();
  listen(`${path}/live`, refresh, view.gone);

  async function refresh() {
    const id = desk.call?.id;
    [desk.call, desk.applications, desk.assignments, desk.comparison, desk.remarks] = await Promise.all([
      id ? api.get(`/calls/${id}`, options) : null,
      id ? api.all(`/calls/${id}/applications`, options) : [],
      id ? api.all(`/calls/${id}/assignments`, options) : [],
      id ? api.get(`${path}/comparison`, options) : { points: [], rows: [] },
      api.all(`${path}/remarks`, options), id && !desk.call?.closed_at ? fetchPlan(desk, view.gone) : null]);
    [desk.corrections, desk.post, desk.reminders, desk.summary] = await Promise.all([
      api.get(`${path}/corrections`, options).then((/** @type {import('../shapes-corrections.js').Corrections} */ x) => x.items),
      id && may ? api.get('/letters/post', options) : null,
      id && may ? api.get(`/calls/${id}/reminders`, options).then((/** @type {any} */ x) => x.items) : [],
      desk.call?.closed_at ? api.get(`/calls/${id}/summary`, options) : null]);
    if (view.gone.aborted) return;
    keepFocus(view.page, () => show(desk, parts));
  }
}

/** @param {Desk} desk @param {HTMLElement[]} parts */
function show(desk, parts) {
  const [call, slots, plan, applicants, assignments, reminders, reports, remarks] = parts;
  put(desk.view.lede, desk.design.name, takeOutSeveral(desk.path, TABLES.filter(([name]) => (name !== 'bodies' && name !== 'consents') || desk.may)));
  drawCall(call, desk);
  for (const part of [slots, applicants, assignments, reminders, reports]) part.hidden = !desk.call;
  plan.hidden = !desk.call || Boolean(desk.call.closed_at) || desk.plan === undefined;
  if (!plan.hidden) drawPlan(plan, desk);
  if (desk.call) {
    drawSlots(slots, desk);
    drawApplicants(applicants, desk);
    drawAssignments(assignments, desk);
    reminders.hidden = !desk.may;
    if (desk.may) drawReminders(reminders, desk);
    drawReports(reports, desk);
  }
  drawRemarks(remarks, desk);
}

/** @param {Element} section @param {Desk} desk */
function drawCall(section, desk) {
  const { call, design, may, view } = desk;
  if (!call) {
    const ready = design.sizes.length > 0;
    put(section, h('h2', { id: 'call-title' }, 'No test call yet'),
      h('p', {}, ready ? 'A test call says which version is made, until when, and how many testers each size wants.' : ['First ', h('a', { href: `/d/${encodeURIComponent(design.slug)}/setup#sizes` }, 'set up the sizes'), '; then a test call can be opened.']),
      may && ready ? open(desk) : null);
    return;
  }
  const { today } = view.settings;
  const version = design.versions.find((v) => v.id === call.version_id);
  const left = daysBetween(today, call.due_on);
  put(section,
    h('div', { class: 'sec-head' }, h('h2', { id: 'call-title' }, call.title, call.closed_at ? h('span', { class: 'tag' }, 'closed') : null),
      may ? h('div', { class: 'row-acts' },
        h('button', { type: 'button', 'data-key': 'change-call', onclick: () => editCall(desk, call) }, 'Change'),
        h('button', { type: 'button', 'data-key': 'close-call', onclick: () => (call.closed_at ? setClosed(desk, call) : closeCall(desk)) }, call.closed_at ? 'Open it again' : 'Close it'),
        call.closed_at ? null : h('button', { type: 'button', 'data-key': 'sign-up', onclick: () => openSignUp(desk) }, 'Sign-up page'), open(desk)) : null),
    desk.summary ? callSummary(desk.summary) : null,
    h('p', {}, `Version ${version?.number ?? '?'}, from ${sayDay(call.opens_on, today)}, reports due ${sayDay(call.due_on, today)} `, h('span', { class: left < 0 && !call.closed_at ? 'pin' : 'soft' }, `(${sayDaysLeft(left)})`)),
    call.confidentiality ? h('blockquote', {}, h('p', {}, call.confidentiality)) : h('p', { class: 'soft' }, 'Testers are told nothing about confidentiality.'));
}

/** @param {Desk} desk */
const open = (desk) => h('button', { type: 'button', class: desk.call ? undefined : 'main', 'data-key': 'open-call', onclick: () => editCall(desk, null) }, desk.call ? 'Open another' : 'Open a test call');

/** Down the long page. */
function jumps() {
  const to = [['slots', 'Sizes'], ['plan', 'Proposal'], ['applicants', 'Applicants'], ['assignments', 'Who makes which'], ['reminders', 'To be told'], ['reports', 'Reports'], ['remarks', 'Remarks']];
  return h('nav', { class: 'calls jumps-line no-print', 'aria-label': 'On this page' }, to.map(([id, words]) => h('a', { href: `#${id}` }, words)));
}

/** The way to the other calls of the design. @param {Call[]} calls @param {Call | null} shown @param {string} slug */
function others(calls, shown, slug) {
  if (calls.length < 2) return null;
  return h('nav', { class: 'calls', 'aria-label': 'Test calls' }, calls.map((c) => h('a', {
    href: `/d/${encodeURIComponent(slug)}/testing?call=${c.id}`, 'aria-current': c.id === shown?.id ? 'true' : undefined }, c.title)));
}
