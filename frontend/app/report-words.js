// How one measurement stands to what was expected, in words, and as a strip.
import { sayCM, sayNumber, CM_PER_INCH } from '../parts/lengths.js';

/** @typedef {import('../shapes-testing.js').Cell} Cell */
/** @typedef {'cm'|'in'} Unit */

/**
 * How much of the difference the tester's own gauge explains.
 * @param {Cell} c @param {Unit} unit
 */
export function sayShare(c, unit) {
  if (c.difference_cm === null) return 'nothing to compare with';
  const left = c.residual_cm === null ? '' : sayCM(Math.abs(c.residual_cm), unit);
  const share = c.share_percent === null ? 0 : Math.round(Math.min(100, Math.max(0, c.share_percent)));
  switch (c.verdict || guess(c)) {
    case 'as_promised': return 'within tolerance';
    case 'gauge_explains': return share < 100 ? `the gauge explains ${share} %, ${left} left` : 'the gauge explains all of it';
    case 'within_doubt': return `${left} left, no more than tape and swatch can be out`;
    case 'partly_gauge': return `the gauge explains ${share} %, ${left} left`;
    case 'against_gauge': return `as the design, yet ${left} off their own gauge`;
    case 'measure_again': return 'the readings contradict each other';
    case 'gauge_unknown': return 'outside tolerance, no swatch to tell why';
    default: return share > 0 ? `the gauge explains only ${share} %, ${left} left` : `the gauge explains none of it, ${left} left`;
  }
}

/** Where the server gave the numbers alone. @param {Cell} c */
function guess(c) {
  if (c.within) return 'as_promised';
  if (c.expected_own_cm === null) return 'gauge_unknown';
  return (c.share_percent ?? 0) >= 50 ? 'partly_gauge' : 'not_gauge';
}

const SETTLED = new Set(['as_promised', 'gauge_explains', 'within_doubt']);

/** Whether somebody should look at it: a likely slip, or a difference that the gauge leaves. @param {Cell} c */
export function needsLook(c) {
  if (c.warnings?.length) return true;
  return c.difference_cm !== null && !SETTLED.has(c.verdict || guess(c));
}

/** A difference with its sign. @param {number | null} cm @param {Unit} unit */
export function sayDifference(cm, unit) {
  if (cm === null) return '–';
  const value = unit === 'in' ? Number((cm / CM_PER_INCH).toFixed(2)) : Number(cm.toFixed(1));
  return value === 0 ? `0 ${unit}` : `${value > 0 ? '+' : ''}${sayNumber(value)} ${unit}`;
}

/** within tolerance, outside it, or likely a slip of the pen. @param {Cell} c @param {number} toleranceCM @returns {'within'|'outside'|'slip'} */
export function stateOf(c, toleranceCM) {
  if (c.warnings?.length) return 'slip';
  const left = c.residual_within ?? (c.residual_cm === null ? c.within ?? true : Math.abs(c.residual_cm) <= toleranceCM + 1e-6);
  return left ? 'within' : 'outside';
}

/** Of all readings, where there are several. @param {Cell} c */
const measuredCM = (c) => c.measured_cm ?? c.measured?.cm ?? 0;

/** Where the mark stands: the measurement with the tester's gauge taken out of it. @param {Cell} c */
export function atOwnGauge(c) {
  if (c.at_own_gauge_cm !== undefined && c.at_own_gauge_cm !== null) return c.at_own_gauge_cm;
  const cm = measuredCM(c);
  return c.expected_cm && c.expected_own_cm ? (cm * c.expected_cm) / c.expected_own_cm : cm;
}

/**
 * One measurement as a tape strip.
 * @param {Cell} c @param {{tolerance: {cm: number}, intended: {size_id: string, length: {cm: number}}[]} | undefined} point
 * @param {string} sizeId @param {string} handle
 * @returns {import('../shapes.js').Strip}
 */
export function stripOf(c, point, sizeId, handle) {
  const tolerance = point?.tolerance.cm ?? 0;
  const intended = point?.intended.find((m) => m.size_id === sizeId)?.length.cm ?? null;
  const from = intended ?? c.expected_cm ?? measuredCM(c);
  return {
    point_id: c.point_id, intended_cm: intended, expected_cm: c.expected_cm, tolerance_cm: tolerance, growth_cm: null,
    low_cm: from - tolerance, high_cm: from + tolerance,
    marks: [{ kind: 'report', handle, at_cm: atOwnGauge(c), measured_cm: measuredCM(c), state: stateOf(c, tolerance), sentence: c.sentence }],
  };
}

/** A gauge's difference in percent. @param {number | null | undefined} percent @param {string} what */
export function sayPercent(percent, what) {
  if (percent === null || percent === undefined) return `${what} not told`;
  const value = Number(percent.toFixed(1));
  return value === 0 ? `${what} as the design’s` : `${what} ${value > 0 ? '+' : ''}${sayNumber(value, 1)} %`;
}
