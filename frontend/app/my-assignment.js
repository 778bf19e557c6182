import { h, put } from '../parts/h.js';
import { sayGauge, sayLength, sayNumber } from '../parts/lengths.js';
import { sayDay, sayMoment } from '../parts/dates.js';
import { openForm } from '../parts/open-dialog.js';
import '../parts/form-field.js';
import '../parts/entry-form.js';
import * as api from './api.js';
import { announce } from './shell.js';
import { reload } from './router.js';
import { word, TERMS } from './words.js';
import { sayError } from './problem.js';
import { sayDue, sayState, sayCountUnit, sayTool } from './my-words.js';
import { ReportForm } from './my-report-form.js';
import { PhotoPanel } from './photo-panel.js';
import { progress } from './my-progress.js';
import { askedAgain } from './my-asked.js';
import { sayPiece } from './corrections-words.js';

export const sheets = ['my', 'photos'];

/**
 * What a tester works from, with what they sent.
 * @typedef {import('../shapes-testing.js').MyAssignment & {report: Report | null, sent: {number: number, sent_at: string, source: string}[], remarks: import('../shapes-testing.js').Remark[]}} Mine
 * @typedef {import('../shapes-testing.js').Report} Report
 */
/** @typedef {import('../shapes.js').View} View */

/** @param {View} view */
export async function draw(view) {
  const a = await fetchMine(`/assignments/${encodeURIComponent(view.params.assignment)}`, view.gone);
  view.title(a.design.name);
  put(view.lede,
    h('p', {}, h('b', { class: 'my-own-size' }, `Size ${a.size.name}`), ` · version ${a.version.number}`),
    h('p', { class: a.late ? 'pin' : undefined }, sayDue(a, view.settings.today), a.late ? ', late' : '', h('span', { class: 'soft' }, ` · ${sayState(a)}`)));
  const closed = a.state === 'withdrawn' || a.state === 'asked';
  put(view.page,
    a.state === 'withdrawn' ? h('p', { class: 'note' }, `Withdrawn on ${sayMoment(a.withdrawn_at, view.settings.zone)}: ${a.withdrawn_why}`) : null,
    a.state === 'asked' ? asked(a, view) : null, askedAgain(a),
    closed ? null : h('nav', { class: 'my-jumps', 'aria-label': 'On this page' }, h('a', { href: '#counts' }, 'My counts'), h('a', { href: '#report' }, a.report ? 'My report' : 'Measure and report')),
    a.state === 'accepted' ? progress(a, view) : null,
    corrected(a), changed(a), closed ? null : counts(a), made(a),
    closed ? null : report(a, view), closed ? null : photos(a, view),
    a.state === 'accepted' ? h('p', {}, h('button', { type: 'button', class: 'grave', onclick: () => withdraw(a, view) }, 'I can’t finish this')) : null);
}

/** @param {string} path @param {AbortSignal} signal @returns {Promise<Mine>} */
async function fetchMine(path, signal) {
  const work = await api.get(path, { signal });
  return { ...work, sent: work.history };
}

/** @param {Mine} a @param {View} view */
function asked(a, view) {
  const trouble = h('div', { role: 'alert' });
  return h('section', { class: 'sec', 'aria-labelledby': 'asked' }, h('h2', { id: 'asked' }, `Will you make size ${a.size.name}?`),
    a.answer_by ? h('p', {}, `Please answer by ${sayDay(a.answer_by, view.settings.today)}.`) : null,
    h('p', {}, 'The counts for your size are shown when you have said yes.'),
    a.confidentiality ? [h('p', {}, 'With your yes you agree to this until the pattern is released:'), h('blockquote', {}, h('p', {}, a.confidentiality))] : null, trouble,
    h('div', { class: 'acts big' },
      h('button', { type: 'button', class: 'main', onclick: accept }, 'Yes, I take it on'),
      h('button', { type: 'button', onclick: () => withdraw(a, view) }, 'No, I can’t')));

  async function accept() {
    try {
      await api.post(`/assignments/${a.id}/accept`, {}, { revision: a.revision });
      announce('Taken on. Thank you.');
      reload();
    } catch (err) {
      put(trouble, h('p', { class: 'note bad' }, sayError(err)));
    }
  }
}

/** @param {Mine} a @param {View} view */
function withdraw(a, view) {
  openForm({
    title: 'Withdraw from this test', say: 'Withdraw', gone: view.gone,
    save: async ({ why }) => {
      await api.post(`/assignments/${a.id}/withdraw`, { why }, { revision: a.revision });
      announce('Withdrawn.');
      reload();
    },
  }, h('p', {}, 'That is all right; the studio looks for somebody else. Say why, it helps to plan.'),
  h('form-field', { name: 'why', label: 'Why', kind: 'area', required: true, maxlength: 1000 }));
}

/** The counts of this size, in the order of the text. @param {Mine} a */
function counts(a) {
  return h('section', { class: 'sec', 'aria-labelledby': 'counts' }, h('h2', { id: 'counts' }, `My counts, size ${a.size.name}`),
    a.counts.length === 0 ? h('p', { class: 'soft' }, 'The counts are not in yet.')
      : h('ol', { class: 'plain my-counts' }, a.counts.map((c) => h('li', {},
        h('span', {}, c.name.replaceAll('_', ' '), c.note ? h('span', { class: 'soft' }, ` ${c.note}`) : null),
        h('span', { class: 'my-count' }, h('b', {}, sayNumber(c.value)), ` ${sayCountUnit(c.unit, c.value)}`)))));
}

/** Corrections of the text that change something in this size. @param {Mine} a */
function corrected(a) {
  if (a.corrections.length === 0) return null;
  const done = a.report !== null;
  return h('section', { class: 'sec', 'aria-labelledby': 'corrected' }, h('h2', { id: 'corrected' }, a.corrections.length === 1 ? 'Corrected in the text' : `${a.corrections.length} corrections of the text`),
    h('p', {}, done ? 'Your piece is reported: leave it as it is. It is held against the version that you made.' : 'If you have not come to a place yet, work it as corrected and say so with your report. If you are past it, ask before you rip anything back.'),
    h('ul', { class: 'plain rows' }, a.corrections.map((c) => h('li', { class: 'my-corrected' }, h('b', {}, c.place),
      c.before !== null || c.after !== null ? h('p', {}, `For your size, ${sayPiece(c, sayNumber)}.`)
        : h('dl', { class: 'pairs' }, h('dt', {}, 'It said'), h('dd', {}, c.was), h('dt', {}, 'It now says'), h('dd', {}, h('b', {}, c.is_now)))))));
}

/** What the studio has changed for this size since. @param {Mine} a */
function changed(a) {
  const c = a.changed;
  if (!c) return null;
  const say = (/** @type {number | null} */ v) => (v === null ? '–' : sayNumber(v));
  return h('section', { class: 'sec', 'aria-labelledby': 'changed' }, h('h2', { id: 'changed' }, `Changed since version ${a.version.number}`),
    h('p', {}, c.given_out_at ? `Version ${c.version} has other counts for your size.` : `The studio is working on version ${c.version}, which has other counts for your size so far.`,
      ' Ask before you change what you have made: your report is compared with the version that you work from.'),
    h('ul', { class: 'plain my-counts' }, c.counts.map((d) => h('li', {}, h('span', {}, d.name.replaceAll('_', ' ')),
      h('span', { class: 'my-count' }, h('s', { class: 'soft' }, say(d.before)), ' ', h('b', {}, say(d.after)), ` ${sayCountUnit(d.unit, d.after ?? 0)}`)))));
}

/** @param {Mine} a */
function made(a) {
  const d = a.design;
  const tool = sayTool(d.tool, d.tool_mm ? `${sayNumber(d.tool_mm)} mm` : '');
  return h('section', { class: 'sec', 'aria-labelledby': 'made' }, h('h2', { id: 'made' }, 'What it is made with'),
    h('dl', { class: 'pairs' }, h('dt', {}, 'Gauge'), h('dd', {}, sayGauge(d.gauge)),
      d.yarn ? [h('dt', {}, 'Yarn'), h('dd', {}, d.yarn)] : null, tool ? [h('dt', {}, 'Tool'), h('dd', {}, tool)] : null,
      h('dt', {}, 'Stitch names'), h('dd', {}, readsIn(a))),
    d.note ? h('p', {}, d.note) : null,
    a.state !== 'asked' && a.confidentiality ? h('p', { class: 'soft' }, a.confidentiality) : null);
}

/** In which terms the notes stand here. @param {Mine} a */
function readsIn(a) {
  if (a.as_written) return `${word(TERMS, a.design.terms)}; some notes mix US and UK words and stand as they were written`;
  return a.reads_in === a.design.terms ? word(TERMS, a.design.terms) : `${word(TERMS, a.reads_in)} here; the pattern itself is written in ${word(TERMS, a.design.terms)}`;
}

/** @param {Mine} a @param {View} view */
function report(a, view) {
  const form = new ReportForm(a, view);
  const sent = a.report;
  return h('section', { class: 'sec', 'aria-labelledby': 'report' },
    h('h2', { id: 'report' }, sent ? 'My report' : 'Measure and report'),
    sent ? [
      h('p', {}, `Number ${sent.number} was sent on ${sayMoment(sent.sent_at, view.settings.zone)}${sent.approved_at ? ' and is approved' : ''}.`),
      numbers(a), history(a, view.settings.zone),
      h('details', { '.open': form.hasDraft || a.measure_again.length > 0, class: 'my-correct' }, h('summary', {}, 'Correct my report'), form.element)]
      : [h('p', { class: 'soft' }, `Measure the finished piece, washed and dry. Wanted by ${sayDay(a.due_on, view.settings.today)}.`), form.element]);
}

/** @param {Mine} a @param {View} view */
function photos(a, view) {
  const panel = new PhotoPanel({ path: `/assignments/${a.id}/photos`, person: view.me.id, gone: view.gone,
    note: a.report ? 'The studio sees them at once. They can be removed until your report is approved.' : 'The studio sees them when your report is sent. They can wait on this phone until there is a network.' });
  panel.start();
  return h('section', { class: 'sec my-form', 'aria-labelledby': 'photos' }, h('h2', { id: 'photos' }, 'Photos of my piece'), panel.element);
}

/** @param {Mine} a */
function numbers(a) {
  const of = new Map((a.report?.measurements || []).map((m) => [m.point_id, m.length]));
  return h('dl', { class: 'pairs' }, a.points.filter((p) => of.has(p.id)).map((p) => [h('dt', {}, p.name), h('dd', {}, sayLength(of.get(p.id)))]));
}

/** @param {Mine} a @param {string} zone */
function history(a, zone) {
  if (a.sent.length < 2) return null;
  return h('details', {}, h('summary', {}, `Sent ${a.sent.length} times`),
    h('ol', { class: 'plain rows' }, [...a.sent].sort((x, y) => y.number - x.number).map((x) => h('li', {}, `Number ${x.number}, ${sayMoment(x.sent_at, zone)}${x.source === 'import' ? ', brought in by the studio' : ''}${x.number === a.report?.number ? ' · this one counts' : ''}`))));
}
