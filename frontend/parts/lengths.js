// Lengths as people type and read them. An inch is exactly 2.54 cm.

/** @typedef {{value: number, unit: 'cm'|'in'}} Length */

export const CM_PER_INCH = 2.54;

/** @type {Record<string, number>} */
const VULGAR = {
  '¼': 0.25, '½': 0.5, '¾': 0.75, '⅛': 0.125, '⅜': 0.375, '⅝': 0.625, '⅞': 0.875, '⅓': 1 / 3, '⅔': 2 / 3,
};
const UNITS = /\s*(cm|centimet(?:re|er)s?|in|in\.|inch|inches|"|″|”|'')$/i;

/**
 * Reads a number as it is typed beside a tape: `41.5`, `41,5`, `41 1/2`,
 * `41-1/2`, `41½`, `1/2`. Returns null when it can't be told.
 * @param {string} text
 * @returns {number | null}
 */
export function readNumber(text) {
  const tidy = text.trim().replace(/[−–]/g, '-').replace(/⁄/g, '/').replace(/\s+/g, ' ');
  const whole = /^([+-]?)(\d+(?:[.,]\d+)?|[.,]\d+)$/.exec(tidy);
  if (whole) return signed(whole[1], Number(whole[2].replace(',', '.')));
  const vulgar = /^([+-]?)(\d*) ?([¼½¾⅛⅜⅝⅞⅓⅔])$/.exec(tidy);
  if (vulgar) return signed(vulgar[1], Number(vulgar[2] || 0) + VULGAR[vulgar[3]]);
  const parts = /^([+-]?)(?:(\d+)[ -])?(\d+) ?\/ ?(\d+)$/.exec(tidy);
  if (!parts || Number(parts[4]) === 0) return null;
  return signed(parts[1], Number(parts[2] || 0) + Number(parts[3]) / Number(parts[4]));
}

/** @param {string} sign @param {number} value */
const signed = (sign, value) => (sign === '-' && value !== 0 ? -value : value);

/**
 * Reads a length; a unit that is typed with it wins over the one given.
 * @param {string} text
 * @param {'cm'|'in'} unit
 * @returns {Length | null}
 */
export function readLength(text, unit) {
  const typed = UNITS.exec(text.trim());
  const value = readNumber(typed ? text.trim().slice(0, typed.index) : text);
  if (value === null) return null;
  if (!typed) return { value, unit };
  return { value, unit: typed[1].toLowerCase().startsWith('c') ? 'cm' : 'in' };
}

/** @param {Length} l */
export const toCM = (l) => (l.unit === 'in' ? l.value * CM_PER_INCH : l.value);

/**
 * A length as it was entered: `41.5 in`, `105 cm`.
 * @param {Length | null | undefined} l
 */
export const sayLength = (l) => (l ? `${sayNumber(l.value, 3)} ${l.unit}` : '–');

/**
 * A computed length in the reader's unit, to the tenth of a centimetre or the
 * hundredth of an inch: no finer than a tape can be read.
 * @param {number | null | undefined} cm
 * @param {'cm'|'in'} unit
 */
export function sayCM(cm, unit) {
  return cm === null || cm === undefined ? '–' : `${bareCM(cm, unit)} ${unit}`;
}

/** The same without its unit. @param {number} cm @param {'cm'|'in'} unit */
export function bareCM(cm, unit) {
  return unit === 'in' ? sayNumber(cm / CM_PER_INCH, 2) : sayNumber(cm, 1);
}

/**
 * A number without needless zeros, with a real minus sign.
 * @param {number} value @param {number} [places]
 */
export function sayNumber(value, places = 2) {
  const text = String(Number(value.toFixed(places)));
  return text.startsWith('-') ? `−${text.slice(1)}` : text;
}

/** @param {{stitches: number|null, rows: number|null, span: number, unit: string} | null} g */
export function sayGauge(g) {
  if (!g) return 'no gauge';
  const counted = [g.stitches && `${sayNumber(g.stitches)} stitches`, g.rows && `${sayNumber(g.rows)} rows`].filter(Boolean);
  return `${counted.join(' and ')} over ${sayNumber(g.span)} ${g.unit}`;
}
