// What is said about a sample: how far it is worked and who has it.

/** @typedef {import('../shapes-filming.js').Sample} Sample */
/** @typedef {import('../shapes-filming.js').Installment} Installment */

/** @type {[Sample['purpose'], string][]} */
export const PURPOSES = [['swatch', 'swatch'], ['fit', 'to try the fit'], ['camera', 'for the camera'], ['photography', 'for photographs']];

/**
 * @param {string | null} id @param {string} note @param {Installment[]} run
 * @param {string} [state] the point within the next installment, in words
 */
export function sayWorked(id, note, run, state = '') {
  const n = run.find((x) => x.id === id);
  const whole = state ? `worked to ${state}` : n ? `worked through ${n.position}, ${n.title}` : '';
  return [whole, note].filter(Boolean).join('; ') || (run.length ? 'not worked through the first installment' : 'in work');
}

/**
 * @param {{worked_through: string | null, state_id: string | null, worked_note: string}} at a sample or one of its moves
 * @param {{run: Installment[], stateWords: (id: string | null) => string}} shelf
 */
export const sayPlace = (at, shelf) => sayWorked(at.worked_through, at.worked_note, shelf.run, shelf.stateWords(at.state_id));

/** @param {{held_by: {handle: string} | null, held_note: string}} s */
export function sayHolder(s) {
  const who = s.held_by ? `with ${s.held_by.handle}` : '';
  return [who, s.held_note].filter(Boolean).join(', ') || 'nobody is noted';
}
