// Opens screens: by link, by the browser's back and forward, and by go().
import { match } from './routes.js';
import { whoAmI, studio, hasRole, isStaff } from './session.js';
import { drawShell, drawDesignNav, announce } from './shell.js';
import { loadSheets } from './sheets.js';
import { Problem, sayError } from './problem.js';
import { h, put } from '../parts/h.js';

/** @typedef {import('../shapes.js').View} View */

let leaving = new AbortController();
/** @type {(() => string) | null} says what would be lost by leaving, or '' */
let unsaved = null;

export function start() {
  document.addEventListener('click', follow);
  addEventListener('popstate', () => open());
  addEventListener('beforeunload', (e) => { if (unsaved?.()) e.preventDefault(); });
  open(true);
}

/**
 * Opens an address of ours.
 * @param {string} path
 * @param {{replace?: boolean}} [options]
 */
export function go(path, options = {}) {
  if (!mayLeave()) return;
  history[options.replace ? 'replaceState' : 'pushState'](null, '', path);
  open();
}

/** Draws the present screen anew, after its data changed under it. */
export const reload = () => open();

/**
 * Asks before the screen is left while `what` returns a sentence about what
 * would be lost. @param {() => string} what
 */
export function holdWhile(what) {
  unsaved = what;
}

function mayLeave() {
  const lost = unsaved?.();
  if (lost && !confirm(`${lost} Leave without saving?`)) return false;
  unsaved = null;
  return true;
}

/** @param {MouseEvent} e */
function follow(e) {
  if (e.defaultPrevented || e.button !== 0 || e.metaKey || e.ctrlKey || e.shiftKey || e.altKey) return;
  const link = /** @type {Element} */ (e.target).closest?.('a[href]');
  if (!link || link.hasAttribute('download') || (link.getAttribute('target') || '_self') !== '_self') return;
  const to = new URL(/** @type {any} */ (link).href.baseVal ?? /** @type {any} */ (link).href, location.href);
  if (to.origin !== location.origin || !match(to.pathname)) return;
  if (to.pathname === location.pathname && to.search === location.search && to.hash) return;
  e.preventDefault();
  go(to.pathname + to.search + to.hash);
}

/** @param {boolean} [first] the first screen leaves focus where the browser put it */
async function open(first = false) {
  leaving.abort();
  const mine = leaving = new AbortController();
  unsaved = null;
  const page = at('page');
  const lede = at('page-lede');
  at('main').setAttribute('aria-busy', 'true'); // until all of the screen is there
  put(page, h('p', { class: 'waiting' }, 'One moment.'));
  put(lede);
  try {
    await draw(page, lede, mine.signal);
  } catch (err) {
    if (mine.signal.aborted) return;
    drawFailure(page, err);
  }
  if (mine.signal.aborted) return; // another screen is being drawn by now
  at('main').removeAttribute('aria-busy');
  if (first) return;
  if (location.hash && location.pathname !== '/join') document.getElementById(location.hash.slice(1))?.scrollIntoView();
  else scrollTo(0, 0);
  at('page-title').focus({ preventScroll: true });
}

/** @param {HTMLElement} page @param {HTMLElement} lede @param {AbortSignal} gone */
async function draw(page, lede, gone) {
  const found = match(location.pathname);
  if (!found) throw new Problem(404, { title: 'No such page', detail: 'There is nothing at this address.' });
  const { route, params } = found;
  const me = route.who === 'anyone' ? null : await whoAmI();
  if (route.who !== 'anyone' && !me) {
    go(`/sign-in?to=${encodeURIComponent(location.pathname + location.search)}`, { replace: true });
    return;
  }
  if (me?.set_up_first && location.pathname !== '/me') {
    go('/me', { replace: true });
    return;
  }
  if (me && location.pathname === '/' && !isStaff(me)) {
    go('/my', { replace: true });
    return;
  }
  if (me && !mayOpen(route.who, me)) throw new Problem(403, { title: 'Not yours to open', detail: 'This page is for other people of the studio.' });
  const [settings, screen] = await Promise.all([studio(), route.load()]);
  await loadSheets(screen.sheets || []);
  if (gone.aborted) return;
  drawShell(me, settings);
  drawDesignNav(route, params);
  put(page);
  /** @param {string} text */
  const title = (text) => { if (!gone.aborted) setTitle(text, settings.name); };
  await screen.draw({ page, lede, params, query: new URLSearchParams(location.search), me: /** @type {any} */ (me), settings, gone, title });
}

/** @param {string} who @param {import('../shapes.js').Person} me */
function mayOpen(who, me) {
  if (who === 'staff') return isStaff(me);
  return who === 'signed-in' || hasRole(me, who);
}

/** @param {HTMLElement} page @param {unknown} err */
function drawFailure(page, err) {
  const problem = err instanceof Problem ? err : null;
  setTitle(problem?.title || 'This page could not be drawn', '');
  put(page, h('div', { class: 'note bad', role: 'alert' }, h('p', {}, sayError(err))),
    h('div', { class: 'acts' },
      h('button', { type: 'button', class: 'main', onclick: () => reload() }, 'Try again'),
      h('a', { class: 'button', href: '/' }, 'To the start')));
  if (!problem) console.error(err);
}

/** @param {string} text @param {string} studioName */
function setTitle(text, studioName) {
  const heading = at('page-title');
  const changed = heading.textContent !== text;
  heading.textContent = text;
  document.title = studioName ? `${text} · ${studioName}` : text;
  if (changed) announce(text);
}

/** @param {string} id */
const at = (id) => /** @type {HTMLElement} */ (document.getElementById(id));
