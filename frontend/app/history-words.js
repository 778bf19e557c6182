// What differs between two states of a thing, in lines that a person can read.

const MOST = 60; // lines; a whole sheet in one event is not read line by line
const QUIET = new Set(['revision', 'updated_at', 'created_at']);

/** @typedef {{where: string, from: string, to: string}} Change */

/**
 * @param {any} before @param {any} after
 * @returns {Change[]}
 */
export function changesOf(before, after) {
  /** @type {Change[]} */
  const changes = [];
  compare('', before ?? undefined, after ?? undefined, changes);
  return changes.slice(0, MOST);
}

/** @param {string} where @param {any} from @param {any} to @param {Change[]} into */
function compare(where, from, to, into) {
  if (isThing(from) || isThing(to)) {
    for (const key of new Set([...Object.keys(from || {}), ...Object.keys(to || {})])) {
      if (!QUIET.has(key)) compare(where ? `${where} · ${plain(key)}` : plain(key), from?.[key], to?.[key], into);
    }
    return;
  }
  const [a, b] = [say(from), say(to)];
  if (a !== b) into.push({ where: where || 'value', from: a, to: b });
}

/** @param {any} v */
const isThing = (v) => v !== null && typeof v === 'object' && (!Array.isArray(v) || v.some((x) => x !== null && typeof x === 'object'));

/** @param {any} v */
function say(v) {
  if (v === undefined || v === null || v === '') return '';
  if (Array.isArray(v)) return v.map((x) => (x === null ? '–' : String(x))).join(', ');
  if (typeof v === 'boolean') return v ? 'yes' : 'no';
  return String(v);
}

/** `measured_flat` → `measured flat`; a place in a list counts from 1. @param {string} key */
const plain = (key) => (/^\d+$/.test(key) ? String(Number(key) + 1) : key.replaceAll('_', ' '));

/** @param {string} entity */
export const sayEntity = (entity) => entity.replaceAll('_', ' ');
