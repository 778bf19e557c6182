// Live changes: calls back when the server says that something changed.
import * as api from './api.js';
import { sayError } from './problem.js';
import { announce } from './shell.js';

const SETTLE_MS = 400; // several changes in one transaction arrive together
const FIRST_WAIT_MS = 1_000;
const LONGEST_WAIT_MS = 60_000;
const OUT_OF_SIGHT_MS = 60_000;

/**
 * How long to wait before try number `tries` (from 0) at connecting again:
 * doubling up to a minute, spread by up to half so that not every browser
 * comes back in the same second.
 * @param {number} tries @param {number} spread 0 to 1
 */
export function waitBefore(tries, spread) {
  return Math.min(LONGEST_WAIT_MS, FIRST_WAIT_MS * 2 ** tries) * (1 - spread / 2);
}

/**
 * Listens until `gone`, while the page is looked at: a browser holds few
 * connections to one server, over HTTP/1.1 six for all its tabs, so a page that
 * has been out of sight for a while, or is only kept for the way back, lets its
 * own go. While it is hidden, changes wait until it is looked at again. After a
 * break the callback runs once, since what happened meanwhile was missed.
 * @param {string} path under the API, `/designs/x/live`
 * @param {() => unknown} changed what it throws, or its promise, is told to the person unless the page was left
 * @param {AbortSignal} gone
 */
export function listen(path, changed, gone) {
  let tries = 0;
  let due = false;
  let missed = false;
  /** @type {EventSource | null} */
  let source = null;
  /** @type {any} */
  let timer = 0;
  /** @type {any} */
  let settle = 0;

  const tell = () => {
    if (document.hidden) { due = true; return; }
    due = false;
    clearTimeout(settle);
    settle = setTimeout(bringUpToDate, SETTLE_MS);
  };
  const bringUpToDate = async () => {
    try {
      await changed();
    } catch (err) {
      if (!gone.aborted) announce(`The page could not be brought up to date: ${sayError(err)}`);
    }
  };
  const connect = () => {
    if (gone.aborted || source) return;
    source = new EventSource(`/api/v1${path}`);
    source.addEventListener('open', () => { if (missed) tell(); missed = false; tries = 0; });
    source.addEventListener('changed', tell);
    source.addEventListener('error', again);
  };
  const letGo = () => {
    source?.close();
    source = null;
    missed = true;
    clearTimeout(timer);
  };
  const again = () => {
    letGo();
    timer = setTimeout(async () => { await api.refresh().catch(() => false); connect(); }, waitBefore(tries, Math.random()));
    tries += 1;
  };
  const seenOrNot = () => {
    if (document.hidden) { if (source) timer = setTimeout(letGo, OUT_OF_SIGHT_MS); return; }
    if (source) clearTimeout(timer);
    else connect();
    if (due) tell();
  };
  document.addEventListener('visibilitychange', seenOrNot, { signal: gone });
  addEventListener('pagehide', letGo, { signal: gone });
  addEventListener('pageshow', (e) => { if (e.persisted) connect(); }, { signal: gone });
  gone.addEventListener('abort', () => { letGo(); clearTimeout(settle); });
  connect();
}
