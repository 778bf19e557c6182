import { h, put } from '../parts/h.js';
import { keepFocus } from '../parts/keep-focus.js';
import { coverageTable } from '../parts/coverage-bars.js';
import * as api from './api.js';
import { announce } from './shell.js';
import { sayError } from './problem.js';
import { WhatIf } from './what-if.js';
import { changesOf, sayChance, sayPlan, sayRecruit, sentence } from './plan-words.js';
import { planSizes } from './testing-plan-sizes.js';
import { planChanges, staying } from './testing-plan-changes.js';
import { freed } from './testing-plan-freed.js';

/** @typedef {import('./testing.js').Desk} Desk */
/** @typedef {import('../shapes-recruiting.js').Plan} Plan */
/**
 * The proposal as it stands on the page.
 * @typedef {object} Proposal
 * @property {Desk} desk
 * @property {WhatIf} whatIf
 * @property {Plan} plan
 * @property {Set<string>} left persons whose change is not ticked
 * @property {(say: string, about?: string) => Promise<void>} again plans again and draws, then says something; about: the person to stay with
 * @property {(id: string) => import('../shapes-recruiting.js').PlanPerson | undefined} person
 */

/** Asks for the plan of the desk's call. @param {Desk} desk @param {AbortSignal} signal */
export async function fetchPlan(desk, signal) {
  const call = /** @type {import('../shapes-testing.js').Call} */ (desk.call);
  desk.whatIf ??= new WhatIf(call.id, localStorage);
  try {
    desk.plan = await api.post(`/calls/${call.id}/plan`, desk.whatIf.body, { signal });
    desk.planTrouble = '';
  } catch (err) {
    if (signal.aborted) return;
    [desk.plan, desk.planTrouble] = [null, sayError(err)];
  }
}

const LIKELY = [['0.8', '80 %'], ['0.9', '90 %'], ['0.95', '95 %'], ['0.99', '99 %']];

/**
 * Who should make which size, beside who does, and why.
 * @param {HTMLElement} section @param {Desk} desk
 */
export function drawPlan(section, desk) {
  const whatIf = /** @type {WhatIf} */ (desk.whatIf);
  const open = new Set([...section.querySelectorAll('details[open]')].map((d) => d.getAttribute('data-what')));
  const title = h('div', { class: 'sec-head' }, h('h2', { id: 'plan-title' }, 'Who should make which size'));
  if (!desk.plan) {
    put(section, title, h('p', { class: 'note bad' }, desk.planTrouble || 'There is no plan yet.'),
      whatIf.isEmpty ? null : h('button', { type: 'button', 'data-key': 'plan-clear', onclick: () => { whatIf.clear(); again(section, desk, 'Planned without what you had fixed.'); } }, 'Plan without what I fixed and forbade'));
    return;
  }
  const { plan } = desk;
  desk.left ??= new Set();
  /** @type {Proposal} */
  const p = { desk, whatIf, plan, left: desk.left, again: (say, about) => again(section, desk, say, about), person: (id) => plan.people.find((x) => x.person_id === id) };
  put(section, title, h('p', {}, sayPlan(plan)),
    plan.shortfalls.map((x) => h('p', { class: 'pin' }, sentence(x))),
    sayRecruit(plan.sizes) ? h('p', { class: 'strong' }, sayRecruit(plan.sizes)) : null,
    plan.warnings.map((x) => h('p', { class: 'brass' }, sentence(x))),
    freed(p), settings(p), decided(p), planSizes(p),
    folded('coverage', 'These chances as a table', open, () => coverageTable(plan.sizes.map((z) => ({ name: z.name, reports: z.then.reports, fewest: z.fewest, probability: z.then.probability })), sayChance)),
    planChanges(p), folded('staying', `Who stays, and who is in reserve: ${plan.people.length - changesOf(plan.people).length}`, open, () => staying(p)));
}

/** @param {string} what @param {string} words @param {Set<string | null>} open @param {() => Element} draw */
function folded(what, words, open, draw) {
  return h('details', { 'data-what': what, '.open': open.has(what) }, h('summary', { 'data-key': `plan-${what}` }, words), draw());
}

/** @param {HTMLElement} section @param {Desk} desk @param {string} say @param {string} [about] */
async function again(section, desk, say, about) {
  await fetchPlan(desk, desk.view.gone);
  if (desk.view.gone.aborted) return;
  const had = section.contains(document.activeElement);
  keepFocus(section, () => drawPlan(section, desk));
  // A name that has left the plan leaves the focus with what was decided about it.
  if (had && about && !section.contains(document.activeElement)) /** @type {HTMLElement | null} */ (section.querySelector(`[data-key="plan-${CSS.escape(about)}"], [data-key="plan-free-${CSS.escape(about)}"]`))?.focus();
  announce(say);
}

/** @param {Proposal} p */
function settings(p) {
  const { whatIf, desk } = p;
  if (!desk.may) return null;
  const box = h('input', { type: 'checkbox', '.checked': whatIf.moveAsked, 'data-key': 'plan-move', onchange: () => { whatIf.set({ moveAsked: box.checked }); p.again('Planned again.'); } });
  const likely = h('select', { 'data-key': 'plan-likely', onchange: () => { whatIf.set({ probability: Number(likely.value) }); p.again('Planned again.'); } },
    LIKELY.map(([value, words]) => h('option', { value, '.selected': Number(value) === whatIf.probability }, words)));
  return h('div', { class: 'plan-settings no-print' },
    h('label', { class: 'tick' }, box, 'Those who have not answered may be moved'),
    h('label', { class: 'tick' }, 'Each size should be covered with', likely),
    h('button', { type: 'button', 'data-key': 'plan-again', onclick: () => p.again('Planned again.') }, 'Plan again'));
}

/** What was fixed and forbidden, and how to undo it. @param {Proposal} p */
function decided({ whatIf, desk, person, again: replan }) {
  if (whatIf.isEmpty) return null;
  const name = (/** @type {string} */ id) => person(id)?.handle || 'somebody who is gone';
  const undo = (/** @type {string} */ id, /** @type {string} */ words) => h('li', {}, words, ' ', h('button', { type: 'button', class: 'plain', 'data-key': `plan-free-${id}`, 'aria-label': `Leave ${name(id)} to the plan again`, onclick: () => { whatIf.free(id); replan(`${name(id)} is left to the plan again.`); } }, 'undo'));
  const people = [...new Set([...whatIf.fixed.keys(), ...whatIf.forbidden.keys()])];
  return h('div', { class: 'plan-decided' }, h('h3', {}, 'You decided'), h('ul', { class: 'plain' }, people.map((id) => {
    const size = whatIf.fixed.get(id);
    const not = [...(whatIf.forbidden.get(id) || [])].map(desk.sizeName);
    return undo(id, `${name(id)}: ${[size && `size ${desk.sizeName(size)}`, not.length && `not size ${not.join(', ')}`].filter(Boolean).join('; ')}`);
  })), h('button', { type: 'button', 'data-key': 'plan-clear', onclick: () => { whatIf.clear(); replan('Planned without what you had fixed.'); } }, 'Undo all'));
}
