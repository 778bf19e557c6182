// What an import says about columns and rows.

/** @typedef {import('../shapes-testing.js').Preview} Preview */
/** @typedef {import('../shapes-testing.js').Imported} Imported */
/** @typedef {import('../shapes-testing.js').ImportRow} ImportRow */

/** @type {Record<string, string>} */
const FIELDS = {
  handle: 'Handle', email: 'E-mail', name: 'Name', sizes: 'Sizes, best first', accepted: 'Tests taken on so far', finished: 'Tests finished',
  unit: 'Unit', terms: 'Stitch names', remarks: 'Remarks', applied_at: 'When they offered', size: 'Size', stitches: 'Stitches',
  rows: 'Rows', over: 'Counted over', yarn_m: 'Yarn used, metres', yarn_yd: 'Yarn used, yards', yarn_g: 'Yarn used, grams', hours: 'Hours', note: 'Remarks',
};

/** @type {Record<'applicants'|'reports', string[]>} */
const KNOWN = {
  applicants: ['handle', 'sizes', 'name', 'email', 'accepted', 'finished', 'unit', 'terms', 'remarks', 'applied_at'],
  reports: ['handle', 'size', 'stitches', 'rows', 'over', 'unit', 'yarn_m', 'yarn_yd', 'yarn_g', 'hours', 'note'],
};

/**
 * What a column can stand for: the known fields, for reports the points too.
 * @param {'applicants'|'reports'} kind @param {{name: string}[]} points
 */
export function fieldsOf(kind, points) {
  return kind === 'reports' ? [...KNOWN.reports, ...points.map((p) => `point:${p.name}`)] : KNOWN.applicants;
}

/**
 * The column names of a table, from its first line: for choosing columns when
 * the server found none that it knows.
 * @param {string} text
 */
export function readHeader(text) {
  const line = text.replace(/^\uFEFF/, '').split(/\r?\n/).find((l) => l.trim() !== '') || '';
  const bare = line.replace(/"(?:[^"]|"")*"/g, '');
  const separator = [',', ';', '\t'].reduce((best, s) => (bare.split(s).length > bare.split(best).length ? s : best));
  const cells = line.match(new RegExp(`(?:^|${separator})("(?:[^"]|"")*"|[^${separator}]*)`, 'g')) || [];
  return cells.map((c) => c.replace(new RegExp(`^${separator}`), '').trim().replace(/^"([^]*)"$/, '$1').replaceAll('""', '"')).filter(Boolean);
}

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
