/** @typedef {{person_id: string, size_id: string}} Pair */

/**
 * What the designer has decided before the plan is made: pairs that are fixed
 * or forbidden, whether those who have not answered may be moved, and how
 * likely each size should be covered. Kept in the browser, for one call.
 */
export class WhatIf {
  /** @type {Map<string, string>} person → size */
  fixed = new Map();
  /** @type {Map<string, Set<string>>} person → sizes */
  forbidden = new Map();
  moveAsked = false;
  probability = 0.9;

  /** @param {string} callId @param {Pick<Storage, 'getItem' | 'setItem'>} storage */
  constructor(callId, storage) {
    this.key = `what-if ${callId}`;
    this.storage = storage;
    this.#read();
  }

  get isEmpty() { return this.fixed.size === 0 && this.forbidden.size === 0; }

  /** @param {string} person @param {string} size */
  fix(person, size) {
    this.#allow(person, size);
    this.fixed.set(person, size);
    this.#write();
  }

  /** @param {string} person @param {string} size */
  forbid(person, size) {
    if (this.fixed.get(person) === size) this.fixed.delete(person);
    this.forbidden.set(person, (this.forbidden.get(person) || new Set()).add(size));
    this.#write();
  }

  /** Leaves one person to the plan again. @param {string} person */
  free(person) {
    this.fixed.delete(person);
    this.forbidden.delete(person);
    this.#write();
  }

  clear() {
    this.fixed.clear();
    this.forbidden.clear();
    this.#write();
  }

  /** @param {Partial<Pick<WhatIf, 'moveAsked' | 'probability'>>} to */
  set(to) {
    Object.assign(this, to);
    this.#write();
  }

  /** The body of the request for a plan. */
  get body() {
    return {
      fixed: [...this.fixed].map(([person_id, size_id]) => ({ person_id, size_id })),
      forbidden: [...this.forbidden].flatMap(([person_id, sizes]) => [...sizes].map((size_id) => ({ person_id, size_id }))),
      move_asked: this.moveAsked, probability: this.probability,
    };
  }

  /** @param {string} person @param {string} size */
  #allow(person, size) {
    const sizes = this.forbidden.get(person);
    sizes?.delete(size);
    if (sizes?.size === 0) this.forbidden.delete(person);
  }

  #read() {
    try {
      const kept = JSON.parse(this.storage.getItem(this.key) || '{}');
      for (const p of /** @type {Pair[]} */ (kept.fixed || [])) this.fixed.set(p.person_id, p.size_id);
      for (const p of /** @type {Pair[]} */ (kept.forbidden || [])) this.forbidden.set(p.person_id, (this.forbidden.get(p.person_id) || new Set()).add(p.size_id));
      this.moveAsked = Boolean(kept.move_asked);
      if (kept.probability > 0 && kept.probability < 1) this.probability = kept.probability;
    } catch {
      // What can't be read is as good as nothing kept.
    }
  }

  #write() {
    try {
      this.storage.setItem(this.key, JSON.stringify(this.body));
    } catch {
      // A full or forbidden storage: it then lasts as long as the page.
    }
  }
}
