// What is said about hours, days and speeds in plans of filming and schedules.

/** `2 h`, `2.5 h`, `20 min`. @param {number} hours */
export function sayHours(hours) {
  if (hours <= 0) return '0 h';
  if (hours < 1) return `${Math.max(1, Math.round(hours * 60))} min`;
  return `${Math.round(hours * 10) / 10} h`;
}

/** Where a speed of making comes from. @param {{stitches_per_hour: number, logged_hours: number, source: string}} speed */
export function saySpeed(speed) {
  const rate = `${Math.round(speed.stitches_per_hour)} stitches an hour`;
  switch (speed.source) {
    case 'stated': return `${rate}, as stated`;
    case 'logged': return `${rate}, learned from ${sayHours(speed.logged_hours)} logged`;
    case 'studio': return `${rate}, learned from ${sayHours(speed.logged_hours)} that the studio logged`;
    default: return `${rate}, taken as usual until hours are logged`;
  }
}

/**
 * What follows the name of a planned sample: who has it, or that it is still to
 * be made, and which one stands there already although another is used.
 * @param {{held_by: string, new: boolean, spare?: string}} x
 */
export function sayPiece(x) {
  const who = x.new ? ', still to be made' : x.held_by ? `, which ${x.held_by} has` : '';
  return who + (x.spare ? ` (${x.spare} is there already and can show it too)` : '');
}

/** A percentage of a probability, never a flat promise. @param {number} p */
export function sayChance(p) {
  if (p >= 0.995) return 'over 99 %';
  if (p < 0.005) return 'under 1 %';
  return `${Math.round(p * 100)} %`;
}

/**
 * Whether a take is used: as a whole, or by the shots that were stamped in it.
 * @param {Pick<import('../shapes-filming.js').Take, 'set_aside_at' | 'accepted_at' | 'shots'>} t
 */
export function sayTake(t) {
  if (t.set_aside_at) return 'set aside';
  const accepted = t.shots.filter((s) => s.accepted).length;
  if (t.accepted_at || (accepted > 0 && accepted === t.shots.length)) return 'accepted';
  return accepted ? `${accepted} of ${t.shots.length} shots accepted` : 'not looked through yet';
}
