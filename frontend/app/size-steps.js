// What the sizes of a design say about the bodies they are for.

/** Which dimension of the surveys a body measurement is, by its usual names. @type {[RegExp, string][]} */
const KNOWN = [[/bust|chest/i, 'chest'], [/waist(?! length)/i, 'waist'], [/hip/i, 'hips'], [/height|stature/i, 'height'], [/head/i, 'head']];

/** @param {string} name @returns {string | undefined} */
export const surveyDimension = (name) => KNOWN.find(([words]) => words.test(name))?.[1];

/**
 * @param {{body: {dimension: string, length: {cm: number}}[]}[]} sizes @param {string} dimension
 * @returns {number[]} cm
 */
export const bodiesOf = (sizes, dimension) => sizes.flatMap((s) => s.body.filter((b) => b.dimension === dimension).map((b) => b.length.cm));

/**
 * The usual step between neighbouring sizes, the median; null when there is
 * none or the sizes do not rise.
 * @param {number[]} bodies cm
 */
export function usualStep(bodies) {
  const steps = bodies.slice(1).map((b, i) => b - bodies[i]);
  if (steps.length === 0 || steps.some((s) => s <= 0)) return null;
  steps.sort((a, b) => a - b);
  const middle = steps.length >> 1;
  return Number((steps.length % 2 ? steps[middle] : (steps[middle - 1] + steps[middle]) / 2).toFixed(4));
}
