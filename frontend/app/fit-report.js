import { h, put } from '../parts/h.js';
import { sayGauge } from '../parts/lengths.js';
import { sayDay, sayMoment } from '../parts/dates.js';
import * as api from './api.js';
import { about, capital, figures, sayMissing, sayVerdict, sorted } from './fit-words.js';
import { picture, pictureKey } from './fit-picture.js';
import { sayBuy, sayMakers, sayMetres, sayRest, sayStated } from './yarn-words.js';
import { sayFound, saySizes, saySource, sayState } from './corrections-words.js';
import '../parts/yarn-draw.js';

export const sheets = ['tape-strip', 'fit', 'yarn', 'fit-report'];

/** @typedef {import('../shapes-fit.js').Fit} Fit */
/** @typedef {import('../shapes-fit.js').Yarn} Yarn */
/** @typedef {import('../shapes-fit.js').Finding} Finding */

/**
 * The whole test on paper: who tested what, what was found and decided, what
 * was changed since, how much yarn to state. @param {import('../shapes.js').View} view
 */
export async function draw(view) {
  const slug = encodeURIComponent(view.params.slug);
  const path = `/designs/${slug}`;
  const options = { signal: view.gone };
  /** @type {[Fit, Yarn, import('../shapes.js').Design, import('../shapes-corrections.js').Corrections]} */
  const [fit, yarn, design, known] = await Promise.all([api.get(`${path}/fit`, options), api.get(`${path}/yarn`, options), api.get(path, options), api.get(`${path}/corrections`, options)]);
  const zone = view.settings.zone;
  const parts = sorted(fit.findings);
  view.title(`Test of ${design.name}`);
  put(view.lede, h('p', {}, `${design.craft}, ${design.sizes.length} sizes, ${sayGauge(design.gauge)} · as of ${sayDay(fit.today)}`),
    h('p', { class: 'no-print' }, h('a', { href: `/d/${slug}/fit` }, 'Back to Fit'), ' · ', h('button', { type: 'button', onclick: () => print() }, 'Print')));
  put(view.page, h('div', { class: 'test-report' },
    tested(fit, design, zone),
    section('Findings', [parts.waiting.length + parts.decided.length === 0 ? h('p', {}, 'Nothing asks for a decision.') : pictureKey(), ...[...parts.waiting, ...parts.decided].map((f) => one(f, fit, view.me.unit, zone))]),
    parts.nothing.length ? section('Nothing to correct', h('ul', {}, parts.nothing.map((f) => h('li', {}, capital(f.message))))) : null,
    section('What can’t be told yet', parts.untold.length === 0 ? h('p', {}, 'Everything that was measured can be judged.')
      : h('ul', {}, sayMissing(parts.untold).map((m) => h('li', {}, m)), parts.untold.filter((f) => f.kind !== 'cell').map((f) => h('li', {}, capital(f.message))))),
    corrections(fit, design, known.items, parts.decided, zone), again(fit, zone), amounts(yarn),
    h('p', { class: 'soft' }, 'Testers by their handles only. Percentages are of where the piece should lie at its maker’s own gauge.')));
}

/** @param {string} title @param {import('../parts/h.js').Child} inside */
const section = (title, inside) => h('section', { class: 'sec' }, h('h2', {}, title), inside);

/** @param {string[]} heads @param {import('../parts/h.js').Child[][]} rows */
function table(heads, rows) {
  return h('div', { class: 'wide', tabindex: '0', role: 'group', 'aria-label': `Table of ${heads.join(', ')}` }, h('table', {}, h('thead', {}, h('tr', {}, heads.map((w) => h('th', { scope: 'col' }, w)))),
    h('tbody', {}, rows.map((cells) => h('tr', {}, cells.map((c, i) => (i ? h('td', {}, c) : h('th', { scope: 'row' }, c))))))));
}

/** @param {Fit} fit @param {import('../shapes.js').Design} design @param {string} zone */
function tested(fit, design, zone) {
  const rows = design.sizes.map((z) => {
    const made = fit.pieces.filter((p) => p.size_id === z.id);
    return [z.name, made.length ? made.map((p, i) => [i ? h('br') : null, `${p.who}, version ${p.version}, ${p.measured} points, ${p.swatch ? sayGauge(p.swatch) : 'no swatch'}, ${sayMoment(p.sent_at, zone).split(',')[0]}${p.approved ? '' : ', not approved'}`]) : h('b', {}, 'nobody')];
  });
  return section('What was tested by whom', [h('p', {}, `${fit.pieces.length} report${fit.pieces.length === 1 ? '' : 's'}; ${fit.clear_cells} of ${fit.judged_cells} places measured (a size at a point) are right within their tolerance.`),
    table(['Size', 'Tester, version made, points measured, swatch, reported'], rows)]);
}

/** @param {Finding} f @param {Fit} fit @param {'cm'|'in'} unit @param {string} zone */
function one(f, fit, unit, zone) {
  const d = f.decision;
  const word = { accepted: 'Accepted', rejected: 'Rejected', left: 'Left for later' };
  return h('article', { class: 'finding' }, h('h3', {}, [capital(sayVerdict(f.verdict)), about(f)].filter(Boolean).join(': ')),
    h('p', {}, capital(f.message)),
    h('p', { class: 'soft' }, figures(f).map(([name, value]) => `${name.toLowerCase()}: ${value}`).join('; ')),
    picture(f, fit, unit),
    h('p', { class: 'verdict' }, d && !f.reopened ? [h('b', {}, word[d.choice]), ` by ${d.who || 'somebody'}, ${sayMoment(d.decided_at, zone)}${d.reason ? `: ${d.reason}` : '.'}`]
      : [h('b', {}, 'Not decided'), f.reopened ? `; open again, ${f.reopened}.` : '.']));
}

/**
 * What was corrected, what was accepted as wrong without a correction so far,
 * and the versions made since. @param {Fit} fit @param {import('../shapes.js').Design} design
 * @param {import('../shapes-corrections.js').Correction[]} known @param {Finding[]} decided @param {string} zone
 */
function corrections(fit, design, known, decided, zone) {
  const standing = known.filter((c) => c.state !== 'withdrawn');
  const wrong = decided.filter((f) => f.decision?.choice === 'accepted' && ['cell', 'point', 'grading'].includes(f.kind) && !standing.some((c) => c.finding_key === f.key));
  const made = Math.min(...fit.pieces.map((p) => p.version));
  const later = design.versions.filter((v) => v.number > made).sort((a, b) => a.number - b.number);
  const names = (/** @type {string[]} */ ids) => design.sizes.filter((z) => ids.includes(z.id)).map((z) => z.name);
  return section('Corrections', [
    standing.length ? table(['Where', 'It said', 'It now says', 'For', 'How far', 'From'], standing.map((c) => [c.place, c.was, c.is_now || 'not written yet', saySizes(names(c.sizes)),
      [sayState(c), c.announced_at ? `, ${sayMoment(c.announced_at, zone)}` : ''], [saySource(c), sayFound(c) ? `, found by ${sayFound(c)}` : '']])) : null,
    standing.length && wrong.length ? h('h3', {}, 'Accepted as wrong, without a correction so far') : null,
    wrong.length ? h('ul', {}, wrong.map((f) => h('li', {}, `${f.size ? `Size ${f.size}, ` : ''}${f.point}${f.counts?.length ? ` (${f.counts.join(', ')})` : ''}: accepted as wrong ${sayMoment(f.decision?.decided_at, zone)}${f.decision?.reason ? `, ${f.decision.reason}` : ''}.`))) : standing.length ? null : h('p', {}, 'No count was accepted as wrong.'),
    later.length ? h('ul', {}, later.map((v) => h('li', {}, `Version ${v.number}: ${v.note || 'no note'}${v.given_out_at ? '' : ' (not given out yet)'}`))) : fit.pieces.length ? h('p', {}, `Nothing came after version ${made}.`) : null]);
}

/** @param {Fit} fit @param {string} zone */
function again(fit, zone) {
  const list = fit.requests.filter((r) => !r.withdrawn_at);
  if (list.length === 0) return null;
  return section('Measured again', h('ul', {}, list.map((r) => h('li', {}, `${r.who}, ${r.point || 'swatch'}, asked ${sayMoment(r.asked_at, zone)}: `,
    r.answered_at ? (r.was && r.now ? `was ${r.was.value} ${r.was.unit}, is ${r.now.value} ${r.now.unit}${r.same ? ', the same' : ''}.` : 'answered.') : 'not answered yet.'))));
}

/** @param {Yarn} y */
function amounts(y) {
  return section('Yarn', [h('p', {}, y.problem || sayRest(y)), y.used ? h('yarn-draw', { '.yarn': y }) : null,
    table(['Size', 'Pieces', 'Typical', `Enough for ${sayMakers(y.share)}`, 'To buy', 'The text states'], y.sizes.map((z) => [z.size, z.made || 'none', sayMetres(z.typical_metres), sayMetres(z.upper_metres), sayBuy(z, y), [sayStated(z), z.short ? h('b', {}, ', less than enough') : null]])),
    y.pieces.some((p) => p.outlier) ? h('ul', {}, y.pieces.filter((p) => p.outlier).map((p) => h('li', {}, p.outlier))) : null]);
}
