// The kinds of work of a schedule, as people name them.

/** @type {[string, string][]} */
export const KINDS = [['make', 'making'], ['film', 'recording'], ['edit', 'the edit'], ['caption', 'captions'], ['publish', 'scheduling'], ['reports', 'reports after the last day'], ['correct', 'corrections'], ['review', 'tech edit']];

/** @type {Record<string, string>} */
const EACH = { make: 'times what the stitches give', film: 'for each shot, and once to set up', edit: 'an installment', caption: 'an installment', publish: 'an installment', reports: '', correct: 'a version', review: 'a version' };

/** @param {import('../shapes-schedule.js').Estimate} e */
export function sayUnit(e) {
  if (e.unit === 'times') return EACH.make;
  return `${e.unit}${EACH[e.kind] ? ` ${EACH[e.kind]}` : ''}`;
}

/** @param {import('../shapes-schedule.js').Estimate} e */
export function saySource(e) {
  if (e.source === 'learned') return `learned from ${e.from} in other designs`;
  return e.source === 'stated' ? 'stated for this design' : 'a start, until the studio has a past';
}

/**
 * How long a task is planned to take: whole days, or hours up to the next half,
 * for the estimates know no better. @param {number} expected @param {'hours' | 'days'} unit
 */
export function sayLength(expected, unit) {
  if (!expected) return '–';
  if (unit === 'hours') return `${Math.ceil(2 * expected - 1e-9) / 2} h`;
  const days = Math.ceil(expected - 1e-9);
  return `${days} ${days === 1 ? 'day' : 'days'}`;
}

/**
 * What of another design holds a task up. @param {Pick<import('../shapes-schedule.js').Task, 'later_days' | 'waits' | 'through'>} t
 */
export function sayHeldUp(t) {
  if (t.later_days === 0) return '–';
  const later = `${t.later_days} ${t.later_days === 1 ? 'day' : 'days'} later`;
  if (t.waits) return `${later}: ${t.waits}`;
  return t.through ? `${later}, because “${t.through}” waits` : `${later}: hours for other designs add up`;
}

/** @type {[string, string][]} */
export const DAYS = [['mon', 'Mon'], ['tue', 'Tue'], ['wed', 'Wed'], ['thu', 'Thu'], ['fri', 'Fri'], ['sat', 'Sat'], ['sun', 'Sun']];
