const STAFF = ['designer', 'tech_editor', 'maker', 'filmer'];

/**
 * Who sees something, in words: you first, and the studio's people as one
 * where all of them do.
 * @param {string[]} roles
 * @param {(role: string) => string} say
 */
export function whoSees(roles, say) {
  const staff = STAFF.filter((r) => roles.includes(r));
  const others = staff.length === STAFF.length ? ['everybody of the studio'] : staff.map((r) => `the ${say(r)}`);
  const all = [...(roles.includes('self') ? ['you'] : []), ...others];
  return all.length < 2 ? all.join('') : `${all.slice(0, -1).join(', ')} and ${all[all.length - 1]}`;
}
