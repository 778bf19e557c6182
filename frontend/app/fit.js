import { h, put } from '../parts/h.js';
import { keepFocus } from '../parts/keep-focus.js';
import { sayLength } from '../parts/lengths.js';
import { sayMoment } from '../parts/dates.js';
import '../parts/data-table.js';
import * as api from './api.js';
import { takeOutSeveral } from './take-out.js';
import { hasRole } from './session.js';
import { listen } from './live.js';
import { announce } from './shell.js';
import { sayError } from './problem.js';
import { sayMissing, sorted } from './fit-words.js';
import { brief, finding } from './fit-finding.js';
import { pictureKey } from './fit-picture.js';
import { takeBack } from './fit-act.js';
import { numbersOnRequest } from './fit-numbers.js';

export const sheets = ['data-table', 'tape-strip', 'fit'];

/** @typedef {import('../shapes-fit.js').Bench} Bench */
/** @typedef {import('../shapes-fit.js').Fit} Fit */

/** @param {import('../shapes.js').View} view */
export async function draw(view) {
  const slug = encodeURIComponent(view.params.slug);
  const path = `/designs/${slug}`;
  /** @returns {Promise<Fit>} */
  const fetchFit = () => api.get(`${path}/fit`, { signal: view.gone });
  /** @returns {Promise<import('../shapes-corrections.js').Correction[]>} */
  const fetchCorrections = async () => (await api.get(`${path}/corrections`, { signal: view.gone })).items;
  /** @type {Bench} */
  const bench = {
    view, path, slug, fit: await fetchFit(), corrections: await fetchCorrections(), may: hasRole(view.me, 'designer'), unit: view.me.unit,
    sizeName: (id) => bench.fit.pieces.find((p) => p.size_id === id)?.size || '?', refresh,
  };
  view.title('Fit');
  show(bench);
  if (location.hash) document.getElementById(location.hash.slice(1))?.scrollIntoView();
  listen(`${path}/live`, () => { refresh().catch((err) => announce(`The page could not be brought up to date: ${sayError(err)}`)); }, view.gone);

  async function refresh() {
    const [next, known] = await Promise.all([fetchFit(), fetchCorrections()]);
    if (view.gone.aborted || JSON.stringify([next, known]) === JSON.stringify([bench.fit, bench.corrections])) return;
    bench.fit = next;
    bench.corrections = known;
    keepFocus(view.page, () => show(bench));
  }
}

/** @param {Bench} bench */
function show(bench) {
  const { fit, view, slug } = bench;
  const parts = sorted(fit.findings);
  const open = new Set([...view.page.querySelectorAll('details[data-key][open]')].map((d) => d.getAttribute('data-key')));
  put(view.lede, h('p', {}, `${fit.design.name} · ${summary(fit)}`),
    h('p', {}, h('a', { href: `/d/${slug}/fit/report` }, 'The whole test as a report to print'), ' · ', h('a', { href: `/d/${slug}/yarn` }, 'How much yarn to state')),
    takeOutSeveral(bench.path, [['findings', 'the findings'], ['comparison', 'each point compared'], ['measure-requests', 'what was asked again']]));
  if (fit.problem || fit.pieces.length === 0) {
    put(view.page, h('p', { class: fit.problem ? 'note' : 'soft' }, fit.problem || 'Nobody has reported yet. As soon as testers do, this page says whether what is off is their gauge, the fabric, a slip, or the pattern.', fit.problem ? null : [' ', h('a', { href: `/d/${slug}/testing` }, 'See who is testing')]),
      parts.waiting.length ? waiting(parts.waiting, bench) : null, requests(bench));
    return;
  }
  put(view.page, waiting(parts.waiting, bench),
    part('decided', parts.decided.length ? `Decided: ${parts.decided.length}` : '', parts.decided, bench, open, finding),
    part('nothing', 'Nothing to correct', parts.nothing, bench, open, brief),
    untold(parts.untold, bench, open), requests(bench), gone(bench),
    h('section', { class: 'sec', 'aria-labelledby': 'numbers-title' }, h('h2', { id: 'numbers-title' }, 'The numbers behind it'), numbersOnRequest(bench)));
}

/** @param {Fit} fit */
function summary(fit) {
  const n = fit.pieces.length;
  const from = `${n} report${n === 1 ? '' : 's'}`;
  if (n === 0) return 'no report yet';
  const wait = fit.undecided === 0 ? 'nothing waits for a decision' : fit.undecided === 1 ? 'one finding waits for a decision' : `${fit.undecided} findings wait for a decision`;
  return `${from}, ${wait}; ${fit.clear_cells} of ${fit.judged_cells} places (a size at a point) are right within their tolerance`;
}

/** @param {import('../shapes-fit.js').Finding[]} list @param {Bench} bench */
function waiting(list, bench) {
  return h('section', { class: 'sec', 'aria-labelledby': 'waiting-title' },
    h('h2', { id: 'waiting-title', tabindex: -1 }, list.length === 0 ? 'Nothing waits for a decision' : list.length === 1 ? 'One finding to decide on' : `${list.length} findings to decide on, most serious first`),
    list.length ? pictureKey() : null, list.map((f) => finding(f, bench)));
}

/** @param {string} name @param {string} title @param {import('../shapes-fit.js').Finding[]} list @param {Bench} bench @param {Set<string | null>} open @param {typeof finding | typeof brief} one */
function part(name, title, list, bench, open, one) {
  if (list.length === 0) return null;
  const inside = one === brief ? h('ul', { class: 'plain rows' }, list.map((f) => brief(f, bench))) : list.map((f) => finding(f, bench));
  return h('section', { class: 'sec', 'aria-labelledby': `${name}-title` }, h('h2', { id: `${name}-title` }, title),
    one === brief ? inside : h('details', { 'data-key': name, '.open': open.has(name) || list.some((f) => location.hash === `#${f.key}`) }, h('summary', {}, 'Show them'), inside));
}

/** @param {import('../shapes-fit.js').Finding[]} list @param {Bench} bench @param {Set<string | null>} open */
function untold(list, bench, open) {
  if (list.length === 0) return null;
  const missing = sayMissing(list);
  return h('section', { class: 'sec', 'aria-labelledby': 'untold-title' }, h('h2', { id: 'untold-title' }, 'Can’t be told yet'),
    missing.length ? h('ul', {}, missing.map((m) => h('li', {}, m))) : null,
    h('details', { 'data-key': 'untold', '.open': open.has('untold') }, h('summary', {}, `Each in a sentence: ${list.length}`), h('ul', { class: 'plain rows' }, list.map((f) => brief(f, bench)))));
}

/** @param {Bench} bench */
function requests(bench) {
  const list = bench.fit.requests;
  if (list.length === 0) return null;
  const zone = bench.view.settings.zone;
  const state = (/** @type {import('../shapes-fit.js').Request} */ r) => {
    if (r.withdrawn_at) return h('span', { class: 'soft' }, 'taken back');
    if (r.answered_at) return r.point_id ? [h('span', { class: 'leaf' }, r.same ? 'measured again: the same' : 'measured again: another number'), ` ${sayMoment(r.answered_at, zone)}`] : `told again ${sayMoment(r.answered_at, zone)}`;
    return [h('span', { class: 'brass' }, 'not answered yet'), bench.may ? [' ', h('button', { type: 'button', 'data-key': `back-${r.id}`, onclick: () => takeBack(bench, r).catch((err) => announce(sayError(err))) }, 'Take it back')] : null];
  };
  return h('section', { class: 'sec', 'aria-labelledby': 'asked-title' }, h('h2', { id: 'asked-title' }, 'Asked to measure again'),
    h('data-table', { '.columns': [
      { label: 'Tester', head: true, cell: (/** @type {any} */ r) => r.who }, { label: 'What', cell: (/** @type {any} */ r) => r.point || 'swatch' },
      { label: 'Asked', cell: (/** @type {any} */ r) => sayMoment(r.asked_at, zone) }, { label: 'Was', num: true, cell: (/** @type {any} */ r) => sayLength(r.was) },
      { label: 'Is', num: true, cell: (/** @type {any} */ r) => sayLength(r.now) }, { label: 'State', cell: state }], '.rows': list }));
}

/** @param {Bench} bench */
function gone(bench) {
  const list = bench.fit.gone;
  if (list.length === 0) return null;
  return h('section', { class: 'sec', 'aria-labelledby': 'gone-title' }, h('h2', { id: 'gone-title' }, 'Decided, and not found any more'),
    h('ul', { class: 'plain rows' }, list.map((d) => h('li', {}, h('p', {}, d.message), h('p', { class: 'soft' }, `${d.choice} by ${d.who || 'somebody'} on ${sayMoment(d.decided_at, bench.view.settings.zone)}${d.reason ? `: ${d.reason}` : ''}`)))));
}
