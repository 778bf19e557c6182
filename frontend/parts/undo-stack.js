// What was done to a thing, so that it can be undone and done again.

const MOST = 100; // states kept; an evening's slips, not a history

/** States of a thing as text, with a place among them. */
export class UndoStack {
  /** @type {string[]} */
  #past = [];
  /** @type {string[]} */
  #future = [];
  #now;
  #key = '';

  /** @param {string} state */
  constructor(state) { this.#now = state; }

  get canUndo() { return this.#past.length > 0; }
  get canRedo() { return this.#future.length > 0; }

  /**
   * The thing is now like this. Notes with one key in a row (a number typed
   * digit by digit) are one step; '' is always a step of its own.
   * @param {string} state @param {string} [key]
   */
  note(state, key = '') {
    if (state === this.#now) return;
    if (key === '' || key !== this.#key) this.#past.push(this.#now);
    if (this.#past.length > MOST) this.#past.shift();
    this.#now = state;
    this.#future = [];
    this.#key = key;
  }

  /** The next note is a step of its own. */
  pause() { this.#key = ''; }

  /** @returns {string | null} the state before, null when there is none */
  undo() { return this.#step(this.#past, this.#future); }

  /** @returns {string | null} */
  redo() { return this.#step(this.#future, this.#past); }

  /** @param {string[]} from @param {string[]} to */
  #step(from, to) {
    const state = from.pop();
    if (state === undefined) return null;
    to.push(this.#now);
    this.#now = state;
    this.#key = '';
    return state;
  }
}
