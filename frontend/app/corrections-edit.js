// The form of a correction, and the steps that it takes.
import { h, put } from '../parts/h.js';
import { openForm } from '../parts/open-dialog.js';
import '../parts/form-field.js';
import '../parts/entry-form.js';
import * as api from './api.js';
import { announce } from './shell.js';
import { Problem, sayError } from './problem.js';
import { countChoices, finderChoices } from './corrections-words.js';

/** @typedef {import('../shapes-corrections.js').Correction} Correction */
/** @typedef {import('../shapes-corrections.js').CorrectionDesk} CorrectionDesk */
/** @typedef {import('../shapes-corrections.js').CorrectionStart} CorrectionStart */

const OTHER = 'other'; // somebody who is no person here

/**
 * Writes a correction, or changes one. The lists of a count come from the count
 * sheets of the two versions. @param {CorrectionDesk} desk @param {Correction | null} c @param {CorrectionStart} [start]
 */
export async function editCorrection(desk, c, start = {}) {
  const { view, path, design } = desk;
  const given = { place: '', was: '', is_now: '', why: '', count: '', sizes: /** @type {string[]} */ ([]), since_version_id: '', found_by: /** @type {string | null | undefined} */ (null), found_words: '', ...start, ...c };
  const versions = [...design.versions].sort((a, b) => b.number - a.number);
  const sinceId = given.since_version_id || versions[Math.min(1, versions.length - 1)]?.id || '';
  const [people, sheet] = await Promise.all([api.all('/people', { signal: view.gone }), api.get(`/versions/${versions[0].id}`, { signal: view.gone })]);
  const once = new api.OnceKey();
  const since = h('form-field', { name: 'since_version_id', label: 'Wrong since', kind: 'select', quiet: true, '.options': versions.map((v) => [v.id, `version ${v.number}`]), '.value': sinceId });
  const count = h('form-field', { name: 'count', label: 'About a count', kind: 'select', quiet: true, hint: 'Then each tester is told the number of their own size.',
    '.options': [['', 'no count'], ...countChoices(sheet.counts, given.count)], '.value': given.count });
  const was = h('form-field', { name: 'was', label: 'It said', kind: 'area', rows: 2, maxlength: 4000, '.value': given.was });
  const now = h('form-field', { name: 'is_now', label: 'It now says', kind: 'area', rows: 2, maxlength: 4000, hint: 'May wait until the text is mended.', '.value': given.is_now });
  const sizes = h('check-field', { name: 'sizes', label: 'Sizes', hint: 'None ticked: all.', '.options': design.sizes.map((z) => [z.id, z.name]), '.value': given.sizes });
  const who = h('form-field', { name: 'found_by', label: 'Found by', kind: 'select', quiet: true,
    '.options': [['', 'not told'], [OTHER, 'somebody else, in words'], ...finderChoices(people, given.found_by)], '.value': given.found_by || (given.found_words ? OTHER : '') });
  const words = h('form-field', { name: 'found_words', label: 'Who, in words', maxlength: 200, autocomplete: 'off', hint: 'Only where it is no person here.', '.value': given.found_words });
  const said = h('p', { class: 'soft', role: 'status' });
  openForm({
    title: c ? `Correction ${c.number}` : 'Write a correction', say: c ? 'Save' : 'Keep as a draft', gone: view.gone,
    save: async (v) => {
      const body = { place: v.place, was: v.was, is_now: v.is_now, why: v.why, count: v.count, sizes: v.sizes, since_version_id: v.since_version_id,
        ...(v.found_by && v.found_by !== OTHER && { found_by: v.found_by }), found_words: v.found_by === OTHER || v.found_by === '' ? v.found_words : '' };
      if (c) return api.put(`/corrections/${c.id}`, body, { revision: c.revision });
      const whole = { ...body, ...(start.finding_key && { finding_key: start.finding_key }), ...(start.remark_id && { remark_id: start.remark_id }) };
      return api.post(`${path}/corrections`, whole, { key: once.for(whole) });
    },
    done: async (saved) => { await desk.refresh(saved); announce(c ? 'The correction is saved.' : 'The correction is kept as a draft.'); },
  }, start.about ? h('blockquote', {}, h('p', {}, start.about)) : null,
  h('form-field', { name: 'place', label: 'Where in the text', required: true, maxlength: 200, autocomplete: 'off', '.value': given.place }),
  h('div', { class: 'side' }, since, count), h('p', {}, h('button', { type: 'button', onclick: fill }, 'Fill in from the count sheets')), said,
  was, now, sizes, h('div', { class: 'side' }, who, words),
  h('form-field', { name: 'why', label: 'Why', kind: 'area', rows: 2, maxlength: 4000, hint: 'For the studio; it is never published.', '.value': given.why }));

  async function fill() {
    if (!count.value) {
      put(said, 'Choose a count first.');
      return;
    }
    try {
      /** @type {import('../shapes-corrections.js').ChangedCount} */
      const k = await api.get(`${path}/corrections/count?count=${encodeURIComponent(count.value)}&since=${since.value}`);
      was.value = k.was;
      now.value = k.same ? '' : k.is_now;
      sizes.value = k.sizes;
      put(said, k.since === k.now ? `As version ${k.now} has it. There is no later version yet: add the next one on the Counts page, mend the text there, and fill in then.` : k.same ? `Version ${k.now} says the same as version ${k.since} in every size: mend the count sheet, then fill in what it says.` : `As version ${k.since} and version ${k.now} have it. Nothing is saved yet.`);
    } catch (err) {
      put(said, sayError(err));
    }
  }
}

/** Says in which version the text is mended. @param {CorrectionDesk} desk @param {Correction} c */
export function putIntoText(desk, c) {
  const later = desk.design.versions.filter((v) => v.number > c.since).sort((a, b) => b.number - a.number);
  if (later.length === 0) {
    throw new Problem(409, { detail: `The text is wrong since version ${c.since}, and there is no later one. Add the next version on the Counts page, mend the text there, and come back.` });
  }
  openForm({
    title: `Correction ${c.number} is in the text`, say: 'It is in the text', gone: desk.view.gone,
    save: ({ version_id }) => move(c, { state: 'in_text', version_id }),
    done: async () => { await desk.refresh(); announce('It is in the text. Testers who make an older version are due to be told.'); },
  }, h('p', {}, c.place), h('form-field', { name: 'version_id', label: 'Mended in', kind: 'select', quiet: true, '.options': later.map((v) => [v.id, `version ${v.number}`]) }),
  h('p', { class: 'soft' }, 'From then on everybody who makes an older version is due to be told.'));
}

/** Once announced, it stays as it is. @param {CorrectionDesk} desk @param {Correction} c */
export function announceIt(desk, c) {
  openForm({
    title: `Announce correction ${c.number}`, say: 'Announce', gone: desk.view.gone,
    save: () => move(c, { state: 'announced' }),
    done: async () => { await desk.refresh(); announce('Announced.'); },
  }, h('dl', { class: 'pairs' }, h('dt', {}, 'Where'), h('dd', {}, c.place), h('dt', {}, 'It said'), h('dd', {}, c.was), h('dt', {}, 'It now says'), h('dd', {}, c.is_now)),
  h('p', { class: 'soft' }, 'It appears on the public page and in the feed as soon as the design is released, and can’t be changed any more, only withdrawn.'));
}

/** @param {CorrectionDesk} desk @param {Correction} c */
export function withdrawIt(desk, c) {
  const seen = c.state === 'announced';
  openForm({
    title: `Withdraw correction ${c.number}`, say: 'Withdraw', gone: desk.view.gone,
    save: ({ why }) => move(c, { state: 'withdrawn', why }),
    done: async () => { await desk.refresh(); announce('Withdrawn.'); },
  }, h('p', {}, c.place), h('form-field', { name: 'why', label: 'Why', kind: 'area', required: true, maxlength: 4000,
    hint: seen ? 'Everybody who has read the correction reads this too.' : 'Testers who were told of it read this.' }));
}

/** @param {CorrectionDesk} desk @param {Correction} c */
export async function backToDraft(desk, c) {
  await move(c, { state: 'draft' });
  await desk.refresh();
  announce('It is a draft again.');
}

/** @param {Correction} c @param {Record<string, string>} body */
const move = (c, body) => api.post(`/corrections/${c.id}/state`, body, { revision: c.revision });
