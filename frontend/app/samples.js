import { h, put } from '../parts/h.js';
import { keepFocus } from '../parts/keep-focus.js';
import * as api from './api.js';
import { takeOutSeveral } from './take-out.js';
import { hasRole } from './session.js';
import { listen } from './live.js';
import { sampleCard } from './samples-card.js';
import { editSample } from './samples-edit.js';

export const sheets = ['data-table', 'samples', 'photos'];

/**
 * @typedef {object} Shelf
 * @property {import('../shapes.js').View} view
 * @property {string} path of the design
 * @property {import('../shapes.js').Design} design
 * @property {import('../shapes-filming.js').Sample[]} samples
 * @property {import('../shapes-filming.js').Installment[]} run
 * @property {import('../shapes.js').Person[]} people the studio's own
 * @property {{state: string, sentence: string}} gauge
 * @property {import('../shapes-shots.js').FilmingPlan} plan
 * @property {(id: string | null) => string} stateWords a state within an installment, in words
 * @property {boolean} mayMake may add samples and say what they are for
 * @property {boolean} mayWork may move, measure and hand over
 * @property {(id: string) => string} sizeName
 * @property {() => Promise<void>} refresh
 */

/** @param {import('../shapes.js').View} view */
export async function draw(view) {
  const path = `/designs/${encodeURIComponent(view.params.slug)}`;
  const options = { signal: view.gone };
  const [design, people] = await Promise.all([api.get(path, options), api.all('/people', options)]);
  view.title('Samples');
  put(view.lede, design.name, takeOutSeveral(path, [['samples', 'the samples'], ['sample-moves', 'their moves'], ['sample-measurements', 'what they measure']]));
  /** @type {Shelf} */
  const shelf = {
    view, path, design, samples: [], run: [], plan: /** @type {any} */ (null), stateWords: (id) => (id && shelf.plan.states.find((x) => x.state_id === id)?.words) || '', gauge: { state: '', sentence: '' },
    people: people.filter((/** @type {any} */ p) => !p.disabled && p.roles.some((/** @type {string} */ r) => r !== 'tester')),
    mayMake: hasRole(view.me, 'designer'), mayWork: hasRole(view.me, 'designer', 'maker', 'filmer'),
    sizeName: (id) => design.sizes.find((/** @type {any} */ s) => s.id === id)?.name || '?', refresh,
  };
  await refresh();
  listen(`${path}/live`, refresh, view.gone);

  async function refresh() {
    [shelf.samples, shelf.run, shelf.gauge, shelf.plan] = await Promise.all([api.all(`${path}/samples`, options), api.all(`${path}/installments`, options), api.get(`${path}/gauge`, options), api.get(`${path}/filming-plan`, options)]);
    if (!view.gone.aborted) keepFocus(view.page, () => show(shelf));
  }
}

/** @param {Shelf} shelf */
function show(shelf) {
  const { page } = shelf.view;
  const opened = new Set([...page.querySelectorAll('details[open]')].map((d) => d.getAttribute('data-part')));
  const used = shelf.samples.filter((s) => !s.retired);
  const away = shelf.samples.filter((s) => s.retired);
  const sizes = shelf.design.sizes.length > 0;
  put(page,
    h('div', { class: 'acts lead' }, shelf.mayMake && sizes ? h('button', { type: 'button', class: 'main', 'data-key': 'add', onclick: () => editSample(shelf, null) }, 'Add a sample') : null),
    shelf.gauge.sentence && used.length ? h('p', { class: shelf.gauge.state === 'not_borne_out' ? 'note' : 'soft' }, shelf.gauge.sentence) : null,
    sizes ? null : h('p', {}, 'First ', h('a', { href: `/d/${encodeURIComponent(shelf.design.slug)}/setup#sizes` }, 'set up the sizes'), '.'),
    used.length === 0 && sizes ? h('p', { class: 'soft' }, 'No sample yet: the swatch is the first.') : null,
    used.map((s) => sampleCard(s, shelf)),
    away.length ? h('details', { 'data-part': 'away' }, h('summary', { 'data-key': 'away' }, `Put away: ${away.length}`), away.map((s) => sampleCard(s, shelf))) : null);
  for (const d of page.querySelectorAll('details')) d.open = opened.has(d.getAttribute('data-part'));
}
