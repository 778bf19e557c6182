// Everything that the pages ask of the server goes through here.
import { Problem } from './problem.js';

export const BASE = '/api/v1';

/** @typedef {{revision?: number, key?: string, signal?: AbortSignal, type?: string}} Options */

/** @param {string} path @param {Options} [options] @returns {Promise<any>} */
export const get = (path, options) => call('GET', path, undefined, options);
/** @param {string} path @param {unknown} [body] @param {Options} [options] @returns {Promise<any>} */
export const post = (path, body, options) => call('POST', path, body, options);
/** @param {string} path @param {unknown} body @param {Options} [options] @returns {Promise<any>} */
export const patch = (path, body, options) => call('PATCH', path, body, options);
/** @param {string} path @param {unknown} body @param {Options} [options] @returns {Promise<any>} */
export const put = (path, body, options) => call('PUT', path, body, options);
/** @param {string} path @param {Options} [options] @returns {Promise<any>} */
export const remove = (path, options) => call('DELETE', path, undefined, options);

/**
 * Every item of a list, page after page. `most` bounds what a slip could ask for.
 * @param {string} path @param {Options & {most?: number}} [options] @returns {Promise<any[]>}
 */
export async function all(path, options = {}) {
  const items = [];
  let after = '';
  do {
    const page = await get(`${path}${path.includes('?') ? '&' : '?'}limit=100${after && `&after=${encodeURIComponent(after)}`}`, options);
    items.push(...page.items);
    after = page.next || '';
  } while (after && items.length < (options.most || 2000));
  return items;
}

/**
 * A key for one creation: sending the same body again (after a dropped
 * connection, a second press) is answered with what the first try made.
 */
export class OnceKey {
  #body = '';
  #key = '';
  /** @param {unknown} body */
  for(body) {
    const text = JSON.stringify(body);
    if (text !== this.#body || !this.#key) [this.#body, this.#key] = [text, freshKey()];
    return this.#key;
  }
}

/** Not randomUUID: it is missing where a studio serves plain http in its own network. */
function freshKey() {
  return [...crypto.getRandomValues(new Uint8Array(16))].map((b) => b.toString(16).padStart(2, '0')).join('');
}

/**
 * @param {string} method @param {string} path @param {unknown} body @param {Options} [options]
 */
async function call(method, path, body, options = {}) {
  let response = await send(method, path, body, options);
  if (response.status === 401 && !path.startsWith('/auth/') && await refresh()) {
    response = await send(method, path, body, options);
  }
  if (response.status === 204) return null;
  const text = await response.text();
  if (response.ok) return text ? JSON.parse(text) : null;
  throw new Problem(response.status, readProblem(text));
}

/** A proxy in between may answer with a page of its own. @param {string} text */
function readProblem(text) {
  try {
    return JSON.parse(text) || {};
  } catch {
    return {};
  }
}

/** @param {string} method @param {string} path @param {unknown} body @param {Options} options */
async function send(method, path, body, options) {
  /** @type {Record<string, string>} */
  const headers = { Accept: 'application/json, application/problem+json' };
  if (body !== undefined) headers['Content-Type'] = options.type || 'application/json';
  if (options.revision !== undefined) headers['If-Match'] = `"${options.revision}"`;
  if (options.key) headers['Idempotency-Key'] = options.key;
  const raw = body === undefined || options.type ? /** @type {any} */ (body) : JSON.stringify(body);
  try {
    return await fetch(BASE + path, { method, headers, body: raw, signal: options.signal, credentials: 'same-origin' });
  } catch (err) {
    if (options.signal?.aborted) throw err;
    throw new Problem(0, { detail: 'The server could not be reached. Nothing was lost: try again when the network is back.' });
  }
}

/** @type {Promise<boolean> | null} */
let refreshing = null;

/**
 * Asks for a new access token, once for however many calls are waiting for it.
 * False when the sign-in is over. A server that fails or is not reached has not
 * said so: that is thrown as what it is.
 */
export function refresh() {
  refreshing ??= askAnew().finally(() => { refreshing = null; });
  return refreshing;
}

async function askAnew() {
  const response = await send('POST', '/auth/refresh', {}, {});
  if (response.ok || response.status === 401) return response.ok;
  throw new Problem(response.status, readProblem(await response.text()));
}
