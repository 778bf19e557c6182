/**
 * A straight scale from one range to another; a range without length goes to
 * its beginning.
 * @param {number} from @param {number} to @param {number} low @param {number} high
 * @returns {(value: number) => number}
 */
export function place(from, to, low, high) {
  const span = to - from;
  return (value) => (span === 0 ? low : Math.round((low + ((value - from) / span) * (high - low)) * 10) / 10);
}
