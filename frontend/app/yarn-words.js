// Amounts of yarn in words, and where they lie on the drawing.
import { sayNumber } from '../parts/lengths.js';

/** @typedef {import('../shapes-fit.js').Yarn} Yarn */
/** @typedef {import('../shapes-fit.js').YarnSize} YarnSize */

export const METRES_PER_YARD = 0.9144;

/** Of how many makers: `9 of 10 makers`. @param {number} share */
export function sayMakers(share) {
  for (const of of [10, 20, 100]) {
    const k = share * of;
    if (Math.abs(k - Math.round(k)) < 1e-9) return `${Math.round(k)} of ${of} makers`;
  }
  return `${sayNumber(100 * share, 1)} % of makers`;
}

/** @param {number | null | undefined} metres @param {'m'|'yd'} [unit] */
export const sayMetres = (metres, unit = 'm') => (metres === null || metres === undefined ? '–' : `${sayNumber(unit === 'yd' ? metres / METRES_PER_YARD : metres, 0)} ${unit}`);

/** @param {YarnSize} z @param {Yarn} y */
export function sayBuy(z, y) {
  if (z.upper_metres === null) return '–';
  if (z.balls === null) return `${sayNumber(z.publish_metres ?? 0, 0)} m`;
  return `${z.balls} ball${z.balls === 1 ? '' : 's'}${z.grams ? ` (${sayNumber(z.grams, 0)} g)` : ''} = ${sayNumber(z.publish_metres ?? 0, 0)} m${y.ball ? '' : ''}`;
}

/** What the amounts rest on. @param {Yarn} y */
export function sayRest(y) {
  const used = y.pieces.filter((p) => !p.outlier && !p.unused && p.metres > 0);
  const samples = used.filter((p) => p.kind === 'sample').length;
  const testers = used.length - samples;
  const out = y.pieces.filter((p) => p.outlier).length;
  const parts = [testers && `${testers} tester${testers === 1 ? '' : 's'}`, samples && `${samples} sample${samples === 1 ? '' : 's'}`].filter(Boolean);
  if (parts.length === 0) return 'Nobody has told how much yarn they used, so nothing can be said yet. One report would tell something.';
  return `Enough for ${sayMakers(y.share)}, from ${parts.join(' and ')}${out ? `, with ${out} left out` : ''}, each brought to the design’s gauge.${y.size_matters ? ' Larger sizes do not use yarn in proportion to their stitches, so each size has its own bound.' : ''}`;
}

/** What the text states, and whether it is enough. @param {YarnSize} z */
export function sayStated(z) {
  if (!z.stated) return 'nothing stated yet';
  const balls = z.stated_balls ? ` = ${z.stated_balls} ball${z.stated_balls === 1 ? '' : 's'}` : '';
  return `${sayNumber(z.stated.value, 0)} ${z.stated.unit}${balls}`;
}

/**
 * A scale of metres from 0 to a round number above every amount.
 * @param {Yarn} y @returns {{most: number, step: number}}
 */
export function yarnScale(y) {
  const most = Math.max(1, ...y.sizes.flatMap((z) => [z.upper_metres || 0, z.stated?.metres || 0]), ...y.pieces.map((p) => p.at_design_metres));
  const step = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10000].find((s) => most / s <= 6) || 20000;
  return { most: Math.ceil((most * 1.02) / step) * step, step };
}
