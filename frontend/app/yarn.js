import { h, put } from '../parts/h.js';
import { keepFocus } from '../parts/keep-focus.js';
import { sayNumber } from '../parts/lengths.js';
import '../parts/data-table.js';
import '../parts/yarn-draw.js';
import * as api from './api.js';
import { takeOutSeveral } from './take-out.js';
import { hasRole } from './session.js';
import { listen } from './live.js';
import { announce } from './shell.js';
import { sayError } from './problem.js';
import { sayBuy, sayMetres, sayRest, sayStated } from './yarn-words.js';
import { editYarn } from './yarn-edit.js';

export const sheets = ['data-table', 'yarn'];

/** @typedef {import('../shapes-fit.js').Yarn} Yarn */
/** @typedef {import('../shapes-fit.js').YarnSize} YarnSize */

/** @param {import('../shapes.js').View} view */
export async function draw(view) {
  const slug = encodeURIComponent(view.params.slug);
  const path = `/designs/${slug}`;
  /** @returns {Promise<Yarn>} */
  const fetchYarn = () => api.get(`${path}/yarn`, { signal: view.gone });
  let yarn = await fetchYarn();
  view.title('Yarn');
  const refresh = async () => {
    yarn = await fetchYarn();
    if (!view.gone.aborted) keepFocus(view.page, () => show());
  };
  const show = () => {
    put(view.lede, h('p', {}, yarn.design.name, ' · ', h('a', { href: `/d/${slug}/fit` }, 'Fit')), takeOutSeveral(path, [['yarn', 'the amounts']]));
    const may = hasRole(view.me, 'designer');
    put(view.page, amounts(yarn, slug, may ? () => editYarn({ view, path, yarn, done: refresh }) : null), pieces(yarn, slug));
  };
  show();
  listen(`${path}/live`, () => { refresh().catch((err) => announce(`The page could not be brought up to date: ${sayError(err)}`)); }, view.gone);
}

/** @param {Yarn} y @param {string} slug @param {(() => void) | null} edit */
function amounts(y, slug, edit) {
  const unmade = y.sizes.filter((z) => z.made === 0 && z.basis === 'testers').map((z) => z.size);
  return h('section', { class: 'sec', 'aria-labelledby': 'amounts-title' },
    h('div', { class: 'sec-head' }, h('h2', { id: 'amounts-title' }, 'How much to state for each size'),
      edit && y.sizes.length ? h('button', { type: 'button', class: 'main', 'data-key': 'edit-yarn', onclick: edit }, 'State the amounts') : null),
    y.problem ? h('p', { class: 'note' }, y.problem) : h('p', {}, sayRest(y)),
    unmade.length ? h('p', { class: 'soft' }, `Told from the other sizes, since nobody has made them: ${unmade.join(', ')}.`) : null,
    y.sizes.length ? [h('p', { class: 'soft' }, ball(y), ' ', stitches(y)),
      h('yarn-draw', { '.yarn': y }), key(),
      h('data-table', { caption: 'At the design’s gauge', '.rows': y.sizes, '.columns': [
        { label: 'Size', head: true, cell: (/** @type {YarnSize} */ z) => z.size },
        { label: 'Pieces', num: true, cell: (/** @type {YarnSize} */ z) => (z.made === 0 ? 'none' : z.made) },
        { label: 'Typical', num: true, cell: (/** @type {YarnSize} */ z) => sayMetres(z.typical_metres) },
        { label: 'Enough', num: true, cell: (/** @type {YarnSize} */ z) => sayMetres(z.upper_metres) },
        { label: 'To buy', num: true, cell: (/** @type {YarnSize} */ z) => (z.upper_metres === null ? h('span', { class: 'soft' }, z.message || 'can’t be told yet') : sayBuy(z, y)) },
        { label: 'The text states', num: true, cell: (/** @type {YarnSize} */ z) => [h('span', { class: z.stated ? undefined : 'brass' }, sayStated(z)), z.short ? h('span', { class: 'pin' }, ' less than enough') : null] }] })] : null);
}

/** @param {Yarn} y */
function ball(y) {
  if (!y.ball?.length) return 'No ball is set: amounts are in metres. With a ball’s length they are in whole balls, and grams can be read as metres.';
  const { length, weight } = y.ball;
  return `A ball has ${sayNumber(length.value)} ${length.unit}${weight ? ` and weighs ${sayNumber(weight.value)} ${weight.unit}` : ''}.`;
}

/** @param {Yarn} y */
function stitches(y) {
  if (!y.stitches_from) return 'How many stitches a size has can’t be told: it takes a point in each direction, or a formula over the counts.';
  return y.stitches ? `A size’s stitches are ${y.stitches}.` : `How sizes compare is taken from ${y.stitches_from}; a formula for all stitches would be better.`;
}

function key() {
  return h('ul', { class: 'plain yarn-key' }, h('li', {}, h('i', { class: 'sign typical' }), 'typical'), h('li', {}, h('i', { class: 'sign upper' }), 'enough'), h('li', {}, h('i', { class: 'sign stated' }), 'stated'),
    h('li', {}, h('i', { class: 'sign piece' }), 'a tester’s piece'), h('li', {}, h('i', { class: 'sign sample' }), 'a sample'), h('li', {}, h('i', { class: 'sign out' }, '×'), 'left out'));
}

/** @param {Yarn} y @param {string} slug */
function pieces(y, slug) {
  const size = (/** @type {string} */ id) => y.sizes.find((z) => z.size_id === id)?.size || '?';
  const href = (/** @type {import('../shapes-fit.js').YarnPiece} */ p) => (p.kind === 'sample' ? `/d/${slug}/samples#${p.id}` : `/d/${slug}/reports/${p.id}`);
  const odd = y.pieces.filter((p) => p.outlier || p.unused);
  return h('section', { class: 'sec', 'aria-labelledby': 'pieces-title' }, h('h2', { id: 'pieces-title' }, 'What was used'),
    odd.length ? h('ul', { class: 'plain rows' }, odd.map((p) => h('li', {}, h('p', {}, h('a', { href: href(p) }, `${p.who}, size ${size(p.size_id)}`), ': ', p.outlier || p.unused)))) : null,
    h('data-table', { empty: 'Nobody has told how much yarn they used.', '.rows': y.pieces, '.columns': [
      { label: 'Piece', head: true, cell: (/** @type {any} */ p) => h('a', { href: href(p) }, p.who) }, { label: 'Size', cell: (/** @type {any} */ p) => size(p.size_id) },
      { label: 'Told', num: true, cell: (/** @type {any} */ p) => (p.told ? `${sayNumber(p.told.value)} ${p.told.unit}` : '–') },
      { label: 'At the design’s gauge', num: true, cell: (/** @type {any} */ p) => (p.at_design_metres ? sayMetres(p.at_design_metres) : '–') },
      { label: 'Reads as', cell: (/** @type {any} */ p) => (p.outlier ? h('span', { class: 'pin' }, 'left out') : p.unused ? h('span', { class: 'soft' }, 'can’t be used') : 'used') }] }));
}
