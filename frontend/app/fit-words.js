// What a finding's numbers and its remedy are in words.
import { sayNumber } from '../parts/lengths.js';

/** @typedef {import('../shapes-fit.js').Finding} Finding */
/** @typedef {import('../shapes-fit.js').FindingNumbers} Numbers */

/** @type {Record<string, string>} */
const VERDICTS = {
  fault: 'count at fault', suspect: 'count suspected', all_sizes_off: 'off at all sizes', points_disagree: 'two points contradict',
  drift: 'grading runs away', sheet_cell: 'slip in the sheet', unclear: 'step easy to misread', gauge_wrong: 'gauge can’t be right',
  slip: 'likely a slip', odd: 'odd number', readings_disagree: 'readings disagree', grows: 'fabric grows', shrinks: 'fabric shrinks',
  off: 'tester’s tension', cannot_tell: 'can’t be told yet',
};
/** @param {string} verdict */
export const sayVerdict = (verdict) => VERDICTS[verdict] || verdict.replaceAll('_', ' ');

/** What a finding is about. @param {Finding} f */
export const about = (f) => [f.size && `size ${f.size}`, f.point, f.who, !f.point && f.axis && (f.axis === 'row' ? 'lengthwise' : 'widthwise')].filter(Boolean).join(', ');

/** A sentence begins with a capital. @param {string} text */
export const capital = (text) => text.charAt(0).toUpperCase() + text.slice(1);

/** `+7.6 %` with a real minus. @param {number} x */
export function sayPercent(x) {
  const value = Number(x.toFixed(1));
  return `${value > 0 ? '+' : ''}${sayNumber(value, 1)} %`;
}

/** A probability as a person says it. @param {number} p */
export const saySure = (p) => (p >= 0.995 ? 'more than 99 %' : p < 0.005 ? 'less than 1 %' : `${sayNumber(100 * p, 0)} %`);

/**
 * How far, how sure, from how many, as pairs of a name and a figure.
 * @param {Finding} f @returns {[string, string][]}
 */
export function figures(f) {
  const n = f.numbers;
  /** @type {[string, string][]} */
  const out = [];
  if (n.estimate_pct !== undefined) {
    out.push(['How far', n.lo_pct === undefined || n.hi_pct === undefined ? sayPercent(n.estimate_pct) : `${sayPercent(n.estimate_pct)}, between ${sayPercent(n.lo_pct)} and ${sayPercent(n.hi_pct)}`]);
  }
  if (n.as_count) out.push(['In the text', sayOffset(n.as_count)]);
  if (n.p !== undefined) out.push(['How sure', saySure(n.p)]);
  if (n.reports) out.push(['From', f.kind === 'fabric' ? `${n.reports} testers` : `${n.reports} report${n.reports === 1 ? '' : 's'}`]);
  if (n.sizes?.length) out.push(['Sizes', n.sizes.join(', ')]);
  return out;
}

/** As if so many rows more or fewer. @param {import('../shapes-fit.js').CountOffset} o */
export function sayOffset(o) {
  const [near, far] = o.estimate < 0 ? [-o.hi, -o.lo] : [o.lo, o.hi];
  const whole = (/** @type {number} */ x) => sayNumber(Math.max(0, x), x < 1.5 ? 1 : 0);
  return `as if ${whole(Math.abs(o.estimate))} ${o.unit} ${o.estimate < 0 ? 'fewer' : 'more'} than ${sayNumber(o.count)} (${whole(near)} to ${whole(far)})`;
}

/** How many more reports would tell. @param {Finding} f */
export function sayWait(f) {
  if (f.more_reports === undefined) return '';
  if (f.more_reports === 0) return `More reports of size ${f.size} alone would not settle it.`;
  return `Wait for ${f.more_reports} more report${f.more_reports === 1 ? '' : 's'} of size ${f.size}: that should settle it.`;
}

/** What the text may say about the fabric. @param {Finding} f */
export function growthSentence(f) {
  const pct = sayNumber(Math.abs(f.numbers.estimate_pct ?? 0), 0);
  const word = f.axis === 'row' ? (f.verdict === 'grows' ? 'longer' : 'shorter') : (f.verdict === 'grows' ? 'wider' : 'narrower');
  return `Finished pieces come out about ${pct} % ${word} than the swatch promises; allow for it when you choose your size.`;
}

/** Findings in the page's parts. @param {Finding[]} findings */
export function sorted(findings) {
  return {
    waiting: findings.filter((f) => f.waits),
    decided: findings.filter((f) => f.asks && !f.waits),
    nothing: findings.filter((f) => !f.asks && f.verdict !== 'cannot_tell'),
    untold: findings.filter((f) => !f.asks && f.verdict === 'cannot_tell'),
  };
}

/**
 * For each size how many more reports would settle which points: `1 more report
 * of size 2: cuff`. @param {Finding[]} untold
 */
export function sayMissing(untold) {
  /** @type {Map<string, string[]>} */
  const groups = new Map();
  for (const f of untold.filter((x) => x.kind === 'cell')) {
    const more = f.more_reports || 0;
    const key = more ? `${more} more report${more === 1 ? '' : 's'} of size ${f.size} should tell about` : `More reports of size ${f.size} alone won’t tell about`;
    groups.set(key, [...(groups.get(key) || []), f.point || '']);
  }
  return [...groups].map(([words, points]) => `${words} ${points.join(', ')}.`);
}
