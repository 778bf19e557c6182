import * as api from './api.js';
import { announce } from './shell.js';

const SETTLE_MS = 600; // the next number is often typed at once

/** @typedef {import('../shapes-testing.js').Warning} Warning */
/** @typedef {{point_id: string, value: number, unit: string}} Measured */

/**
 * Asks the server about likely slips and shows its questions at the fields.
 * A question is asked once: what was left as it is, is meant. Without an answer
 * from the server nothing is asked; a check never stops anyone.
 */
export class SlipCheck {
  /** @type {any} */
  #timer = 0;
  #asked = '';

  /** @param {{id: string}} mine @param {import('../parts/tape-field.js').TapeField[]} points */
  constructor(mine, points) {
    this.path = `/assignments/${mine.id}/check`;
    this.points = points;
  }

  /** @param {Measured[]} measurements @param {any} swatch */
  soon(measurements, swatch) {
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => { this.#ask(measurements, swatch); }, SETTLE_MS);
  }

  /** Before sending: whether nothing is left to ask. @param {Measured[]} measurements @param {any} swatch */
  async passes(measurements, swatch) {
    clearTimeout(this.#timer);
    const seen = this.#asked;
    const warnings = await this.#ask(measurements, swatch);
    if (warnings.length === 0 || this.#asked === seen) return true;
    announce(`${warnings.length === 1 ? 'One number looks' : `${warnings.length} numbers look`} unlikely. Look at it, or send it as it is.`);
    this.points.find((f) => f.getAttribute('data-draft') === warnings[0].point_id)?.focus();
    return false;
  }

  /** @param {Measured[]} measurements @param {any} swatch @returns {Promise<Warning[]>} */
  async #ask(measurements, swatch) {
    /** @type {Warning[]} */
    let warnings = [];
    try {
      if (measurements.length) ({ warnings } = await api.post(this.path, { measurements, ...(swatch && { swatch }) }));
    } catch {
      return [];
    }
    for (const f of this.points) f.ask(warnings.find((w) => w.point_id === f.getAttribute('data-draft')) || null);
    const asked = JSON.stringify(measurements.filter((m) => warnings.some((w) => w.point_id === m.point_id)));
    if (warnings.length && asked !== this.#asked) announce(warnings[0].sentence);
    this.#asked = asked;
    return warnings;
  }
}
