import * as api from './api.js';
import { sheetBody } from './sheet-model.js';

const PAUSE_MS = 500; // in typing, before the sheet is checked

/** Checks the sheet as it stands on the screen, with the same calculation as when it is saved. */
export class LiveCheck {
  /** @type {any} */
  #timer = 0;
  #turn = 0;

  /**
   * @param {import('../shapes.js').Design} design @param {import('../shapes.js').Sheet} sheet
   * @param {AbortSignal} gone
   * @param {(result: {findings: any[], finished: any[], sections: any[]} | null) => void} checked gets null when it can't be told
   */
  constructor(design, sheet, gone, checked) {
    this.fixed = { sizes: sheet.sizes.map((s) => s.name), gauge: design.gauge, points: design.points.map((p) => point(p, design, sheet)) };
    this.checked = checked;
    this.gone = gone;
  }

  /** @param {import('./sheet-model.js').Typed} typed */
  soon(typed) {
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => this.#now(typed), PAUSE_MS);
  }

  /** @param {import('./sheet-model.js').Typed} typed */
  async #now(typed) {
    this.#turn += 1;
    const turn = this.#turn;
    try {
      const { counts, rules } = sheetBody(typed);
      const body = { ...this.fixed, counts: counts.map(({ name, unit, values }) => ({ name, unit, values })), rules };
      const result = await api.post('/calc/counts', body, { signal: this.gone });
      if (turn === this.#turn && !this.gone.aborted) this.checked(result);
    } catch {
      // Half-typed rows can't be calculated; saving tells what is wrong with them.
      if (turn === this.#turn && !this.gone.aborted) this.checked(null);
    }
  }
}

/** @param {import('../shapes.js').Point} p @param {import('../shapes.js').Design} design @param {import('../shapes.js').Sheet} sheet */
function point(p, design, sheet) {
  const bodies = sheet.sizes.map((s) => design.sizes.find((x) => x.id === s.id)?.body.find((b) => b.dimension === p.body_dimension)?.length.cm ?? null);
  const intended = sheet.sizes.map((s) => p.intended.find((i) => i.size_id === s.id)?.length.cm ?? null);
  /** @type {Record<string, any>} */
  const out = { name: p.name, axis: p.axis, expr: p.expr, add: p.add.cm, tolerance: p.tolerance.cm };
  if (intended.some((v) => v !== null)) out.intended = intended;
  if (p.ease_low_cm !== null && p.ease_high_cm !== null && bodies.every((v) => v !== null)) Object.assign(out, { body: bodies, ease: [p.ease_low_cm, p.ease_high_cm] });
  return out;
}
