import { h, put } from '../parts/h.js';
import { clearProblems, showProblem } from '../parts/show-problem.js';
import * as api from './api.js';
import { announce } from './shell.js';
import { typedFrom, sheetBody, placeFindings, readCell } from './sheet-model.js';
import { CountGrid } from './counts-grid.js';
import { drawRules } from './counts-rules.js';
import { drawFinished } from './counts-finished.js';
import { LiveCheck } from './counts-check.js';
import { ProposalPanel } from './counts-proposal.js';
import { printLine } from './count-line.js';
import { UndoStack } from '../parts/undo-stack.js';

/** @typedef {import('../shapes.js').Design} Design */
/** @typedef {import('../shapes.js').Sheet} Sheet */
/** @typedef {{gone: AbortSignal, unit: 'cm'|'in', readOnly: boolean, query: URLSearchParams, saved: () => void}} Given */

/** The sheet with its rules and what it promises; checks while one types. */
export class SheetEditor {
  #gridRoot = h('div');
  #rulesRoot = h('div');
  #finishedRoot = h('div');
  #lines = h('p', { class: 'lines' });
  #status = h('p', { class: 'soft', role: 'status' });
  #trouble = h('div', { class: 'trouble', role: 'alert' });
  #saved = '';
  /** @type {UndoStack} */
  #steps;
  /** Whether the result is of what stands on the screen. */
  #current = true;

  /** @param {Design} design @param {Sheet} sheet @param {Given} given */
  constructor(design, sheet, given) {
    this.design = design;
    this.given = given;
    this.sheet = sheet;
    this.typed = typedFrom(sheet);
    this.result = { findings: sheet.findings, finished: sheet.finished, sections: sheet.sections };
    this.#saved = JSON.stringify(this.typed);
    this.#steps = new UndoStack(this.#saved);
    this.grid = new CountGrid(this, this.#gridRoot);
    this.check = new LiveCheck(design, sheet, given.gone, (result) => this.#checked(result));
    this.root = h('div', { onkeydown: (/** @type {KeyboardEvent} */ e) => this.#shortcut(e), onfocusin: () => this.#steps.pause() },
      h('section', { class: 'sec', 'aria-labelledby': 'counts-title' }, h('h2', { id: 'counts-title' }, 'Counts'), this.#gridRoot,
        h('details', {}, h('summary', {}, 'As pattern lines'), this.#lines)),
      h('section', { class: 'sec', 'aria-labelledby': 'finished-title' }, h('h2', { id: 'finished-title' }, 'What the counts give'), this.#finishedRoot),
      h('section', { class: 'sec', 'aria-labelledby': 'rules-title' }, h('h2', { id: 'rules-title' }, 'Rules that must hold'), this.#rulesRoot),
      given.readOnly ? null : h('div', { class: 'save-bar no-print' }, h('button', { type: 'button', class: 'main', onclick: () => this.save() }, 'Save the sheet'), this.#status),
      this.#trouble,
      given.readOnly ? null : new ProposalPanel(this).root);
  }

  get changed() { return !this.given.readOnly && JSON.stringify(this.typed) !== this.#saved; }
  get sizes() { return this.sheet.sizes; }

  /** After it stands in the page. */
  start() {
    this.draw();
    this.grid.goTo(this.given.query.get('at'), this.given.query.get('size'));
  }

  /** Everything anew: rows came or went. */
  draw() {
    this.grid.draw();
    this.drawRules();
    this.#mark();
  }

  drawRules() { drawRules(this.#rulesRoot, this); }

  /** A cell was typed into: the check follows when the typing pauses. */
  /** @param {string} [key] of what is typed on and on, one step of undo; the rest is a step each */
  touched(key = '') {
    this.#steps.note(JSON.stringify(this.typed), key);
    this.#current = false;
    this.#say();
    this.check.soon(this.typed);
  }

  /** Undo, or redo when not back. @param {boolean} back */
  step(back) {
    const state = back ? this.#steps.undo() : this.#steps.redo();
    if (state === null || this.given.readOnly) {
      announce(back ? 'Nothing to undo.' : 'Nothing to redo.');
      return;
    }
    const cell = document.activeElement?.closest('[data-row]');
    this.typed = JSON.parse(state);
    this.draw();
    this.touched();
    if (cell) this.grid.cells.focus({ row: Math.min(Number(cell.getAttribute('data-row')), this.typed.counts.length - 1), col: Number(cell.getAttribute('data-col')) });
    announce(back ? 'Undone.' : 'Done again.');
  }

  /** @param {{findings: import('../shapes.js').Finding[], finished: Sheet['finished'], sections: Sheet['sections']} | null} result */
  #checked(result) {
    if (!result) return;
    this.#current = true;
    this.result = result;
    this.#mark();
    this.#say();
  }

  #mark() {
    const placed = placeFindings(this.result.findings, this.typed, this.design.points, this.sizes);
    this.grid.mark(placed);
    this.grid.showSections(this.result.sections);
    this.#lines.textContent = this.typed.counts.map((c) => `${c.name}: ${printLine(c.cells.map((t) => readCell(t) ?? null), this.design.grouping)}`).join('\n');
    for (const line of this.#rulesRoot.querySelectorAll('[data-rule]')) {
      const name = this.typed.rules[Number(line.getAttribute('data-rule'))]?.name;
      put(line, placed.filter((p) => p.kind === 'rule' && p.finding.name === name).map((p) => h('p', { class: 'pin finding' }, p.finding.message)));
    }
    drawFinished(this.#finishedRoot, this.design, this.sizes, this.result, this.given.unit);
  }

  #say() {
    if (!this.#current) {
      this.#status.textContent = 'Not saved yet, and not checked as it stands now.';
      return;
    }
    const n = this.result.findings.length;
    this.#status.textContent = `${n === 0 ? 'Nothing is wrong that the sheet can tell' : n === 1 ? 'One thing to look at' : `${n} things to look at`}${this.changed ? '; not saved yet.' : '.'}`;
  }

  /** @param {KeyboardEvent} e */
  #shortcut(e) {
    if ((e.ctrlKey || e.metaKey) && e.key === 's' && !this.given.readOnly) {
      e.preventDefault();
      this.save();
    }
  }

  async save() {
    clearProblems(this.root);
    try {
      const body = sheetBody(this.typed);
      this.sheet = await api.put(`/versions/${this.sheet.id}/sheet`, body, { revision: this.sheet.revision });
      this.typed = typedFrom(this.sheet);
      this.#saved = JSON.stringify(this.typed);
      this.result = { findings: this.sheet.findings, finished: this.sheet.finished, sections: this.sheet.sections };
      this.#current = true;
      this.draw();
      this.#say();
      announce(`Saved. ${this.#status.textContent}`);
      this.given.saved();
    } catch (err) {
      showProblem(this.root, err);
    }
  }
}
