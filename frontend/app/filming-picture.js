import { h, s } from '../parts/h.js';
import { daysBetween, sayDay } from '../parts/dates.js';
import { place } from './filming-scale.js';

/** @typedef {import('../shapes-shots.js').FilmingPlan} FilmingPlan */
/** @typedef {import('../shapes-shots.js').SampleLine} SampleLine */

const LEFT = 230;
const RIGHT = 120;
const ROW = 26;
const TOP = 26;

/**
 * Samples moving up through the states over the days. Everything that it shows
 * stands in the tables below it, so it is one image to a screen reader.
 * @param {FilmingPlan} plan
 */
export function drawMoves(plan) {
  const days = plan.shots.map((x) => x.on || plan.today);
  const last = days.reduce((a, b) => (b > a ? b : a), plan.today);
  const span = Math.max(1, daysBetween(plan.today, last));
  const width = Math.max(740, LEFT + RIGHT + Math.min(span, 60) * 12);
  const height = TOP + plan.states.length * ROW + 16;
  const x = place(0, span, LEFT, width - RIGHT);
  const y = (/** @type {number} */ rank) => TOP + (plan.states.length - 1 - rank) * ROW + ROW / 2;
  return h('figure', { class: 'moves' },
    h('div', { class: 'wide', tabindex: '0', role: 'group', 'aria-label': 'The picture of the plan, which scrolls sideways' },
      s('svg', { viewBox: `0 0 ${width} ${height}`, width, height, role: 'img', 'aria-label': `${plan.lines.length} samples over ${span} days; the tables below say the same in words` },
        plan.states.map((state, rank) => s('g', { class: state.end ? 'state end' : 'state' },
          s('line', { x1: LEFT, x2: width - RIGHT, y1: y(rank), y2: y(rank) }),
          s('text', { x: LEFT - 8, y: y(rank) + 4, 'text-anchor': 'end' }, short(state.words)))),
        dayMarks(plan, span).map((n) => s('g', { class: 'day' },
          s('line', { x1: x(n), x2: x(n), y1: TOP, y2: height - 14 }),
          s('text', { x: x(n), y: 14, 'text-anchor': n === 0 ? 'start' : 'middle' }, n === 0 ? 'today' : sayDay(addDays(plan.today, n), plan.today)))),
        lost(plan).map((q) => s('path', { class: 'lost', d: cross(x(daysBetween(plan.today, q.on || plan.today)), y(q.from)) })),
        plan.lines.map((line, i) => drawLine(line, i, plan, x, y)))),
    h('figcaption', {}, h('span', {}, '○ where it is now'), h('span', {}, '■ shown'), h('span', {}, '– – new'), h('span', {}, '✕ nothing can show it')));
}

/** @param {FilmingPlan} plan */
const lost = (plan) => plan.shots.filter((q) => q.message);

/** @param {number} x @param {number} y */
const cross = (x, y) => `M${x - 5} ${y - 5}L${x + 5} ${y + 5}M${x - 5} ${y + 5}L${x + 5} ${y - 5}`;

/**
 * @param {SampleLine} line @param {number} i @param {FilmingPlan} plan
 * @param {(day: number) => number} x @param {(rank: number) => number} y
 */
function drawLine(line, i, plan, x, y) {
  const nudge = ((i % 5) - 2) * 3; // so that samples in one state don't cover each other
  const points = line.steps.map((step) => ({ ...step, px: x(daysBetween(plan.today, step.on)), py: y(step.rank) + nudge }));
  const end = points[points.length - 1];
  return s('g', { class: `sample-line line-${i % 4}${line.new ? ' new' : ''}` },
    s('polyline', { points: points.map((p) => `${p.px},${p.py}`).join(' ') }),
    points.map((p) => (p.kind === 'here' ? s('circle', { cx: p.px, cy: p.py, r: 5 }) : p.kind === 'shown' ? s('rect', { x: p.px - 4, y: p.py - 4, width: 8, height: 8 }) : null)),
    s('text', { x: end.px + 9, y: end.py + 4 + nudge }, short(line.label, 16)));
}

/** @param {string} text @param {number} [most] */
const short = (text, most = 30) => (text.length > most ? `${text.slice(0, most - 1)}…` : text);

/** @param {string} day @param {number} n */
function addDays(day, n) {
  return new Date(Date.parse(`${day}T00:00:00Z`) + n * 86_400_000).toISOString().slice(0, 10);
}

/** The days that are written: today, and those on which something is shown, as far apart as their words need. @param {FilmingPlan} plan @param {number} span */
function dayMarks(plan, span) {
  const apart = Math.ceil(span / 9);
  const shown = [...new Set(plan.shots.map((q) => daysBetween(plan.today, q.on || plan.today)))].sort((a, b) => a - b);
  const out = [0];
  for (const n of shown) if (n - out[out.length - 1] >= Math.max(1, apart)) out.push(n);
  return out;
}
