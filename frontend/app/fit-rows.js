// Which pieces a finding's picture shows, and where they lie.
import { bareCM, sayCM } from '../parts/lengths.js';
import { sayPercent } from './fit-words.js';

/** @typedef {import('../shapes-fit.js').Finding} Finding */
/** @typedef {import('../shapes-fit.js').Fit} Fit */
/** @typedef {import('../shapes-fit.js').Line} Line */
/** @typedef {import('../shapes-fit.js').TapeRow} TapeRow */
/** @typedef {'cm'|'in'} Unit */

const MOST_PCT = 120; // further off than that, a mark stands at the end of the tape
const LEAST_PCT = 6;

/** @param {Finding} f @param {Fit} fit @param {Unit} unit @returns {TapeRow[]} */
export function rowsFor(f, fit, unit) {
  const slug = encodeURIComponent(fit.design.slug);
  if (f.kind === 'grading') return fit.sheet.filter((s) => s.point_id === f.point_id).map((s) => miss(s, unit));
  if (f.kind === 'fabric') return fabric(f, fit, slug);
  const sizes = new Map(fit.pieces.map((p) => [p.size_id, p.size]));
  const named = (/** @type {Line} */ l, /** @type {string} */ name) => line(l, name, `/d/${slug}/reports/${l.report_id}`, unit, f);
  if (f.kind === 'tester') return fit.lines.filter((l) => l.report_id === f.report_id && l.axis === f.axis).map((l) => named(l, l.point));
  const there = fit.lines.filter((l) => l.point === f.point);
  if (f.kind === 'point') return there.map((l) => named(l, `${l.who}, size ${sizes.get(l.size_id)}`));
  const here = there.filter((l) => l.size_id === f.size_id);
  const rest = there.filter((l) => l.size_id !== f.size_id).map((l) => named(l, `${l.who}, size ${sizes.get(l.size_id)}`));
  const own = [...here].sort((a, b) => Number(b.report_id === f.report_id) - Number(a.report_id === f.report_id)).map((l) => named(l, l.who));
  return own.length > 1 || f.kind === 'cell' ? own : [...own, ...rest];
}

/** The same point in the other sizes, to see that it is here and only here. @param {Finding} f @param {Fit} fit @param {Unit} unit @returns {TapeRow[]} */
export function otherSizes(f, fit, unit) {
  if (f.kind !== 'cell') return [];
  const sizes = new Map(fit.pieces.map((p) => [p.size_id, p.size]));
  const slug = encodeURIComponent(fit.design.slug);
  return fit.lines.filter((l) => l.point === f.point && l.size_id !== f.size_id)
    .map((l) => line(l, `${l.who}, size ${sizes.get(l.size_id)}`, `/d/${slug}/reports/${l.report_id}`, unit, f));
}

/** @param {Line} l @param {string} name @param {string} href @param {Unit} unit @param {Finding} f @returns {TapeRow} */
function line(l, name, href, unit, f) {
  // The whole garment is off: how far is seen from what the own gauge promises,
  // and so it is for a tester's tension.
  return {
    name, href, centre: l.likely_cm, low: l.low_cm, high: l.high_cm, at: l.measured_cm, percent: false, odd: l.odd, here: l.report_id === f.report_id,
    measured: sayCM(l.measured_cm, unit), expected: `${sayCM(l.likely_cm, unit)} (${bareCM(l.low_cm, unit)} to ${bareCM(l.high_cm, unit)})`,
    off: sayPercent(100 * (l.measured_cm / l.likely_cm - 1)),
  };
}

/** @param {import('../shapes-fit.js').SheetMiss} s @param {Unit} unit @returns {TapeRow} */
function miss(s, unit) {
  return {
    name: `size ${s.size}`, centre: s.intended_cm, low: s.intended_cm - s.limit_cm, high: s.intended_cm + s.limit_cm, at: s.expected_cm, percent: false, odd: false, here: false,
    measured: sayCM(s.expected_cm, unit), expected: `${sayCM(s.intended_cm, unit)} (± ${bareCM(s.limit_cm, unit)})`, off: sayPercent(100 * (s.expected_cm / s.intended_cm - 1)),
  };
}

/** One row for each piece: the mean of its points against its own swatch, in percent. @param {Finding} f @param {Fit} fit @param {string} slug @returns {TapeRow[]} */
function fabric(f, fit, slug) {
  return fit.pieces.map((p) => {
    const lines = fit.lines.filter((l) => l.report_id === p.report_id && l.axis === f.axis && !l.odd);
    if (lines.length === 0) return null;
    const mean = average(lines.map((l) => 100 * Math.log(l.measured_cm / l.expected_own_cm)));
    const spread = average(lines.map((l) => 100 * Math.log(l.high_cm / l.likely_cm)));
    return {
      name: `${p.who}, size ${p.size}`, href: `/d/${slug}/reports/${p.report_id}`, centre: 100, low: 100 - spread, high: 100 + spread, at: 100 + mean, percent: true, odd: false, here: false,
      measured: `${lines.length} point${lines.length === 1 ? '' : 's'}`, expected: `± ${spread.toFixed(1)} %`, off: sayPercent(mean),
    };
  }).filter((r) => r !== null);
}

/** @param {number[]} list */
const average = (list) => list.reduce((a, b) => a + b, 0) / list.length;

/**
 * Half of what the tapes show, in percent of where the piece should lie: one for
 * all rows of a picture, so that equal distances look equal.
 * @param {TapeRow[]} rows @param {import('../shapes-fit.js').FindingNumbers} n
 */
export function halfOf(rows, n) {
  const off = (/** @type {TapeRow} */ r, /** @type {number} */ cm) => Math.abs(100 * (cm / r.centre - 1));
  const need = [LEAST_PCT, ...rows.flatMap((r) => [off(r, r.low), off(r, r.high), off(r, r.at)]), ...[n.estimate_pct, n.lo_pct, n.hi_pct].map((x) => Math.abs(x || 0))];
  return Math.min(MOST_PCT, Math.max(...need) * 1.12);
}
