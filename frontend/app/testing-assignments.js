import { h, put } from '../parts/h.js';
import { sayDay, sayDaysLeft, sayMoment } from '../parts/dates.js';
import { openForm } from '../parts/open-dialog.js';
import * as api from './api.js';
import { announce } from './shell.js';
import { sayError } from './problem.js';
import { invite } from './invitation.js';
import { course, yarnSent } from './testing-course.js';
import { ASSIGNED_STATES, bySize } from './testing-words.js';

/** @typedef {import('./testing.js').Desk} Desk */
/** @typedef {import('../shapes-testing.js').Assignment} Assignment */

/** @param {Element} section @param {Desk} desk */
export function drawAssignments(section, desk) {
  const { view } = desk;
  const { today, zone } = view.settings;
  const table = h('data-table', { empty: 'Nobody has a size yet.' });
  table.columns = [
    { label: 'Size and tester', head: true, cell: (/** @type {Assignment} */ a) => `${a.size.name}, ${a.person.handle}` },
    { label: 'How far', cell: (/** @type {Assignment} */ a) => h('div', { class: 'course' }, state(a, zone), course(a, desk)) },
    { label: 'Due', cell: (/** @type {Assignment} */ a) => [h('span', { class: 'day' }, sayDay(a.due_on, today)), a.late ? h('span', { class: 'pin' }, ` ${sayDaysLeft(a.days_left)}, late`) : null] },
    { label: 'Invitation', cell: (/** @type {Assignment} */ a) => invitation(a, zone) },
    { label: '', cell: (/** @type {Assignment} */ a) => acts(a, desk) },
  ];
  table.rows = bySize(desk.assignments, desk.design.sizes);
  put(section, h('h2', { id: 'assignments-title' }, 'Who makes which size'), table);
}

/** @param {Assignment} a @param {string} zone */
function state(a, zone) {
  if (a.state === 'withdrawn') return h('span', { class: 'soft' }, `withdrawn ${sayMoment(a.withdrawn_at, zone)}: ${a.withdrawn_why}`);
  return h('span', { class: a.state === 'approved' ? 'leaf' : undefined }, ASSIGNED_STATES[a.state]);
}

/** @param {Assignment} a @param {string} zone */
function invitation(a, zone) {
  if (a.state === 'withdrawn') return '';
  if (!a.invited) return h('span', { class: 'soft' }, a.accepted_at ? 'not needed' : 'not made yet');
  if (a.invited.used_at) return `used ${sayMoment(a.invited.used_at, zone)}`;
  return Date.parse(a.invited.expires_at) < Date.now() ? h('span', { class: 'brass' }, 'has run out') : `open until ${sayMoment(a.invited.expires_at, zone)}`;
}

/** @param {Assignment} a @param {Desk} desk */
function acts(a, desk) {
  const { handle } = a.person;
  const report = a.report_id ? h('a', { class: 'button', href: `/d/${encodeURIComponent(desk.design.slug)}/reports/${a.report_id}`, 'aria-label': `Report of ${handle}` }, 'Report') : null;
  if (!desk.may || a.state === 'withdrawn') return h('div', { class: 'row-acts' }, report);
  return h('div', { class: 'row-acts' }, report,
    h('button', { type: 'button', 'data-key': `invite-${a.id}`, 'aria-label': `Invitation link for ${handle}`, onclick: () => invite(`/assignments/${a.id}/invitation`, a.person, () => { desk.refresh().catch((err) => { if (!desk.view.gone.aborted) announce(sayError(err)); }); }) }, 'Invitation link'),
    a.report_id ? null : h('button', { type: 'button', 'data-key': `change-${a.id}`, 'aria-label': `Change size or day of ${handle}`, onclick: () => change(a, desk) }, 'Change'),
    a.report_id ? null : h('button', { type: 'button', 'data-key': `yarn-${a.id}`, 'aria-label': `Yarn sent to ${handle}`, onclick: () => yarnSent(a, desk) }, 'Yarn'),
    h('button', { type: 'button', 'data-key': `withdraw-${a.id}`, 'aria-label': `Withdraw ${handle}`, onclick: () => withdraw(a, desk) }, 'Withdraw'));
}

/** @param {Assignment} a @param {Desk} desk */
function change(a, desk) {
  openForm({
    title: `${a.person.handle}: size and day`, say: 'Save', gone: desk.view.gone,
    save: (values) => api.patch(`/assignments/${a.id}`, values, { revision: a.revision }),
    done: async (/** @type {Assignment} */ now) => {
      await desk.refresh();
      announce(`${a.person.handle} makes size ${now.size.name}, due ${sayDay(now.due_on)}.`);
    },
  }, h('form-field', { name: 'size_id', label: 'Size', kind: 'select', quiet: true, '.options': desk.design.sizes.map((s) => [s.id, s.name]), value: a.size.id }),
  h('form-field', { name: 'due_on', label: 'Report due', kind: 'date', required: true, value: a.due_on }));
}

/** @param {Assignment} a @param {Desk} desk */
function withdraw(a, desk) {
  openForm({
    title: `Withdraw ${a.person.handle} from size ${a.size.name}`, say: 'Withdraw', gone: desk.view.gone,
    save: ({ why }) => api.post(`/assignments/${a.id}/withdraw`, { why }, { revision: a.revision }),
    done: async () => {
      await desk.refresh();
      announce(`${a.person.handle} is withdrawn.`);
    },
  }, a.report_id ? h('p', {}, 'The report that was sent stays in the list of reports.') : null,
  h('form-field', { name: 'why', label: 'Why', kind: 'area', required: true, maxlength: 1000 }));
}
