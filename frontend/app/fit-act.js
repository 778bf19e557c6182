// What a person does about a finding: decide on it, or ask to measure again.
import { h } from '../parts/h.js';
import { openForm } from '../parts/open-dialog.js';
import '../parts/form-field.js';
import '../parts/entry-form.js';
import * as api from './api.js';
import { announce } from './shell.js';
import { capital } from './fit-words.js';
import { editCorrection } from './corrections-edit.js';
import { go } from './router.js';

/** @typedef {import('../shapes-fit.js').Finding} Finding */
/** @typedef {import('../shapes-fit.js').Bench} Bench */

const SAID = { accepted: 'Accepted.', rejected: 'Rejected.', left: 'Left for later.' };

/** @param {Bench} bench @param {Finding} f @param {'accepted'|'rejected'|'left'} choice @param {string} reason */
async function decide(bench, f, choice, reason) {
  await api.post(`${bench.path}/fit/decisions`, { key: f.key, choice, reason, seen: f.numbers });
  announce(SAID[choice]);
}

/** @param {Bench} bench @param {Finding} f @param {'accepted'|'rejected'|'left'} choice */
export function askDecision(bench, f, choice) {
  const titles = { accepted: 'Accept this finding', rejected: 'Reject this finding', left: 'Leave this for later' };
  openForm({
    title: titles[choice], say: choice === 'accepted' ? 'Accept' : choice === 'rejected' ? 'Reject' : 'Leave it', gone: bench.view.gone,
    save: ({ reason }) => decide(bench, f, choice, reason),
    done: async () => {
      await bench.refresh();
      if (document.activeElement === document.body) document.getElementById('waiting-title')?.focus(); // the finding went from there
    },
  }, h('p', {}, capital(f.message)),
  h('form-field', { name: 'reason', label: choice === 'rejected' ? 'Why is it not so?' : 'A note', kind: 'area', required: choice === 'rejected', maxlength: 4000,
    hint: 'It is kept with the numbers of now. When reports change them materially, the finding opens again.', '.value': f.decision?.choice === choice ? f.decision.reason : '' }));
}

/**
 * Asks a tester to measure a point, or without one their swatch, again.
 * @param {Bench} bench @param {{assignmentId: string, pointId: string | null, who: string, what: string}} of
 */
export function askToMeasure(bench, of) {
  const once = new api.OnceKey();
  openForm({
    title: `Ask ${of.who} to measure again`, say: 'Ask', gone: bench.view.gone,
    save: async ({ why }) => {
      const body = { assignment_id: of.assignmentId, ...(of.pointId && { point_id: of.pointId }), why };
      await api.post(`${bench.path}/measure-requests`, body, { key: once.for(body) });
      announce(`${of.who} is asked.`);
    },
    done: () => bench.refresh(),
  }, h('p', {}, `${capital(of.what)}: it appears on ${of.who}’s own page beside it, and their next report that measures it answers.`),
  h('form-field', { name: 'why', label: 'A word to the tester', kind: 'area', maxlength: 1000, hint: 'Don’t say what you expect: they measure blind.' }));
}

/**
 * Starts a correction from a decided finding: where, the count, the size, and
 * since which version. @param {Bench} bench @param {Finding} f
 */
export async function correctIt(bench, f) {
  /** @type {import('../shapes.js').Design} */
  const design = await api.get(bench.path, { signal: bench.view.gone });
  const sizes = f.size_id ? [f.size_id] : design.sizes.filter((z) => f.numbers.sizes?.includes(z.name)).map((z) => z.id);
  const made = bench.fit.pieces.filter((p) => sizes.length === 0 || sizes.includes(p.size_id)).map((p) => p.version);
  const since = design.versions.find((v) => v.number === Math.min(...made));
  await editCorrection({ view: bench.view, path: bench.path, design, refresh: (saved) => go(`/d/${bench.slug}/corrections#correction-${saved.number}`) }, null,
    { place: f.point || '', count: f.counts?.length === 1 ? f.counts[0] : '', sizes, since_version_id: since?.id, finding_key: f.key, about: capital(f.message) });
}

/** @param {Bench} bench @param {import('../shapes-fit.js').Request} r */
export async function takeBack(bench, r) {
  await api.post(`/measure-requests/${r.id}/withdraw`, undefined, { revision: r.revision });
  announce('The request is taken back.');
  await bench.refresh();
}
