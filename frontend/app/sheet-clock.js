/**
 * Milliseconds as a time code, `12:04` or `1:02:03`, with a tenth for stamps.
 * @param {number} ms @param {boolean} tenth
 */
export function sayClock(ms, tenth) {
  const tenths = Math.floor(Math.max(0, ms) / 100);
  const s = Math.floor(tenths / 10);
  const two = (/** @type {number} */ n) => String(n).padStart(2, '0');
  const whole = s >= 3600 ? `${Math.floor(s / 3600)}:${two(Math.floor(s / 60) % 60)}:${two(s % 60)}` : `${Math.floor(s / 60)}:${two(s % 60)}`;
  return tenth && tenths % 10 ? `${whole}.${tenths % 10}` : whole;
}
