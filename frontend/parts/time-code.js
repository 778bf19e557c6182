// Times within a recording, as they stand under a video: 12:04, 1:02:03.5.

const CODE = /^(?:(\d{1,2}):)?(\d{1,3}):(\d{1,2})(?:[.,](\d{1,3}))?$/;

/**
 * Milliseconds of a time code, or null when it is none. Seconds stay below 60,
 * and minutes too where hours are written.
 * @param {string} text
 */
export function readTimeCode(text) {
  const parts = CODE.exec(text.trim());
  if (!parts) return null;
  const [hours, minutes, seconds] = [Number(parts[1] || 0), Number(parts[2]), Number(parts[3])];
  if (seconds > 59 || (parts[1] !== undefined && minutes > 59)) return null;
  return ((hours * 60 + minutes) * 60 + seconds) * 1000 + Number((parts[4] || '').padEnd(3, '0'));
}

/** How long a recording is: `25 min 10 s`. @param {number | null} seconds */
export function sayLasting(seconds) {
  if (seconds === null) return '';
  const [minutes, rest] = [Math.floor(seconds / 60), seconds % 60];
  return [minutes && `${minutes} min`, (rest || !minutes) && `${rest} s`].filter(Boolean).join(' ');
}

/**
 * Seconds of a length typed as `25:10`, `1:02:03` or plain minutes `25`.
 * @param {string} text @returns {number | null}
 */
export function readLasting(text) {
  if (/^\d{1,3}$/.test(text.trim())) return Number(text) * 60;
  const ms = readTimeCode(text);
  return ms === null ? null : Math.round(ms / 1000);
}

/** The same for a field: `25:10`. @param {number | null} seconds */
export function writeLasting(seconds) {
  if (seconds === null) return '';
  return `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, '0')}`;
}
