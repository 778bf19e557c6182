// The words of the release page that follow from how things stand.
import { sayDay, sayDaysLeft, sayMoment, daysBetween } from '../parts/dates.js';

/** @typedef {import('../shapes-release.js').Release} Release */
/** @typedef {import('../shapes-release.js').ReleaseDay} ReleaseDay */
/** @typedef {import('../shapes-release.js').ReleaseGate} ReleaseGate */

/** A day's heading. @param {ReleaseDay} day @param {string} today */
export function sayReleaseDay(day, today) {
  if (!day.on) return 'No day announced';
  return `${sayDay(day.on, today)}, ${sayDaysLeft(daysBetween(today, day.on))}`;
}

/** @type {Record<ReleaseDay['standing'], string>} */
const STANDINGS = { overdue: 'overdue', today: 'today', this_week: 'this week', later: '', undated: '', done: 'done' };

/** How the day lies to today, in a word. @param {ReleaseDay} day */
export const sayStanding = (day) => (day.standing === 'today' ? 'to do now' : STANDINGS[day.standing]);

/** What is left of a list of days. @param {ReleaseDay[]} days */
export function tallyDays(days) {
  const items = days.flatMap((d) => d.parts).flatMap((p) => p.items);
  const left = items.filter((i) => !i.done).length;
  const late = days.filter((d) => d.standing === 'overdue').length;
  if (items.length === 0) return 'Nothing is announced yet';
  if (left === 0) return 'Everything is ticked';
  return `${left} of ${items.length} still to do${late ? `, ${late} day${late === 1 ? '' : 's'} overdue` : ''}`;
}

/** @param {ReleaseGate[]} gates */
export function tallyGates(gates) {
  const shut = gates.filter((g) => g.shut).length;
  const hand = gates.filter((g) => g.by_hand).length;
  return `${shut === 0 ? 'every gate is open' : `${shut} gate${shut === 1 ? '' : 's'} shut`}${hand ? `, ${hand} opened by hand` : ''}`;
}

/**
 * What marking an installment's video as out sends: it is scheduled along the
 * way when that is all that is missing before.
 * @param {{state: string}} n @param {boolean} out
 */
export function videoMark(n, out) {
  if (!out) return { aired: false };
  return n.state === 'captioned' ? { scheduled: true, aired: true } : { aired: true };
}

/**
 * When an installment went out, and the day that it was announced for.
 * @param {{aired_at: string | null, air_on: string | null}} n @param {string} today @param {string} zone
 */
export function sayWentOut(n, today, zone) {
  const when = n.aired_at ? `went out ${sayMoment(n.aired_at, zone)}` : 'is out';
  return n.air_on ? `${when}, announced for ${sayDay(n.air_on, today)}` : when;
}

/**
 * The gates that were opened by hand for an installment alone: what is left to
 * tell of its gates once it is out.
 * @param {{id: string, gates: ReleaseGate[]}} n
 */
export const openedFor = (n) => n.gates.filter((g) => g.opened?.installment_id === n.id);

/** @param {string} what @param {string} on @param {string} today */
export const sayEarly = (what, on, today) => `${what} is announced for ${sayDay(on, today)}, ${sayDaysLeft(daysBetween(today, on))}.`;
