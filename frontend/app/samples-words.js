// What is said about a sample: how far it is worked, who has it, and what is
// lost when it is worked on.

/** @typedef {import('../shapes-filming.js').Sample} Sample */
/** @typedef {import('../shapes-filming.js').Installment} Installment */

/** @type {[Sample['purpose'], string][]} */
export const PURPOSES = [['swatch', 'swatch'], ['fit', 'to try the fit'], ['camera', 'for the camera'], ['photography', 'for photographs']];

/** Its place in the run: 0 before the first installment. @param {string | null} id @param {Installment[]} run */
export const placeOf = (id, run) => (id === null ? 0 : run.findIndex((n) => n.id === id) + 1);

/** @param {string | null} id @param {string} note @param {Installment[]} run */
export function sayWorked(id, note, run) {
  const n = run.find((x) => x.id === id);
  const whole = n ? `worked through ${n.position}, ${n.title}` : run.length ? 'not worked through the first installment' : 'in work';
  return note ? `${whole}; ${note}` : whole;
}

/** @param {{held_by: {handle: string} | null, held_note: string}} s */
export function sayHolder(s) {
  const who = s.held_by ? `with ${s.held_by.handle}` : '';
  return [who, s.held_note].filter(Boolean).join(', ') || 'nobody is noted';
}

/**
 * The installments that stand unrecorded between where the sample is and where
 * it would go: past them, it can't show them any more.
 * @param {Sample} sample @param {string | null} to @param {Installment[]} run
 */
export function passes(sample, to, run) {
  const [from, until] = [placeOf(sample.worked_through, run), placeOf(to, run)];
  return run.slice(from, Math.max(from, until)).filter((n) => n.state === 'unrecorded');
}

/**
 * Other samples for the camera in the same size that have not passed the
 * installment yet.
 * @param {Installment} n @param {Sample} moved @param {Sample[]} all @param {Installment[]} run
 */
export function stillBefore(n, moved, all, run) {
  const place = placeOf(n.id, run);
  return all.filter((s) => s.id !== moved.id && !s.retired && s.purpose === 'camera' && s.size_id === moved.size_id && placeOf(s.worked_through, run) < place);
}

/**
 * One warning for each unrecorded installment that would be passed.
 * @param {Sample} sample @param {string | null} to @param {Sample[]} all @param {Installment[]} run
 */
export function warningsFor(sample, to, all, run) {
  return passes(sample, to, run).map((n) => {
    const others = stillBefore(n, sample, all, run).map((s) => s.label);
    return `Installment ${n.position}, ${n.title}, is unrecorded. ${others.length ? `Before it there is still: ${others.join(', ')}.` : 'No other sample for the camera stands before it: it would have to be ripped back or made again.'}`;
  });
}

/** Whether it would go back. @param {Sample} sample @param {string | null} to @param {Installment[]} run */
export const goesBack = (sample, to, run) => placeOf(to, run) < placeOf(sample.worked_through, run);
