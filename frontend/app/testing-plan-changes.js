import { h, put } from '../parts/h.js';
import { daysBetween } from '../parts/dates.js';
import '../parts/data-table.js';
import * as api from './api.js';
import { announce } from './shell.js';
import { sayError } from './problem.js';
import { changesOf, sayTake, sentence } from './plan-words.js';

/** @typedef {import('./testing-plan.js').Proposal} Proposal */
/** @typedef {import('../shapes-recruiting.js').PlanPerson} PlanPerson */

/** @type {Record<PlanPerson['change'], string>} */
const WORDS = { keep: 'stays', ask: 'to be asked', move: 'to be moved', release: 'to be released', none: 'no size' };

/** What would change, each with its reason; taken whole or in part. @param {Proposal} p */
export function planChanges(p) {
  const changes = changesOf(p.plan.people);
  if (changes.length === 0) return null;
  const { desk, left } = p;
  const ticked = () => changes.filter((x) => !left.has(x.person_id));
  const wrong = h('p', { class: 'error', role: 'alert' });
  const due = dueField(p, changes);
  const button = h('button', { type: 'button', class: 'main', 'data-key': 'plan-take', onclick: () => take(ticked(), p, wrong, due?.value) });
  const count = () => { button.textContent = sayTake(ticked()); button.setAttribute('aria-disabled', String(ticked().length === 0)); };
  const table = h('data-table', { class: 'plan-changes' });
  table.columns = [
    ...(desk.may ? [{ label: 'Take', cell: (/** @type {PlanPerson} */ x) => tick(x, left, count) }] : []),
    { label: 'Tester', head: true, cell: (/** @type {PlanPerson} */ x) => x.handle },
    { label: 'Now', cell: (/** @type {PlanPerson} */ x) => size(x.present, p) },
    { label: 'In the plan', cell: (/** @type {PlanPerson} */ x) => h('span', {}, size(x.proposed, p), h('span', { class: 'soft' }, ` ${WORDS[x.change]}`)) },
    { label: 'Why', cell: (/** @type {PlanPerson} */ x) => h('span', { class: 'why' }, sentence(x.reason)) },
    { label: 'Record', cell: (/** @type {PlanPerson} */ x) => h('span', { class: 'why soft' }, sentence(x.record.sentence)) },
  ];
  table.rows = changes;
  count();
  return h('div', {}, h('h3', {}, 'What changes'), table, desk.may ? h('div', { class: 'acts' }, button, due ? h('label', { class: 'tick' }, 'report due', due) : null) : null, wrong);
}

/** The last day of those who are asked now. @param {Proposal} p @param {PlanPerson[]} changes */
function dueField(p, changes) {
  if (!changes.some((x) => x.change === 'ask')) return null;
  return h('input', { type: 'date', 'data-key': 'plan-due', value: usualDue(p) });
}

const WEEKS = 4;

/** The call's own day while it leaves enough time, else four weeks from today. @param {Proposal} p */
function usualDue(p) {
  const call = /** @type {import('../shapes-testing.js').Call} */ (p.desk.call);
  const enough = new Date(`${p.desk.view.settings.today}T00:00:00Z`);
  enough.setUTCDate(enough.getUTCDate() + 7 * WEEKS);
  const day = enough.toISOString().slice(0, 10);
  return daysBetween(p.desk.view.settings.today, call.due_on) < 14 ? day : call.due_on;
}

/** @param {PlanPerson} x @param {Set<string>} left @param {() => void} count */
function tick(x, left, count) {
  const box = h('input', { type: 'checkbox', '.checked': !left.has(x.person_id), 'data-key': `tick-${x.person_id}`, 'aria-label': `Take the change for ${x.handle}`,
    onchange: () => { if (box.checked) left.delete(x.person_id); else left.add(x.person_id); count(); } });
  return h('label', { class: 'bare tick' }, box);
}

/** @param {string | undefined} id @param {Proposal} p */
const size = (id, p) => (id ? `size ${p.desk.sizeName(id)}` : 'no size');

/**
 * Carries the changes out in one request.
 * @param {PlanPerson[]} taken @param {Proposal} p @param {Element} wrong @param {string} [due] of those who are asked
 */
export async function take(taken, p, wrong, due = usualDue(p)) {
  if (taken.length === 0) return;
  put(wrong);
  const call = /** @type {import('../shapes-testing.js').Call} */ (p.desk.call);
  const changes = taken.map((x) => ({ person_id: x.person_id, size_id: x.proposed, assignment_id: x.assignment_id, revision: x.revision }));
  try {
    await api.post(`/calls/${call.id}/plan/take`, { changes, due_on: due || undefined });
    for (const x of taken) p.whatIf.free(x.person_id);
    await p.desk.refresh();
    announce(`Done: ${sayTake(taken).toLowerCase()}. The invitations are made under Who makes which size.`);
  } catch (err) {
    put(wrong, sayError(err), ...fieldsOf(err));
  }
}

/** @param {any} err */
const fieldsOf = (err) => (err?.fields ? [...err.fields.values()].map((/** @type {string} */ x) => ` ${sentence(x)}`) : []);

/** Those for whom nothing changes, and why. @param {Proposal} p */
export function staying(p) {
  const table = h('data-table', { empty: 'Nobody.' });
  table.columns = [
    { label: 'Tester', head: true, cell: (/** @type {PlanPerson} */ x) => x.handle },
    { label: 'Listed', cell: (/** @type {PlanPerson} */ x) => x.sizes.map(p.desk.sizeName).join(', then ') || 'no size' },
    { label: 'Makes', cell: (/** @type {PlanPerson} */ x) => size(x.present, p) },
    { label: 'Why', cell: (/** @type {PlanPerson} */ x) => h('span', { class: 'why' }, sentence(x.reason)) },
  ];
  table.rows = p.plan.people.filter((x) => x.change === 'keep' || x.change === 'none');
  return table;
}
