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

/** @type {[string, string][]} */
export const DAYS = [['mon', 'Mon'], ['tue', 'Tue'], ['wed', 'Wed'], ['thu', 'Thu'], ['fri', 'Fri'], ['sat', 'Sat'], ['sun', 'Sun']];
