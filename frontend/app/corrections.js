import { h, put } from '../parts/h.js';
import { keepFocus } from '../parts/keep-focus.js';
import { sayMoment } from '../parts/dates.js';
import * as api from './api.js';
import { hasRole } from './session.js';
import { listen } from './live.js';
import { sayError } from './problem.js';
import { dueTogether, inOrder, sayFound, saySizes, saySource, sayState, sayTold, sayVersions } from './corrections-words.js';
import { announceIt, backToDraft, editCorrection, putIntoText, withdrawIt } from './corrections-edit.js';

export const sheets = ['corrections'];

/** @typedef {import('../shapes-corrections.js').Correction} Correction */
/** @typedef {import('../shapes-corrections.js').Corrections} Corrections */

/** @param {import('../shapes.js').View} view */
export async function draw(view) {
  const slug = encodeURIComponent(view.params.slug);
  const path = `/designs/${slug}`;
  const options = { signal: view.gone };
  /** @returns {Promise<[Corrections, import('../shapes.js').Design]>} */
  const fetchAll = () => Promise.all([api.get(`${path}/corrections`, options), api.get(path, options)]);
  let [all, design] = await fetchAll();
  const page = () => ({ view, path, slug, all, design, refresh, writes: hasRole(view.me, 'designer', 'tech_editor'), moves: hasRole(view.me, 'designer') });
  view.title('Corrections');
  show(page());
  document.getElementById(location.hash.slice(1))?.scrollIntoView();
  listen(`${path}/live`, refresh, view.gone);

  async function refresh() {
    [all, design] = await fetchAll();
    if (!view.gone.aborted) keepFocus(view.page, () => show(page()));
  }
}

/** @typedef {import('../shapes-corrections.js').CorrectionDesk & {all: Corrections, slug: string, writes: boolean, moves: boolean}} Page */

/** @param {Page} page */
function show(page) {
  const { view, all, slug } = page;
  put(view.lede, h('p', {}, page.design.name));
  put(view.page,
    page.writes ? h('div', { class: 'acts lead' }, h('button', { type: 'button', class: 'main', 'data-key': 'new-correction', onclick: () => editCorrection(page, null) }, 'Write a correction')) : null,
    h('p', { class: all.shut ? 'note' : 'soft' }, all.shut || (all.items.length ? 'Every correction is in the text or announced, and everybody concerned is told.' : 'Nothing that went out had to be corrected. A correction starts here, from a decided finding on the Fit page, or from a remark on the Testing page.')),
    all.items.length ? [h('ol', { class: 'plain corrections' }, inOrder(all.items).map((c) => h('li', {}, one(c, page))))] : null,
    toBeTold(all, slug),
    h('section', { class: 'sec', 'aria-labelledby': 'public-title' }, h('h2', { id: 'public-title' }, 'For everybody'),
      all.public_page ? h('p', {}, h('a', { href: all.public_page }, 'The public page'), ' shows what is announced, to anybody and without a sign-in; ', h('a', { href: all.public_feed }, 'the same as a feed'), ' (Atom).')
        : h('p', { class: 'soft' }, 'Once the design is released, what is announced stands on a public page and in a feed.')));
}

/** @param {Correction} c @param {Page} page */
function one(c, page) {
  const zone = page.view.settings.zone;
  const names = page.design.sizes.filter((z) => c.sizes.includes(z.id)).map((z) => z.name);
  const found = sayFound(c);
  const told = sayTold(c.number, page.all.makers);
  const rows = [
    ['It said', c.was], ['It now says', c.is_now || h('span', { class: 'brass' }, 'not written yet')], ['For', `${saySizes(names)}${c.count ? `; the count ${c.count}` : ''}`],
    ['Versions', sayVersions(c)], ['From', [saySource(c), found ? `, found by ${found}` : '']],
    c.why ? ['Why', c.why] : null, told ? ['Testers', told] : null, c.withdrawn_at ? ['Withdrawn', [sayMoment(c.withdrawn_at, zone), `: ${c.withdrawn_why}`]] : null,
    c.announced_at ? ['Announced', sayMoment(c.announced_at, zone)] : null,
  ].filter((r) => r !== null);
  return h('article', { class: `correction ${c.state}`, id: `correction-${c.number}`, 'aria-labelledby': `c${c.number}-title` },
    h('h2', { id: `c${c.number}-title` }, h('span', { class: 'mono soft' }, `${c.number} `), c.place, ' ', h('span', { class: `tag ${c.state}` }, sayState(c))),
    h('dl', { class: 'pairs' }, rows.map(([name, value]) => [h('dt', {}, name), h('dd', {}, value)])),
    c.spoken.length ? h('div', { class: 'note spoken' }, h('p', {}, h('b', {}, 'Accepted takes that say the old number')), h('ul', {}, c.spoken.map((s) => h('li', {}, h('a', { href: `/d/${page.slug}/filming/${s.installment_id}/sheet` }, s.sentence))))) : null,
    steps(c, page));
}

/** What can be done next. @param {Correction} c @param {Page} page */
function steps(c, page) {
  const wrong = h('p', { class: 'error', role: 'alert' });
  const button = (/** @type {string} */ key, /** @type {string} */ words, /** @type {() => any} */ act, main = false) => h('button', {
    type: 'button', class: main ? 'main' : undefined, 'data-key': `${key}-${c.id}`, 'aria-label': `${words}: correction ${c.number}`,
    onclick: async () => { try { put(wrong); await act(); } catch (err) { put(wrong, sayError(err)); } } }, words);
  const may = (/** @type {string} */ state) => page.moves && c.next.some((s) => s === state);
  const acts = [
    may('in_text') ? button('text', 'It is in the text', () => putIntoText(page, c), true) : null,
    may('announced') ? button('announce', 'Announce', () => announceIt(page, c), true) : null,
    page.writes && (c.state === 'draft' || c.state === 'in_text') ? button('change', 'Change', () => editCorrection(page, c)) : null,
    may('draft') ? button('draft', 'Back to draft', () => backToDraft(page, c)) : null,
    may('withdrawn') ? button('withdraw', 'Withdraw', () => withdrawIt(page, c)) : null].filter(Boolean);
  return acts.length ? h('div', { class: 'row-acts no-print' }, acts, wrong) : null;
}

/** Who is still to be told, by call. @param {Corrections} all @param {string} slug */
function toBeTold(all, slug) {
  const groups = dueTogether(all.makers);
  if (groups.length === 0) return null;
  return h('section', { class: 'sec', 'aria-labelledby': 'told-title' }, h('h2', { id: 'told-title' }, 'Testers still to be told'),
    h('ul', { class: 'plain rows' }, groups.map((g) => h('li', {}, h('b', {}, g.due.length === 1 ? `Correction ${g.due[0]}` : `Corrections ${g.due.join(', ')}`), `, to who makes version ${g.version}: `,
      g.makers.map((m) => `${m.handle} (${m.size})`).join(', '), '. ', h('a', { href: `/d/${slug}/testing?call=${g.call_id}#reminders` }, 'The words for each')))));
}
