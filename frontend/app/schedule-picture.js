import { h, s } from '../parts/h.js';
import { daysBetween, sayDay } from '../parts/dates.js';
import { place } from './filming-scale.js';

/** @typedef {import('../shapes-schedule.js').Schedule} Schedule */
/** @typedef {import('../shapes-schedule.js').Task} Task */

const RIGHT = 40;
const ROW = 22;
const TOP = 26;

/**
 * The tasks over the days, one below the other; what must not slip is drawn
 * thicker. The table below says the same. @param {Schedule} plan
 */
export function drawTimes(plan) {
  const ends = plan.tasks.flatMap((t) => [t.planned_finish, t.on || '', t.due || '']).filter(Boolean);
  const span = Math.min(400, Math.max(7, ...ends.map((d) => daysBetween(plan.today, d) + 1)));
  const narrow = innerWidth < 600; // on a phone the names give way to the bars
  const left = narrow ? 150 : 300;
  const width = Math.max(narrow ? 480 : 760, left + RIGHT + Math.min(span, 120) * 9);
  const height = TOP + plan.tasks.length * ROW + 8;
  const scale = place(0, span, left, width - RIGHT);
  const x = (/** @type {string} */ day, after = 0) => scale(Math.min(span, Math.max(0, daysBetween(plan.today, day) + after)));
  const most = Math.max(1, Math.floor((width - left - RIGHT) / 80)); // a date needs so much room
  const every = 7 * Math.ceil(span / 7 / most);
  const marks = Array.from({ length: Math.floor(span / every) + 1 }, (_, i) => i * every);
  return h('figure', { class: 'times' },
    h('div', { class: 'wide', tabindex: '0', role: 'group', 'aria-label': 'The picture of the schedule, which scrolls sideways' },
      s('svg', { viewBox: `0 0 ${width} ${height}`, width, height, role: 'img', 'aria-label': says(plan, span) },
        marks.map((n) => s('g', { class: 'day' }, s('line', { x1: scale(n), x2: scale(n), y1: TOP - 6, y2: height }),
          s('text', { x: scale(n), y: 14, 'text-anchor': n ? 'middle' : 'start' }, n ? sayDay(addDays(plan.today, n), plan.today) : 'today'))),
        plan.tasks.map((t, i) => bar(t, TOP + i * ROW, x, t.critical || plan.critical_chain.includes(t.name), left)))),
    h('figcaption', {}, h('span', {}, 'bar: as planned'), h('span', {}, '◆ announced'), h('span', {}, '| due'), h('span', {}, 'thick: what presses most'), plan.tasks.some((t) => t.waits) ? h('span', {}, 'dashed: waits, its person is at another design') : null));
}

/**
 * What the picture says in words: how much it holds, what is late and what
 * waits. @param {Schedule} plan @param {number} span
 */
function says(plan, span) {
  const late = plan.tasks.filter(isLate).map((t) => t.name);
  const waiting = plan.tasks.filter((t) => t.waits).map((t) => `${t.name} ${t.later_days} ${t.later_days === 1 ? 'day' : 'days'} later, for ${t.waits.replace('; this waits.', '')}`);
  return [`${plan.tasks.length} tasks over ${span} days; the table below says the same in words.`,
    late.length ? `Late: ${late.join(', ')}.` : '', waiting.length ? `Held up by other designs: ${waiting.join('; ')}.` : ''].filter(Boolean).join(' ');
}

/** @param {Task} t */
const isLate = (t) => Boolean((t.on && t.planned_start > t.on) || (t.due && t.planned_finish > t.due));

/**
 * @param {Task} t @param {number} y @param {(day: string, after?: number) => number} x @param {boolean} presses
 * @param {number} left where the names end */
function bar(t, y, x, presses, left) {
  const mid = y + ROW / 2;
  const day = t.on ? x(t.on) : t.due ? x(t.due, 1) : null;
  const late = isLate(t);
  return s('g', { class: `task${presses ? ' presses' : ''}${late ? ' late' : ''}` },
    s('text', { x: left - 8, y: mid + 4, 'text-anchor': 'end' }, short(t.name, Math.floor(left / (presses ? 9.4 : 8.4))), s('title', {}, t.name)),
    t.waits && t.waits_from && t.waits_from < t.planned_start ? s('line', { class: 'waits', x1: x(t.waits_from), x2: x(t.planned_start), y1: mid, y2: mid }) : null,
    t.kind === 'air' || t.kind === 'release' ? null : s('rect', { x: x(t.planned_start), y: mid - (presses ? 6 : 4), width: Math.max(3, x(t.planned_finish, 1) - x(t.planned_start)), height: presses ? 12 : 8 }),
    day === null ? null : t.on ? s('path', { d: `M${day} ${mid - 7}l6 7-6 7-6-7z` }) : s('line', { class: 'due', x1: day, x2: day, y1: mid - 9, y2: mid + 9 }),
    late ? s('text', { class: 'late-word', x: Math.max(day || 0, t.on ? 0 : x(t.planned_finish, 1)) + 9, y: mid + 4 }, 'late') : null);
}

/** @param {string} name @param {number} most characters */
const short = (name, most) => (name.length > most ? `${name.slice(0, most - 1)}…` : name);

/** @param {string} day @param {number} n */
function addDays(day, n) {
  return new Date(Date.parse(`${day}T00:00:00Z`) + n * 86_400_000).toISOString().slice(0, 10);
}
