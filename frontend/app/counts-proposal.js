// Help in grading: counts that keep every rule, nearest to what is intended,
// beside today's, to be taken line by line.
import { h, put } from '../parts/h.js';
import { sayCM } from '../parts/lengths.js';
import * as api from './api.js';
import { sayError } from './problem.js';
import { announce } from './shell.js';
import { sheetBody, sayCell } from './sheet-model.js';

/** @typedef {import('../shapes-counts.js').Proposal} Proposal */

export class ProposalPanel {
  #out = h('div', { 'aria-live': 'polite' });
  /** @type {Set<string>} */
  #keep = new Set();

  /** @param {import('./counts-editor.js').SheetEditor} editor */
  constructor(editor) {
    this.editor = editor;
    this.root = h('section', { class: 'sec no-print', id: 'proposal', 'aria-labelledby': 'proposal-title' },
      h('h2', { id: 'proposal-title' }, 'Help in grading'),
      h('p', { class: 'soft' }, 'For each size the whole counts that keep every rule at once and come nearest to what is intended, each point weighed by its tolerance. Nothing changes until you take a line.'),
      h('div', { class: 'acts' }, h('button', { type: 'button', onclick: () => this.#ask() }, 'Propose counts')), this.#out);
  }

  async #ask() {
    const { sheet, typed, given } = this.editor;
    put(this.#out, h('p', { class: 'soft' }, 'Searching.'));
    try {
      const { counts, rules } = sheetBody(typed);
      /** @type {Proposal} */
      const found = await api.post(`/versions/${sheet.id}/proposal`, { counts, rules, keep: [...this.#keep].filter((k) => counts.some((c) => c.name === k)) }, { signal: given.gone });
      const n = found.lines.filter((l) => l.changed).length;
      const words = n === 0 ? 'Today\'s counts are the nearest that keep every rule.' : `${n === 1 ? 'One line differs' : `${n} lines differ`} from today's.`;
      put(this.#out, h('p', {}, words), this.#notes(found), n === 0 ? null : [this.#table(found), this.#measures(found)]);
      announce(words);
    } catch (err) {
      if (!given.gone.aborted) put(this.#out, h('p', { class: 'pin', role: 'alert' }, whole(err)));
    }
  }

  /** @param {Proposal} p */
  #table(p) {
    const sizes = this.editor.sizes;
    return [h('div', { class: 'wide' }, h('table', { class: 'proposal' },
      h('thead', {}, h('tr', {}, h('th', { scope: 'col' }, 'Count'), sizes.map((s) => h('th', { scope: 'col', class: 'num' }, s.name)), h('th', { scope: 'col' }, 'Keep as it is'), h('td'))),
      h('tbody', {}, p.lines.map((l) => h('tr', {}, h('th', { scope: 'row', class: 'mono' }, l.name),
        sizes.map((_, i) => h('td', { class: 'num' }, cell(l.now[i] ?? null, l.values[i] ?? null))),
        h('td', {}, h('input', { type: 'checkbox', 'aria-label': `Keep ${l.name} as it is`, '.checked': this.#keep.has(l.name), onchange: (/** @type {any} */ e) => (e.target.checked ? this.#keep.add(l.name) : this.#keep.delete(l.name)) })),
        h('td', {}, l.changed ? h('button', { type: 'button', 'aria-label': `Take the proposed ${l.name}`, onclick: (/** @type {any} */ e) => this.#take(l, e.target) }, 'Take') : h('span', { class: 'soft' }, 'the same'))))))),
    h('p', { class: 'soft' }, 'A struck number is today\'s, the one after it is proposed. Tick what has to stay and propose again.')];
  }

  /** @param {Proposal['lines'][number]} line @param {HTMLButtonElement} button */
  #take(line, button) {
    const row = this.editor.typed.counts.find((c) => c.name === line.name);
    if (!row) return;
    row.cells = line.values.map((v, i) => (v === null ? row.cells[i] : sayCell(v)));
    this.editor.draw();
    this.editor.touched();
    const done = h('span', { class: 'leaf', tabindex: -1 }, 'taken');
    button.replaceWith(done);
    done.focus();
    announce(`${line.name} is taken; undo brings it back.`);
  }

  /** What both come to. @param {Proposal} p */
  #measures(p) {
    const { design, sizes, given } = this.editor;
    const of = (/** @type {Proposal['now']} */ list, /** @type {string} */ point, /** @type {string} */ size) => list.find((f) => f.point === point && f.size === size)?.expected ?? null;
    return h('div', { class: 'wide', tabindex: '0', role: 'group', 'aria-label': 'What the proposed counts come to' }, h('table', { class: 'proposal' }, h('caption', {}, `What they come to, in ${given.unit}; what is intended stands in brackets`),
      h('thead', {}, h('tr', {}, h('th', { scope: 'col' }, 'Point'), sizes.map((s) => h('th', { scope: 'col', class: 'num' }, s.name)))),
      h('tbody', {}, design.points.map((q) => h('tr', {}, h('th', { scope: 'row' }, q.name), sizes.map((s) => {
        const intended = q.intended.find((i) => i.size_id === s.id)?.length.cm ?? null;
        const bare = (/** @type {number | null} */ cm) => sayCM(cm, given.unit).replace(/ (cm|in)$/, '');
        const [now, next] = [bare(of(p.now, q.name, s.name)), bare(of(p.finished, q.name, s.name))];
        return h('td', { class: 'num' }, now === next ? now : [h('s', { class: 'soft' }, now), ' ', h('b', {}, next)], intended === null ? null : h('span', { class: 'soft' }, ` (${bare(intended)})`));
      }))))));
  }

  /** @param {Proposal} p */
  #notes(p) {
    const said = [...p.sizes.filter((z) => z.problem).map((z) => `Size ${z.size}: ${z.problem}`), ...p.sizes.filter((z) => !z.exact && !z.problem).map((z) => `Size ${z.size}: the search was cut short; better counts may exist.`),
      ...p.unguided.map((u) => `The ${u.what} could not guide the search: ${u.problem}`)];
    return said.length ? h('ul', {}, said.map((s) => h('li', { class: 'brass' }, s))) : null;
  }
}

/** @param {number | null} now @param {number | null} next */
function cell(now, next) {
  if (now === next || next === null) return sayCell(now);
  return [h('s', { class: 'soft' }, sayCell(now)), ' ', h('b', {}, sayCell(next))];
}

/** A problem with everything it names. @param {unknown} err */
function whole(err) {
  const fields = /** @type {any} */ (err).fields;
  return fields?.size ? `${sayError(err)} ${[...fields].map(([where, what]) => `${where}: ${what}`).join(' ')}` : sayError(err);
}
