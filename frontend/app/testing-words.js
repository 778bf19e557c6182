// What the testing page says about slots, applicants and assignments.

/** @typedef {import('../shapes-testing.js').Slot} Slot */
/** @typedef {import('../shapes-testing.js').Assignment} Assignment */
/** @typedef {import('../shapes-testing.js').Application} Application */

/** @type {Record<Assignment['state'], string>} */
export const ASSIGNED_STATES = { asked: 'asked, no answer yet', accepted: 'accepted', reported: 'reported', approved: 'approved', withdrawn: 'withdrawn' };

/** How a tester has kept earlier promises. @param {{accepted: number, finished: number}} a */
export function sayRecord({ accepted, finished }) {
  if (accepted === 0) return 'no tests before';
  return finished === accepted ? `finished all ${accepted}` : `finished ${finished} of ${accepted}`;
}

/**
 * What a size still lacks, '' when nothing.
 * @param {Slot} s
 */
export function sayLack(s) {
  const people = s.fewest - s.assigned;
  if (people > 0) return people === 1 ? 'one tester too few' : `${people} testers too few`;
  const reports = s.fewest - s.reported;
  if (reports > 0) return reports === 1 ? 'one more report needed' : `${reports} more reports needed`;
  return s.assigned > s.most ? `${s.assigned - s.most} more than the most` : '';
}

/** The slots of a call added up. @param {Slot[]} slots */
export function sum(slots) {
  const total = { wanted: 0, assigned: 0, accepted: 0, reported: 0, approved: 0 };
  for (const s of slots) for (const k of /** @type {(keyof typeof total)[]} */ (Object.keys(total))) total[k] += s[k];
  return total;
}

/**
 * The sizes to offer for an applicant: those they asked for, best first, then
 * the others in order, each with how many of its places are taken.
 * @param {Application} a @param {Slot[]} slots @param {(sizeId: string) => string} name
 * @returns {[string, string][]}
 */
export function choicesFor(a, slots, name) {
  const order = ['first choice', 'second choice', 'third choice'];
  const asked = a.sizes.filter((id) => slots.some((s) => s.size_id === id));
  const others = slots.map((s) => s.size_id).filter((id) => !asked.includes(id));
  return [...asked, ...others].map((id, i) => {
    const slot = slots.find((s) => s.size_id === id);
    const taken = slot ? `${slot.assigned} of ${slot.wanted} taken` : '';
    return [id, `size ${name(id)}: ${i < asked.length ? `${order[i] || 'also asked for'}, ` : ''}${taken}`];
  });
}

/** Those without a size first, then by when they offered. @param {Application[]} list */
export function waitingFirst(list) {
  return [...list].sort((a, b) => Number(Boolean(a.assignment)) - Number(Boolean(b.assignment)) || a.applied_at.localeCompare(b.applied_at) || a.person.handle.localeCompare(b.person.handle));
}

/**
 * By size, smallest first; withdrawn ones at the end of their size.
 * @param {Assignment[]} list @param {{id: string}[]} sizes
 */
export function bySize(list, sizes) {
  const at = new Map(sizes.map((s, i) => [s.id, i]));
  return [...list].sort((a, b) => (at.get(a.size.id) ?? 99) - (at.get(b.size.id) ?? 99)
    || Number(a.state === 'withdrawn') - Number(b.state === 'withdrawn') || a.person.handle.localeCompare(b.person.handle));
}
