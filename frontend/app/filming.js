import { h, put } from '../parts/h.js';
import { keepFocus } from '../parts/keep-focus.js';
import * as api from './api.js';
import { takeOutSeveral } from './take-out.js';
import { hasRole } from './session.js';
import { listen } from './live.js';
import { installmentCard } from './filming-card.js';
import { editInstallment } from './filming-edit.js';
import { firstNeed, tallyRun } from './filming-steps.js';
import { drawPlan, holds } from './filming-plan.js';

export const sheets = ['data-table', 'filming'];

/**
 * @typedef {object} Shoot
 * @property {import('../shapes.js').View} view
 * @property {string} path of the design
 * @property {import('../shapes.js').Design} design
 * @property {import('../shapes-filming.js').Installment[]} run
 * @property {import('../shapes-filming.js').Sample[]} samples
 * @property {import('../shapes-shots.js').FilmingPlan} plan
 * @property {boolean} mayPlan may add and take out installments
 * @property {boolean} mayFilm may change them and note takes and slips
 * @property {() => Promise<void>} refresh
 */

/** @param {import('../shapes.js').View} view */
export async function draw(view) {
  const path = `/designs/${encodeURIComponent(view.params.slug)}`;
  const options = { signal: view.gone };
  const design = await api.get(path, options);
  view.title('Filming');
  /** @type {Shoot} */
  const shoot = { view, path, design, run: [], samples: [], plan: /** @type {any} */ (null), mayPlan: hasRole(view.me, 'designer'), mayFilm: hasRole(view.me, 'designer', 'filmer'), refresh };
  await refresh();
  listen(`${path}/live`, refresh, view.gone);

  async function refresh() {
    [shoot.run, shoot.samples, shoot.plan] = await Promise.all([api.all(`${path}/installments`, options), api.all(`${path}/samples`, options), api.get(`${path}/filming-plan`, options)]);
    if (!view.gone.aborted) keepFocus(view.page, () => show(shoot));
  }
}

/** @param {Shoot} shoot */
function show(shoot) {
  const { view, design, run } = shoot;
  put(view.lede, h('p', {}, design.name), run.length ? h('p', {}, tallyRun(run)) : null,
    takeOutSeveral(shoot.path, [['installments', 'the run'], ['states', 'the states'], ['shots', 'the shots'], ['takes', 'the takes'], ['slips', 'the slips']]));
  const shut = new Set([...view.page.querySelectorAll('details:not([open])')].map((d) => d.getAttribute('data-part')));
  put(view.page,
    h('div', { class: 'acts lead no-print' },
      shoot.mayPlan ? h('button', { type: 'button', class: run.length ? undefined : 'main', 'data-key': 'add', onclick: () => editInstallment(shoot, null) }, 'Add an installment') : null,
      run.length ? h('button', { type: 'button', 'data-key': 'print', onclick: () => print() }, 'Print the run') : null),
    run.length === 0 ? h('p', {}, 'No installment yet. Each covers a part of the make and is announced for a day; it starts where the one before it ended.') : [need(shoot), holds(shoot.plan),
      h('ol', { class: 'plain shoot' }, run.map((n) => installmentCard(n, shoot))), drawPlan(shoot)]);
  for (const d of view.page.querySelectorAll('details')) d.open = !shut.has(d.getAttribute('data-part')) && d.open;
}

/** What to record first. @param {Shoot} shoot */
function need({ run }) {
  const n = firstNeed(run);
  if (!n) return h('p', { class: 'leaf' }, 'Everything is recorded.');
  return h('p', { class: n.late ? 'note bad' : 'note' }, h('b', {}, n.late ? 'Late: ' : 'Next to record: '), h('a', { href: `#${n.id}` }, `${n.position}, ${n.title}`), `. ${n.needs}`);
}
