import { h, put } from '../parts/h.js';
import { keepFocus } from '../parts/keep-focus.js';
import { daysBetween, sayDay } from '../parts/dates.js';
import '../parts/data-table.js';
import * as api from './api.js';
import { takeOutSeveral } from './take-out.js';
import { hasRole } from './session.js';
import { listen } from './live.js';
import { sayChance } from './filming-words.js';
import { drawTimes } from './schedule-picture.js';
import { drawWeek } from './schedule-week.js';
import { editEstimates } from './schedule-estimates.js';
import { whatIf } from './schedule-try.js';
import { KINDS, sayHeldUp, sayLength, saySource, sayUnit } from './schedule-words.js';
import { word } from './words.js';

export const sheets = ['data-table', 'schedule'];

/**
 * @typedef {object} Table
 * @property {import('../shapes.js').View} view
 * @property {string} path of the design
 * @property {import('../shapes.js').Design} design
 * @property {import('../shapes-schedule.js').Schedule} plan
 * @property {import('../shapes-filming.js').Installment[]} run
 * @property {import('../shapes-shots.js').DesignState[]} states
 * @property {boolean} mayPlan
 * @property {() => Promise<void>} refresh
 */

/** @param {import('../shapes.js').View} view */
export async function draw(view) {
  const path = `/designs/${encodeURIComponent(view.params.slug)}`;
  const options = { signal: view.gone };
  const design = await api.get(path, options);
  view.title('Schedule');
  put(view.lede, h('p', {}, design.name), takeOutSeveral(path, [['schedule', 'what is to be done'], ['estimates', 'the estimates']]));
  /** @type {Table} */
  const table = { view, path, design, plan: /** @type {any} */ (null), run: [], states: [], mayPlan: hasRole(view.me, 'designer'), refresh };
  const trial = h('div', {});
  const main = h('div', {});
  put(view.page, main, trial);
  await refresh();
  put(trial, whatIf(table));
  listen(`${path}/live`, refresh, view.gone);

  async function refresh() {
    const [plan, run, states] = await Promise.all([api.get(`${path}/schedule`, options), api.all(`${path}/installments`, options), api.get(`${path}/states`, options)]);
    [table.plan, table.run, table.states] = [plan, run, states.states];
    if (!view.gone.aborted) keepFocus(main, () => show(table, main));
  }
}

/** @param {Table} table @param {Element} into */
function show(table, into) {
  const { plan } = table;
  put(into,
    plan.words.split('\n').map((/** @type {string} */ line, /** @type {number} */ i) => h('p', { class: i ? 'brass' : 'strong words' }, line)),
    plan.together.length ? h('p', { class: 'soft' }, 'Planned together with ', plan.together.map((d, i) => [i ? ', ' : null, h('a', { href: d.where }, d.name)]), `. ${plan.rule}`) : null,
    plan.findings.length ? h('ul', { class: 'plain found' }, plan.findings.map((f) => h('li', { class: 'note bad' }, f))) : null,
    plan.lacks.map((x) => h('p', { class: 'brass' }, x)),
    plan.tasks.length ? [
      h('section', { class: 'sec', 'aria-labelledby': 'days-title' }, h('h2', { id: 'days-title' }, 'Announced days'), days(plan)),
      h('section', { class: 'sec', 'aria-labelledby': 'week-title' }, h('h2', { id: 'week-title' }, 'This week'), drawWeek(plan.week, plan.today, false, table.design.name)),
      h('section', { class: 'sec', 'aria-labelledby': 'time-title' }, h('h2', { id: 'time-title' }, 'In time'), drawTimes(plan), tasks(plan)),
      estimates(table)] : null);
}

/** @param {Table['plan']} plan */
function days(plan) {
  const out = h('data-table', { caption: `How likely each is kept, from ${plan.draws.toLocaleString('en-GB')} draws`, empty: 'No day is announced.' });
  out.columns = [
    { label: 'What', head: true, cell: (/** @type {any} */ t) => t.name },
    { label: 'Day', cell: (/** @type {any} */ t) => sayDay(t.on || t.due, plan.today) },
    { label: 'Kept', num: true, cell: (/** @type {any} */ t) => h('span', { class: t.probability < 0.5 ? 'pin' : t.probability < 0.8 ? 'brass' : undefined }, sayChance(t.probability)) },
    { label: 'Standard error', num: true, cell: (/** @type {any} */ t) => (t.standard_error >= 0.0005 ? `${(100 * t.standard_error).toFixed(1)} %` : 'under 0.1 %') },
  ];
  out.rows = plan.tasks.filter((t) => t.probability !== null);
  return out;
}

/** @param {Table['plan']} plan */
function tasks(plan) {
  const day = (/** @type {string} */ d) => sayDay(d, plan.today);
  const out = h('data-table', { caption: 'Every task' });
  out.columns = [
    { label: 'Task', head: true, cell: (/** @type {any} */ t) => t.name },
    { label: 'Who', cell: (/** @type {any} */ t) => t.who || '–' },
    { label: 'Takes about', num: true, cell: (/** @type {any} */ t) => sayLength(t.expected, t.unit) },
    { label: 'Planned', cell: (/** @type {any} */ t) => (t.planned_start === t.planned_finish ? day(t.planned_start) : `${day(t.planned_start)} – ${day(t.planned_finish)}`) },
    ...(plan.together.length ? [{ label: 'Held up', cell: (/** @type {any} */ t) => sayHeldUp(t) }] : []),
    { label: 'At the latest', cell: (/** @type {any} */ t) => day(t.latest_finish) },
    { label: 'Days to spare', num: true, cell: (/** @type {any} */ t) => { // from the planned end, so that the three columns agree
      const spare = daysBetween(t.planned_finish, t.latest_finish);
      return h('span', { class: spare < 0 ? 'pin' : t.critical ? 'brass' : undefined }, spare);
    } },
  ];
  out.rows = plan.tasks;
  return h('details', { 'data-part': 'tasks' }, h('summary', { 'data-key': 'tasks' }, `The tasks in words: ${plan.tasks.length}`), out);
}

/** @param {Table} table */
function estimates(table) {
  const out = h('data-table', { caption: 'How long work is taken to take: at best, usually, at worst' });
  out.columns = [
    { label: 'Work', head: true, cell: (/** @type {any} */ e) => word(KINDS, e.kind) },
    { label: 'Estimate', num: true, cell: (/** @type {any} */ e) => `${e.low}, ${e.likely}, ${e.high}` },
    { label: 'In', cell: (/** @type {any} */ e) => sayUnit(e) },
    { label: 'From', cell: (/** @type {any} */ e) => saySource(e) },
  ];
  out.rows = table.plan.estimates;
  return h('details', { 'data-part': 'estimates' }, h('summary', { 'data-key': 'estimates' }, 'Estimates'), out,
    table.mayPlan ? h('div', { class: 'acts' }, h('button', { type: 'button', 'data-key': 'edit-estimates', onclick: () => editEstimates(table) }, 'State them for this design')) : null);
}
