// A report that was typed but not sent yet, kept in this browser: the page may
// be closed by the phone, and the network may be gone when it is sent.

const MOST_DAYS = 120; // older than that, nobody comes back to it

/** @typedef {{at: string, fields: Record<string, any>, remarks: {place: string, body: string}[]}} Draft */
/** @typedef {Pick<Storage, 'getItem'|'setItem'|'removeItem'>} Keeper */

/** Of one person and one assignment: a phone may be shared. @param {string} person @param {string} assignment */
export const draftKey = (person, assignment) => `report-draft-${person}-${assignment}`;

/** @param {string | null} text @param {number} now ms @returns {Draft | null} null when there is none that can be used */
export function readDraft(text, now) {
  try {
    const draft = JSON.parse(text || 'null');
    const fits = draft && typeof draft.at === 'string' && draft.fields && typeof draft.fields === 'object' && Array.isArray(draft.remarks);
    return fits && now - Date.parse(draft.at) < MOST_DAYS * 86_400_000 ? draft : null;
  } catch {
    return null;
  }
}

/**
 * Whether a draft says anything else than the form said at first.
 * @param {Draft} draft @param {Draft} first
 */
export function differs(draft, first) {
  return JSON.stringify([draft.fields, draft.remarks]) !== JSON.stringify([first.fields, first.remarks]);
}

export class DraftKeeper {
  #key;
  #store;
  /** @param {string} key @param {Keeper} store */
  constructor(key, store) {
    this.#key = key;
    this.#store = store;
  }

  /** @param {number} now ms */
  read(now) {
    try {
      return readDraft(this.#store.getItem(this.#key), now);
    } catch {
      return null;
    }
  }

  /** @param {Draft} draft @returns {boolean} whether it is kept: a browser may refuse */
  keep(draft) {
    try {
      this.#store.setItem(this.#key, JSON.stringify(draft));
      return true;
    } catch {
      return false;
    }
  }

  forget() {
    try {
      this.#store.removeItem(this.#key);
    } catch {
      // A browser that keeps nothing has nothing to forget.
    }
  }
}
