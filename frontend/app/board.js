import { h, put } from '../parts/h.js';
import { sayGauge } from '../parts/lengths.js';
import { sayDay, sayDaysLeft } from '../parts/dates.js';
import * as api from './api.js';
import { listen } from './live.js';
import { announce } from './shell.js';
import { drawSizes } from './board-sizes.js';
import { PointChoice } from './board-points.js';
import { nameMarks } from './board-marks.js';
import { drawRun } from './board-run.js';
import { drawGates, drawTracks } from './board-gates.js';

export const sheets = ['tape-strip', 'board'];

/** @typedef {import('../shapes.js').Board} Board */
/** @typedef {import('../shapes.js').View} View */

/** @param {View} view */
export async function draw(view) {
  const path = `/designs/${encodeURIComponent(view.params.slug)}`;
  /** @returns {Promise<Board>} */
  const fetchBoard = async () => nameMarks(await api.get(`${path}/board`, { signal: view.gone }));
  let board = await fetchBoard();
  view.title(board.design.name);
  const shown = new Sections(view, board);
  shown.update(board);

  listen(`${path}/live`, async () => {
    const next = await fetchBoard();
    if (view.gone.aborted) return;
    announce(shown.update(next) ? whatChanged(board, next) : '');
    board = next;
  }, view.gone);
}

/** The board's parts; each is drawn anew only when its own data changed. */
class Sections {
  #parts = ['tracks', 'sizes', 'run', 'gates'].map((name) => h('section', { class: `sec board-${name}`, 'aria-labelledby': `${name}-title` }));
  #last = ['', '', '', ''];
  #grid = h('div', { class: 'board' }, this.#parts);

  /** @param {View} view @param {Board} board */
  constructor(view, board) {
    this.view = view;
    this.choice = new PointChoice(board.design.id, () => this.#redrawSizes());
    this.board = board;
    put(view.page, this.#grid);
  }

  /** @param {Board} board @returns {boolean} whether anything changed */
  update(board) {
    const before = this.board;
    this.board = board;
    put(this.view.lede, lede(board));
    const data = [[board.tracks, board.gauge], [board.sizes, board.points], [board.installments, board.holds], [board.gates, board.remarks_open]].map((d) => JSON.stringify(d));
    const changed = data.map((d, i) => d !== this.#last[i]);
    const first = this.#last[0] === '';
    this.#last = data;
    if (changed[0]) drawTracks(this.#parts[0], board);
    if (changed[1]) this.#redrawSizes(first ? null : before);
    if (changed[2]) drawRun(this.#parts[2], board);
    if (changed[3]) drawGates(this.#parts[3], board);
    return changed.includes(true);
  }

  /** @param {Board | null} [before] */
  #redrawSizes(before = null) {
    const focused = document.activeElement?.closest('[data-key]')?.getAttribute('data-key');
    const shown = this.choice.shown(this.board.points);
    this.#grid.classList.toggle('many', shown.length > 5);
    drawSizes(this.#parts[1], this.board, shown, this.choice, this.view.me.unit, before);
    if (focused) this.#refocus(focused);
  }

  /** @param {string} key */
  #refocus(key) {
    const place = this.#grid.querySelector(`[data-key="${CSS.escape(key)}"]`);
    /** @type {HTMLElement | null | undefined} */ (place?.querySelector('button, input, summary'))?.focus();
  }
}

/** @param {Board} b */
function lede(b) {
  const d = b.design;
  return [
    h('p', {}, `${d.craft}, ${d.audience}, ${d.terms.toUpperCase()} terms · ${sayGauge(d.gauge)}`),
    h('p', {}, b.version ? `version ${b.version.number}${b.version.given_out_at ? '' : ', no tester has it yet'}` : 'no version yet',
      b.call ? [' · ', h('a', { href: `/d/${encodeURIComponent(d.slug)}/testing` }, b.call.title), ` with version ${b.call.version_number}, due ${sayDay(b.call.due_on, b.today)}`,
        h('span', { class: b.call.days_left < 0 && reportsOut(b) ? 'pin' : undefined }, ` (${sayDaysLeft(b.call.days_left)})`)] : ' · no test call yet'),
  ];
}

/** Whether a report is still out. @param {Board} b */
const reportsOut = (b) => b.sizes.some((z) => z.testers.reported < z.testers.assigned);

/** Says which sizes and installments moved. @param {Board} before @param {Board} after */
function whatChanged(before, after) {
  const sizes = after.sizes.filter((s, i) => JSON.stringify(s) !== JSON.stringify(before.sizes[i])).map((s) => s.name);
  const run = after.installments.filter((n, i) => JSON.stringify(n) !== JSON.stringify(before.installments[i])).map((n) => n.position);
  const parts = [sizes.length && `size ${sizes.join(', ')}`, run.length && `installment ${run.join(', ')}`].filter(Boolean);
  return `The board has changed${parts.length ? `: ${parts.join('; ')}` : ''}.`;
}
