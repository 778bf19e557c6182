// What stands around every screen: the studio's name, the navigation for this
// person's roles, the line for announcements.
import { h, put } from '../parts/h.js';
import { ROUTES } from './routes.js';
import * as api from './api.js';
import { hasRole, isStaff, setPerson } from './session.js';

/** @typedef {import('../shapes.js').Person} Person */

/** @param {string} id */
const at = (id) => /** @type {HTMLElement} */ (document.getElementById(id));

/** @param {Person | null} me @param {import('../shapes.js').Settings} settings */
export function drawShell(me, settings) {
  at('studio-name').textContent = settings.name || 'Tenter';
  at('demo').hidden = !settings.demo;
  at('nav').hidden = !me;
  at('account').hidden = !me;
  put(at('page-nav'));
  at('page-nav').hidden = true;
  if (!me) return;
  const mine = ROUTES.filter((r) => r.nav && (r.who === 'signed-in' || (r.who === 'staff' ? isStaff(me) : hasRole(me, r.who))));
  put(at('nav'), mine.map((r) => link(r.path, /** @type {string} */ (r.nav))));
  put(at('account'), link('/me', me.handle), h('button', { type: 'button', class: 'plain', onclick: signOut }, 'Sign out'));
}

/**
 * The navigation of one design, on the screens that have a tab.
 * @param {import('../shapes.js').Route} route @param {Record<string, string>} params
 */
export function drawDesignNav(route, params) {
  if (!params.slug) return;
  const nav = at('page-nav');
  put(nav, ROUTES.filter((r) => r.tab).map((r) => link(r.path.replace(':slug', encodeURIComponent(params.slug)), /** @type {string} */ (r.tab))));
  nav.hidden = false;
}

/** @param {string} href @param {string} text */
function link(href, text) {
  return h('a', { href, 'aria-current': location.pathname === href ? 'page' : undefined }, text);
}

async function signOut() {
  try {
    await api.post('/auth/sign-out');
  } finally {
    setPerson(null);
    location.assign('/sign-in');
  }
}

/** Says something to those who don't see the page change. @param {string} text */
export function announce(text) {
  at('announce').textContent = text;
}
