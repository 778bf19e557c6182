// Days and moments as they are read. A day is a calendar day and has no zone;
// a moment is shown in the studio's zone.

/**
 * `Thu 12 Mar`, with the year when it isn't the year of `today`.
 * @param {string | null | undefined} day YYYY-MM-DD
 * @param {string} [today] YYYY-MM-DD
 */
export function sayDay(day, today) {
  if (!day) return '–';
  const at = new Date(`${day}T00:00:00Z`);
  const text = at.toLocaleDateString('en-GB', { timeZone: 'UTC', weekday: 'short', day: 'numeric', month: 'short' }).replace(',', '');
  return today && day.slice(0, 4) === today.slice(0, 4) ? text : `${text} ${day.slice(0, 4)}`;
}

/**
 * How far off a day is. @param {number} days
 */
export function sayDaysLeft(days) {
  if (days === 0) return 'today';
  if (days === 1) return 'tomorrow';
  if (days === -1) return 'yesterday';
  return days > 0 ? `in ${days} days` : `${-days} days ago`;
}

/**
 * A moment, `12 Mar 2027, 14:05`, in the zone given.
 * @param {string | null | undefined} moment RFC 3339
 * @param {string} [zone]
 */
export function sayMoment(moment, zone) {
  if (!moment) return '–';
  return new Date(moment).toLocaleString('en-GB', {
    timeZone: zone || 'UTC', day: 'numeric', month: 'short', year: 'numeric', hour: '2-digit', minute: '2-digit',
  });
}

/** @param {string} from @param {string} to both YYYY-MM-DD */
export function daysBetween(from, to) {
  return Math.round((Date.parse(`${to}T00:00:00Z`) - Date.parse(`${from}T00:00:00Z`)) / 86_400_000);
}
