// What is said about corrections.

/** @typedef {import('../shapes-corrections.js').Correction} Correction */
/** @typedef {import('../shapes-corrections.js').CorrectionMaker} CorrectionMaker */
/** @typedef {import('../shapes-corrections.js').PieceCorrection} PieceCorrection */

/** @type {Record<Correction['state'], string>} */
export const STATES = { draft: 'draft', in_text: 'in the text', announced: 'announced', withdrawn: 'withdrawn' };

/** How far a correction is, with the version that has it. @param {Pick<Correction, 'state'|'mended'>} c */
export function sayState(c) {
  if (c.state === 'draft' || c.mended === null) return STATES[c.state];
  return c.state === 'in_text' ? `in the text of version ${c.mended}` : `${STATES[c.state]}, version ${c.mended}`;
}

/** For which sizes. @param {string[]} names none: all */
export function saySizes(names) {
  if (names.length === 0) return 'All sizes';
  return names.length === 1 ? `Size ${names[0]}` : `Sizes ${names.slice(0, -1).join(', ')} and ${names.at(-1)}`;
}

/** Who found it; '' when that is not told. @param {Pick<Correction, 'found_handle'|'found_words'>} c */
export const sayFound = (c) => c.found_handle || c.found_words;

/**
 * Who may be chosen as the finder: everybody who is here, and whoever it is
 * already, so that a change of something else does not lose them.
 * @param {{id: string, handle: string, disabled_at?: string | null}[]} people @param {string | null | undefined} now
 */
export const finderChoices = (people, now) => people.filter((p) => !p.disabled_at || p.id === now).map((p) => [p.id, p.handle]);

/**
 * The counts to choose from: those of the latest version, and the one that it is
 * about already, which the next version may have dropped.
 * @param {{name: string}[]} counts @param {string} now
 */
export const countChoices = (counts, now) => [...(now && !counts.some((k) => k.name === now) ? [now] : []), ...counts.map((k) => k.name)].map((name) => [name, name]);

/** From what it came. @param {Pick<Correction, 'finding_key'|'remark_id'>} c */
export function saySource(c) {
  if (c.finding_key) return 'a fit finding';
  return c.remark_id ? 'a remark' : 'written by hand';
}

/** Since when the text was wrong and where it is right. @param {{since: number, mended: number | null}} c */
export const sayVersions = (c) => (c.mended === null ? `wrong since version ${c.since}` : `wrong since version ${c.since}, right in version ${c.mended}`);

/**
 * Who of the testers is told of a correction, and who is still to be told.
 * @param {number} number @param {CorrectionMaker[]} makers
 */
export function toldOf(number, makers) {
  return { told: makers.filter((m) => m.told.includes(number)), due: makers.filter((m) => m.due.includes(number)) };
}

/** @param {number} number @param {CorrectionMaker[]} makers */
export function sayTold(number, makers) {
  const { told, due } = toldOf(number, makers);
  const of = (/** @type {CorrectionMaker[]} */ list) => list.map((m) => m.handle).join(', ');
  const parts = [];
  if (told.length) parts.push(`told: ${of(told)}`);
  if (due.length) parts.push(`to be told: ${of(due)}`);
  return parts.join('; ');
}

/**
 * Who is to be told the same, together: by what is due, the version that they
 * make and their call. @param {CorrectionMaker[]} makers
 */
export function dueTogether(makers) {
  /** @type {Map<string, {due: number[], version: number, call_id: string, makers: CorrectionMaker[]}>} */
  const groups = new Map();
  for (const m of makers) {
    if (m.due.length === 0) continue;
    const key = `${m.call_id} ${m.version} ${m.due.join()}`;
    const group = groups.get(key) || { due: m.due, version: m.version, call_id: m.call_id, makers: [] };
    group.makers.push(m);
    groups.set(key, group);
  }
  return [...groups.values()];
}

/** The states in the order in which they want doing. */
const ORDER = ['draft', 'in_text', 'announced', 'withdrawn'];

/** What wants doing first at the top, the latest first among equals. @param {Correction[]} list */
export const inOrder = (list) => [...list].sort((a, b) => ORDER.indexOf(a.state) - ORDER.indexOf(b.state) || b.number - a.number);

/** A count in a tester's own size, before and now. @param {PieceCorrection} c @param {(n: number) => string} say */
export function sayPiece(c, say) {
  const name = (c.count || '').replaceAll('_', ' ');
  if (c.before === null && c.after === null) return '';
  if (c.after === null) return `${name} was ${say(/** @type {number} */ (c.before))}; your size skips this line now`;
  if (c.before === null) return `${name} is ${say(c.after)} now; your size skipped this line before`;
  return `${name} is ${say(c.after)} now, was ${say(c.before)}`;
}
