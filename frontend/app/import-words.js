// What an import says about columns and rows.

/** @typedef {import('../shapes-testing.js').Preview} Preview */
/** @typedef {import('../shapes-testing.js').Imported} Imported */
/** @typedef {import('../shapes-testing.js').ImportRow} ImportRow */

/** @type {Record<string, string>} */
const FIELDS = {
  handle: 'Handle', email: 'E-mail', name: 'Name', sizes: 'Sizes, best first', accepted: 'Tests taken on so far', finished: 'Tests finished',
  unit: 'Unit', terms: 'Stitch names', remarks: 'Remarks', applied_at: 'When they offered', size: 'Size', stitches: 'Stitches',
  rows: 'Rows', over: 'Counted over', yarn: 'Yarn used', hours: 'Hours', sent_at: 'When it was sent',
};

/** `point:upper arm` stands for a point of measure. @param {string} field */
export function sayField(field) {
  return FIELDS[field] || field.replace(/^points?[:.]/, '').replaceAll('_', ' ');
}

/** @param {ImportRow} row */
export function sayRow(row) {
  if (row.problem) return row.problem;
  return row.state === 'same' ? 'same as here' : row.state === 'changed' ? 'changes what is here' : 'new';
}

/** @param {number} n @param {string} one @param {string} many */
const count = (n, one, many) => (n === 1 ? `one ${one}` : `${n} ${many}`);

/** @param {string} text */
const capital = (text) => text.charAt(0).toUpperCase() + text.slice(1);

/** What the button would do. @param {Preview} p */
export function sayPlan(p) {
  const of = (/** @type {string} */ state) => p.rows.filter((r) => !r.problem && r.state === state).length;
  const parts = [of('new') && `${of('new')} new`, of('changed') && `${of('changed')} changed`, of('same') && `${of('same')} the same`].filter(Boolean);
  const good = parts.length ? `${count(p.good, 'good row', 'good rows')}: ${parts.join(', ')}.` : `${count(p.good, 'good row', 'good rows')}.`;
  return p.bad ? `${capital(good)} ${p.bad === 1 ? 'One row can’t be taken; it stands first.' : `${p.bad} rows can’t be taken; they stand first.`}` : capital(good);
}

/** @param {Imported} done */
export function sayDone(done) {
  const skipped = done.skipped?.length || 0;
  return `${done.created} added, ${done.changed} changed, ${done.same} left as they were${skipped ? `, ${count(skipped, 'row', 'rows')} left out` : ''}.`;
}

/** Bad rows first, each in its own order. @param {ImportRow[]} rows */
export function badFirst(rows) {
  return [...rows.filter((r) => r.problem), ...rows.filter((r) => !r.problem)];
}

/**
 * The columns that were chosen otherwise than they were found, to send along.
 * @param {Record<string, string>} found @param {Record<string, string>} chosen
 */
export function overrides(found, chosen) {
  return Object.fromEntries(Object.entries(chosen).filter(([field, header]) => (found[field] || '') !== header));
}
