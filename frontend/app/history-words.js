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

// What an event is about, where its own name would not read on after a verb.
/** @type {Record<string, string>} */
const THINGS = {
  design: 'the design', sizes: 'the sizes', points: 'the points of measure', yarn: 'the amounts of yarn', states: 'the states of the text', estimates: 'the estimates',
  features: 'what the garment has', 'count sheet': 'the counts', 'check-in': 'how far they are', invitation: 'an invitation link',
  'sign-up page': 'the sign-up page', 'release tick': 'an item of the release', 'gate override': 'an opened gate', measure_request: 'a wish to measure again', extension: 'a wish for more time',
};

/** @type {Record<string, string>} */
const DEEDS = {
  'assignment added': 'gave a size to a tester', 'assignment accepted': 'said yes to a size', 'assignment more time given': 'gave a tester more time', 'assignment due day moved': 'moved a tester’s day',
  'extension asked': 'asked for more time', 'measure_request asked': 'asked for a measurement once more', 'measure_request answered': 'measured once more, as asked',
  'check-in added': 'told how far they are', 'report approval taken back': 'took back the approval of a report', 'reminder told': 'told a tester what was due', 'application added': 'entered an applicant',
  'application body measurements removed': 'removed body measurements', 'version given out': 'gave a version to testers', 'sign-off signed': 'signed a version off', 'caution acknowledged': 'has read a caution',
  'gate override opened': 'opened a gate by hand', 'gate override taken back': 'shut a gate again', 'release tick ticked': 'ticked off an item of the release',
  'design release taken back': 'took the release back', 'take shots noted': 'noted the shots of a take', 'photo captioned': 'wrote what a photo shows', 'finding left': 'left a finding for later',
};

/** What was done, to be read behind who did it. @param {string} entity @param {string} action @returns {string} */
export function sayDeed(entity, action) {
  const known = DEEDS[`${entity} ${action}`];
  if (known) return known;
  const name = entity.replaceAll('_', ' ');
  const thing = THINGS[entity] || `${/^[aeiou]/.test(name) ? 'an' : 'a'} ${name}`;
  const [, verb, rest] = /^(taken back|withdrawn|put|marked|given)\b ?(.*)$/.exec(action) || [];
  if (!verb) return `${action} ${thing}`;
  return `${{ 'taken back': 'took back', withdrawn: 'withdrew', put: 'put', marked: 'marked', given: 'gave' }[verb]} ${thing}${rest && ` ${rest}`}`;
}
