import { h } from '../parts/h.js';
import { sayDay } from '../parts/dates.js';
import '../parts/data-table.js';
import { drawMoves } from './filming-picture.js';
import { sayHours, sayPiece, saySpeed } from './filming-words.js';
import { editStates } from './filming-states.js';

/** @typedef {import('./filming.js').Shoot} Shoot */
/** @typedef {import('../shapes-shots.js').FilmingPlan} FilmingPlan */
/** @typedef {import('../shapes-shots.js').PlannedShot} PlannedShot */

/** What must not be worked on, loudly. @param {FilmingPlan} plan */
export function holds(plan) {
  return plan.holds.map((x) => h('p', { class: `note ${x.at_it ? 'bad' : ''}` }, x.sentence));
}

/** @param {Shoot} shoot */
export function drawPlan(shoot) {
  const { plan } = shoot;
  const { today } = plan;
  const size = plan.size_name ? `size ${plan.size_name}` : 'the filmed size, which is not marked yet';
  return h('section', { class: 'sec', 'aria-labelledby': 'plan-title' },
    h('h2', { id: 'plan-title' }, 'The plan'),
    h('p', { class: 'soft' }, `Samples in ${size}, ${sayHours(plan.hours_per_day)} of making a day, ${saySpeed(plan.speed)}.`,
      plan.unsaid ? ` Of ${plan.unsaid === 1 ? 'one state' : `${plan.unsaid} states`} nobody has said what is made; it counts as no time.` : ''),
    plan.shots.length ? [
      h('p', { class: 'strong' }, verdict(plan)),
      drawMoves(plan),
      table(plan, today)] : h('p', { class: 'leaf' }, 'Nothing with a day is left to record.'),
    plan.undated.length ? h('p', {}, `Without a day: ${plan.undated.map((x) => x.label).join(', ')}. Announce one, or set a day to record.`) : null,
    plan.warnings.length ? h('details', { 'data-part': 'plan-warnings' }, h('summary', { 'data-key': 'plan-warnings' }, plan.warnings.length === 1 ? 'What the plan asks for' : `What the plan asks for: ${plan.warnings.length}`),
      h('ul', {}, plan.warnings.map((w) => h('li', {}, w)))) : null,
    states(shoot));
}

/** @param {FilmingPlan} plan */
function verdict(plan) {
  const lost = plan.shots.filter((x) => x.message).length;
  const fresh = plan.new_samples ? (plan.new_samples === 1 ? ' One new sample has to be made.' : ` ${plan.new_samples} new samples have to be made.`) : '';
  const made = plan.hours ? ` ${sayHours(plan.hours)} of making off camera.` : '';
  if (!lost) return `Everything can be recorded as planned.${fresh}${made}`;
  return `${lost === 1 ? 'One shot' : `${lost} shots`} of ${plan.shots.length} can’t be recorded on ${lost === 1 ? 'its day' : 'their days'} as things stand.${fresh}${made}`;
}

/** The picture in words: each shot with its sample. @param {FilmingPlan} plan @param {string} today */
function table(plan, today) {
  const out = h('data-table', { caption: 'What is unrecorded, with which sample' });
  out.columns = [
    { label: 'Shot', head: true, cell: (/** @type {PlannedShot} */ x) => x.label },
    { label: 'On', cell: (/** @type {PlannedShot} */ x) => [sayDay(x.on, today), x.overdue ? h('span', { class: 'pin' }, ' overdue') : null] },
    { label: 'Sample at', cell: (/** @type {PlannedShot} */ x) => plan.states[x.from]?.words },
    { label: 'Sample', cell: (/** @type {PlannedShot} */ x) => (x.message ? h('span', { class: 'pin' }, 'none') : [x.sample, h('span', { class: 'soft' }, sayPiece(x))]) },
    { label: 'Making before it', num: true, cell: (/** @type {PlannedShot} */ x) => (x.work_hours ? sayHours(x.work_hours) : '–') },
    { label: 'Start making by', cell: (/** @type {PlannedShot} */ x) => (x.start_by ? h('span', { class: x.start_by < today ? 'pin' : undefined }, sayDay(x.start_by, today), x.start_by < today ? ', past' : '') : '–') },
    { label: 'Why not', cell: (/** @type {PlannedShot} */ x) => x.message || '' },
  ];
  out.rows = plan.shots;
  return out;
}

/** @param {Shoot} shoot */
function states(shoot) {
  const { plan } = shoot;
  const out = h('data-table', { caption: `States of the text, and the making from one to the next${plan.size_name ? ` in size ${plan.size_name}` : ''}` });
  out.columns = [
    { label: 'State', head: true, cell: (/** @type {any} */ x) => x.words },
    { label: 'Stitches', num: true, cell: (/** @type {any} */ x) => (x.stitches === null ? '–' : Math.round(x.stitches)) },
    { label: 'Hours', num: true, cell: (/** @type {any} */ x) => (x.known ? sayHours(x.hours) : h('span', { class: 'brass' }, 'not said')) },
    { label: 'Trouble', cell: (/** @type {any} */ x) => x.trouble || '' },
  ];
  out.rows = plan.states.slice(1);
  return h('details', { 'data-part': 'states' }, h('summary', { 'data-key': 'states' }, 'States of the text'), out,
    shoot.mayFilm ? h('div', { class: 'acts' }, h('button', { type: 'button', 'data-key': 'edit-states', onclick: () => editStates(shoot) }, 'Change the states')) : null);
}

/** The days of an unrecorded installment. @param {string} id @param {Shoot} shoot */
export function planLine(id, shoot) {
  const p = shoot.plan.installments.find((x) => x.id === id);
  if (!p) return null;
  const { today } = shoot.plan;
  return h('p', {},
    p.shoot_on ? [`to be recorded ${sayDay(p.shoot_on, today)} · `] : null,
    p.start_by ? [h('span', { class: p.start_by < today ? 'pin' : undefined }, `start making by ${sayDay(p.start_by, today)}${p.start_by < today ? ', past' : ''}`), h('span', { class: 'soft' }, ` (${sayHours(p.making_hours)})`), ' · '] : null,
    p.can ? h('span', { class: 'soft' }, 'a sample for each shot') : h('span', { class: 'pin' }, 'not every shot has a sample'));
}

