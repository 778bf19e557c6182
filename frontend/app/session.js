// Who is here and in which studio.
import * as api from './api.js';

/** @typedef {import('../shapes.js').Person} Person */
/** @typedef {import('../shapes.js').Settings} Settings */

/** @type {Person | null} */
let person = null;
/** @type {Settings | null} */
let settings = null;

/** The person signed in, or null; asks the server once. */
export async function whoAmI() {
  if (person) return person;
  try {
    person = await api.get('/me');
  } catch (err) {
    if (/** @type {any} */ (err).status !== 401) throw err;
  }
  return person;
}

/** After signing in, changing oneself, or signing out. @param {Person | null} now */
export function setPerson(now) {
  person = now;
  settings = null;
}

export async function studio() {
  settings ??= await api.get('/studio/settings');
  return /** @type {Settings} */ (settings);
}

export function forgetStudio() {
  settings = null;
}

/** @param {Person | null} who @param {...string} roles */
export const hasRole = (who, ...roles) => Boolean(who && roles.some((r) => who.roles.includes(r)));

/** The studio's own people, as against testers from outside. @param {Person | null} who */
export const isStaff = (who) => hasRole(who, 'designer', 'tech_editor', 'maker', 'filmer');
