// How what happened to a sign-in is said.

/** @type {Record<string, string>} */
const SAID = {
  'password changed': 'The password was changed',
  'e-mail changed': 'The e-mail address was changed',
  'refresh token reused': 'Somebody tried to go on with a copy of a sign-in; it was ended',
  'wrong codes': 'Several wrong codes were given in a row',
  'recovery code used': 'A recovery code was used',
  'recovery codes renewed': 'New recovery codes were made',
  'second step set up': 'The second step was set up',
  'second step taken away': 'The second step was taken away',
  'sign-ins ended': 'Every sign-in was ended',
  'sign-in ended': 'A sign-in was ended',
  'other sign-ins ended': 'All other sign-ins were ended',
  'invitation used': 'A link was used to set a new password',
};

/** @param {import('../shapes-sign-in.js').SignInNotice} notice */
export const sayNotice = (notice) => `${SAID[notice.action] || notice.action}${notice.by ? `, by ${notice.by}` : ''}.`;

/** A secret in groups of four, as it is typed. @param {string} secret */
export const inGroups = (secret) => (secret.match(/.{1,4}/g) || []).join(' ');
