// The steps of an installment after its recording, in their order.

/** @typedef {import('../shapes-filming.js').Installment} Installment */

/** @type {['edited', 'captioned', 'scheduled', 'aired']} */
export const STEPS = ['edited', 'captioned', 'scheduled', 'aired'];

/** @type {Record<string, string>} */
export const REMEDIES = { on_screen_note: 'on-screen note', cut: 'cut', record_again: 'record again' };

/** When each step was done. @param {Installment} n @returns {{step: string, at: string | null}[]} */
export function stepsOf(n) {
  return STEPS.map((step) => ({ step, at: n[/** @type {'edited_at'} */ (`${step}_at`)] }));
}

/**
 * The step that can be marked now, and the one that can be taken back: each at
 * most one, since they go in order.
 * @param {Installment} n
 */
export function openSteps(n) {
  const done = stepsOf(n).filter((s) => s.at).length;
  return { next: n.state === 'unrecorded' || done === STEPS.length ? null : STEPS[done], last: done ? STEPS[done - 1] : null };
}

/**
 * What the run needs soonest: the first that is late, else the first by the day
 * it is to be recorded, among those not recorded.
 * @param {Installment[]} run
 */
export function firstNeed(run) {
  const open = run.filter((n) => n.state === 'unrecorded');
  return [...open].sort((a, b) => Number(b.late) - Number(a.late) || (a.record_by || '9999').localeCompare(b.record_by || '9999') || a.position - b.position)[0] || null;
}

/** @param {Installment[]} run */
export function tallyRun(run) {
  const recorded = run.filter((n) => n.state !== 'unrecorded').length;
  const aired = run.filter((n) => n.state === 'aired').length;
  const slips = run.reduce((sum, n) => sum + n.open_slips, 0);
  return [`${recorded} of ${run.length} recorded`, `${aired} aired`, slips && (slips === 1 ? 'one slip to mend' : `${slips} slips to mend`)].filter(Boolean).join(', ');
}
