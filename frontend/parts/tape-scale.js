// The arithmetic of a tape strip: where things lie, and how it reads aloud.
import { sayCM, bareCM, CM_PER_INCH } from './lengths.js';

/** @typedef {import('../shapes.js').Strip} Strip */
/** @typedef {import('../shapes.js').Mark} Mark */

const LEAST_SPAN = 2.5; // in tolerances, to either side: a clean strip still shows where the band ends
const MOST_SPAN = 6; // in tolerances: beyond that a mark stands at the end of the tape, with an arrow
const TICKS_CM = [0.1, 0.2, 0.5, 1, 2, 5, 10, 20];
const TICKS_IN = [0.125, 0.25, 0.5, 1, 2, 5, 10];

/** The middle of a strip: what is intended, else what the counts give, else the first mark. @param {Strip} strip */
export function middle(strip) {
  return strip.intended_cm ?? strip.expected_cm ?? strip.marks[0]?.at_cm ?? null;
}

/** Where the pieces are expected to come out: the counts, and what the fabric is known to grow. @param {Strip} strip */
export function expectedGrown(strip) {
  return strip.expected_cm === null ? null : strip.expected_cm + (strip.growth_cm || 0);
}

/**
 * Half the length of tape to show, in cm, one for all the strips of a point,
 * so that equal distances look equal down the sizes. Slips don't stretch it.
 * @param {Strip[]} strips
 */
export function halfSpan(strips) {
  const tolerance = Math.max(0.1, ...strips.map((s) => s.tolerance_cm || 0));
  let need = LEAST_SPAN * tolerance;
  let band = 0; // the end of the band is always on the tape
  for (const strip of strips) {
    const at = middle(strip);
    if (at === null) continue;
    const shown = [strip.expected_cm, expectedGrown(strip), ...strip.marks.filter((m) => m.state !== 'slip').map((m) => m.at_cm)];
    band = Math.max(band, Math.abs(strip.growth_cm || 0) + tolerance * 1.25);
    for (const cm of shown) if (cm !== null) need = Math.max(need, Math.abs(cm - at) * 1.12);
  }
  return Math.max(band, Math.min(need, MOST_SPAN * tolerance));
}

/**
 * A scale from centimetres to the width of the drawing.
 * @param {number} centre cm @param {number} half cm @param {number} width px @param {number} margin px
 */
export function scale(centre, half, width, margin) {
  const x = (/** @type {number} */ cm) => width / 2 + ((cm - centre) / half) * (width / 2 - margin);
  return {
    x,
    /** Held on the tape; `off` is -1 or 1 where it lies beyond the end. @param {number} cm */
    held(cm) {
      const off = cm < centre - half ? -1 : cm > centre + half ? 1 : 0;
      return { x: x(Math.min(centre + half, Math.max(centre - half, cm))), off };
    },
  };
}

/**
 * The ruler's ticks in the reader's unit, no closer than `apart` px.
 * @param {number} centre @param {number} half @param {number} width @param {'cm'|'in'} unit @param {number} [apart]
 * @returns {{cm: number, value: number, long: boolean}[]}
 */
export function ticks(centre, half, width, unit, apart = 5) {
  const per = unit === 'in' ? CM_PER_INCH : 1;
  const step = (unit === 'in' ? TICKS_IN : TICKS_CM).find((t) => (t * per * width) / (2 * half) >= apart) || 50;
  const every = unit === 'in' && step < 1 ? Math.round(1 / step) : 5;
  const list = [];
  for (let n = Math.ceil((centre - half - 1e-9) / per / step); n * step * per <= centre + half + 1e-9; n += 1) {
    list.push({ cm: n * step * per, value: n * step, long: n % every === 0 });
  }
  return list;
}

/**
 * Spreads marks that would cover each other over rows, in order of place.
 * @param {number[]} xs @param {number} apart px @returns {number[]} the row of each, from 0
 */
export function rowsOf(xs, apart) {
  /** @type {number[]} */
  const lastInRow = [];
  const rows = new Array(xs.length).fill(0);
  for (const i of xs.map((_, k) => k).sort((a, b) => xs[a] - xs[b])) {
    let row = lastInRow.findIndex((last) => xs[i] - last >= apart);
    if (row < 0) row = lastInRow.length;
    lastInRow[row] = xs[i];
    rows[i] = row;
  }
  return rows;
}

/** How many marks are in which state. @param {Mark[]} marks @param {string} kind */
export function tally(marks, kind) {
  const of = { total: 0, within: 0, outside: 0, slip: 0 };
  for (const m of marks) if (m.kind === kind) { of.total += 1; of[m.state] += 1; }
  return of;
}

/** @param {{total: number, within: number, outside: number, slip: number}} of @param {string} noun */
function sayTally(of, noun) {
  if (of.total === 0) return '';
  const parts = [of.within && `${of.within} within tolerance`, of.outside && `${of.outside} outside`, of.slip && `${of.slip} likely a slip`].filter(Boolean);
  return ` ${of.total} ${noun}${of.total === 1 ? '' : 's'}: ${parts.join(', ')}.`;
}

/**
 * The strip in one breath, for those who don't see it.
 * @param {Strip} strip @param {string} point @param {string} size @param {'cm'|'in'} unit
 */
export function describe(strip, point, size, unit) {
  const bits = [];
  if (strip.intended_cm !== null) bits.push(`intended ${bareCM(strip.intended_cm, unit)} ± ${sayCM(strip.tolerance_cm, unit)}`);
  if (strip.expected_cm !== null) bits.push(`the counts give ${sayCM(strip.expected_cm, unit)}`);
  if (strip.growth_cm) bits.push(`with the fabric's growth ${sayCM(expectedGrown(strip), unit)}`);
  return `${point}, size ${size}: ${bits.join(', ') || 'nothing intended yet'}.${sayTally(tally(strip.marks, 'report'), 'report')}${sayTally(tally(strip.marks, 'sample'), 'sample')}`;
}
