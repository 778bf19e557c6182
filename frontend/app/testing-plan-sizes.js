import { h } from '../parts/h.js';
import { openDialog } from '../parts/open-dialog.js';
import { coverageBars } from '../parts/coverage-bars.js';
import { saySize, sayChance, sentence } from './plan-words.js';

/** @typedef {import('./testing-plan.js').Proposal} Proposal */
/** @typedef {import('../shapes-recruiting.js').PlanPerson} PlanPerson */
/** @typedef {import('../shapes-recruiting.js').PlanSize} PlanSize */

/** @type {Record<PlanPerson['change'], string>} what stands behind a name */
const SIGNS = { keep: '', ask: 'new', move: 'moved', release: '', none: '' };

/**
 * Size by size: the proposed testers, how likely the reports are, the reserve.
 * A tester is moved with the arrow keys, by dragging, or from their dialog.
 * @param {Proposal} p
 */
export function planSizes(p) {
  const table = h('table', { class: 'plan-sizes', role: 'table' },
    h('thead', { role: 'rowgroup' }, h('tr', { role: 'row' }, ['Size', 'Testers in the plan', 'How likely', 'Reserve, best first'].map((x) => h('th', { role: 'columnheader', scope: 'col' }, x)))),
    h('tbody', { role: 'rowgroup' }, p.plan.sizes.map((z) => row(z, p))));
  return h('div', {}, p.desk.may ? h('p', { class: 'hint', id: 'plan-keys' }, 'A tester’s name opens what can be done. With the name in focus: arrow up and down fix them to the next size, Delete forbids this one, Escape leaves them to the plan again. Names can be dragged.') : null, table);
}

/** @param {PlanSize} z @param {Proposal} p */
function row(z, p) {
  const here = p.plan.people.filter((x) => x.proposed === z.size_id);
  const gone = p.plan.people.filter((x) => x.present === z.size_id && x.proposed !== z.size_id);
  const reserve = z.reserve.map((id) => p.person(id)).filter((x) => x !== undefined);
  const el = h('tr', { role: 'row', class: z.proposed < z.fewest ? 'short' : undefined },
    h('th', { role: 'rowheader', scope: 'row' }, h('span', { class: 'of-card' }, 'Size '), z.name, h('span', { class: 'under' }, `${z.proposed} of ${z.wanted}`)),
    h('td', { role: 'cell', 'data-label': 'Testers' }, here.length === 0 ? h('span', { class: 'soft' }, 'nobody') : h('ul', { class: 'plain plan-names' }, here.map((x) => h('li', {}, name(x, z, p)))),
      gone.length ? h('p', { class: 'soft small' }, `no longer: ${gone.map((x) => x.handle).join(', ')}`) : null),
    h('td', { role: 'cell', 'data-label': 'How likely' }, coverageBars(z.then.reports, z.fewest, sentence(z.then.message)), h('p', { class: z.recruit > 0 && z.fewest > 0 ? 'brass small' : 'soft small' }, saySize(z, p.plan.probability))),
    h('td', { role: 'cell', 'data-label': 'Reserve' }, reserve.length === 0 ? h('span', { class: 'soft' }, 'nobody') : h('ul', { class: 'plain plan-names' }, reserve.slice(0, 4).map((x) => h('li', {}, name(x, z, p))), reserve.length > 4 ? h('li', { class: 'soft' }, `and ${reserve.length - 4} more`) : null)));
  if (p.desk.may) takeDrops(el, z, p);
  return el;
}

/** @param {HTMLElement} el @param {PlanSize} z @param {Proposal} p */
function takeDrops(el, z, p) {
  el.addEventListener('dragover', (e) => { e.preventDefault(); el.classList.add('over'); });
  el.addEventListener('dragleave', () => el.classList.remove('over'));
  el.addEventListener('drop', (e) => {
    e.preventDefault();
    el.classList.remove('over');
    const one = p.person(e.dataTransfer?.getData('text/plain') || '');
    if (one) fix(one, z, p);
  });
}

/** @param {PlanPerson} one @param {PlanSize} z where the name stands @param {Proposal} p */
function name(one, z, p) {
  const inReserve = one.proposed !== z.size_id;
  const pinned = p.whatIf.fixed.get(one.person_id) === z.size_id;
  const says = [one.state === 'reported' ? '' : sayChance(one.probability), pinned ? 'fixed' : SIGNS[one.change], one.state === 'quiet' ? 'quiet' : '', one.state === 'reported' ? 'reported' : ''].filter(Boolean).join(', ');
  const words = [h('span', {}, one.handle), h('span', { class: 'soft' }, ` ${says}`)];
  if (!p.desk.may || one.state === 'reported') return h('span', { class: 'plan-name' }, words);
  return h('button', {
    type: 'button', class: `plan-name${one.change === 'ask' && !inReserve ? ' new' : ''}${pinned ? ' pinned' : ''}`, draggable: 'true', 'data-key': inReserve ? `reserve-${z.size_id}-${one.person_id}` : `plan-${one.person_id}`,
    'aria-label': `${one.handle}, ${says}, ${inReserve ? 'in reserve for' : 'in'} size ${z.name}`, 'aria-describedby': 'plan-keys',
    ondragstart: (/** @type {DragEvent} */ e) => e.dataTransfer?.setData('text/plain', one.person_id),
    onkeydown: (/** @type {KeyboardEvent} */ e) => keys(e, one, z, p), onclick: () => decide(one, z, p) }, words);
}

/** @param {KeyboardEvent} e @param {PlanPerson} one @param {PlanSize} z @param {Proposal} p */
function keys(e, one, z, p) {
  const { sizes } = p.plan;
  const step = { ArrowUp: -1, ArrowDown: 1 }[e.key];
  if (step) {
    e.preventDefault();
    const to = sizes[sizes.indexOf(z) + step];
    if (to) fix(one, to, p);
  } else if (e.key === 'Delete' || e.key === 'Backspace') {
    e.preventDefault();
    forbid(one, z, p);
  } else if (e.key === 'Escape' && (p.whatIf.fixed.has(one.person_id) || p.whatIf.forbidden.has(one.person_id))) {
    free(one, p);
  }
}

/** @param {PlanPerson} one @param {PlanSize} z @param {Proposal} p */
function fix(one, z, p) {
  p.whatIf.fix(one.person_id, z.size_id);
  return p.again(`${one.handle} is fixed to size ${z.name}.`, one.person_id);
}

/** @param {PlanPerson} one @param {PlanSize} z @param {Proposal} p */
function forbid(one, z, p) {
  p.whatIf.forbid(one.person_id, z.size_id);
  return p.again(`${one.handle} does not make size ${z.name}.`, one.person_id);
}

/** @param {PlanPerson} one @param {Proposal} p */
function free(one, p) {
  p.whatIf.free(one.person_id);
  return p.again(`${one.handle} is left to the plan again.`, one.person_id);
}

/** Everything that can be decided about a tester. @param {PlanPerson} one @param {PlanSize} z @param {Proposal} p */
export function decide(one, z, p) {
  const to = h('select', { id: 'plan-to' }, p.plan.sizes.map((x) => h('option', { value: x.size_id, '.selected': x.size_id === z.size_id }, `size ${x.name}${one.sizes.includes(x.size_id) ? `, ${one.sizes.indexOf(x.size_id) + 1}. on their list` : ''}`)));
  const act = (/** @type {() => Promise<void>} */ f) => async () => { dialog.close(); await f(); };
  const chosen = () => /** @type {PlanSize} */ (p.plan.sizes.find((x) => x.size_id === to.value));
  const decided = p.whatIf.fixed.has(one.person_id) || p.whatIf.forbidden.has(one.person_id);
  const dialog = openDialog(`${one.handle}, size ${z.name}`, p.desk.view.gone,
    h('p', {}, sentence(one.reason)),
    h('dl', { class: 'pairs' }, h('dt', {}, 'Listed'), h('dd', {}, one.sizes.map(p.desk.sizeName).join(', then ') || 'no size'), h('dt', {}, 'Record'), h('dd', {}, sentence(one.record.sentence))),
    h('label', { for: 'plan-to' }, 'Fix to'), h('div', { class: 'plan-fix' }, to, h('button', { type: 'button', class: 'main', onclick: act(() => fix(one, chosen(), p)) }, 'Fix')),
    h('div', { class: 'acts' }, h('button', { type: 'button', onclick: act(() => forbid(one, z, p)) }, `Not size ${z.name}`),
      decided ? h('button', { type: 'button', onclick: act(() => free(one, p)) }, 'Leave to the plan') : null));
}
