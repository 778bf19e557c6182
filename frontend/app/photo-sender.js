// Sends photos one after the other, again and again until each has arrived:
// the same file sent twice is one photo, so nothing can come twice.
import { Problem } from './problem.js';

const PAUSES = [2, 5, 15, 30, 60]; // seconds; the last one is repeated

/** @typedef {import('../shapes-photos.js').Waiting} Waiting */
/** @typedef {import('../shapes-photos.js').Photo} Photo */
/**
 * How far a photo is; `arrived` once only its words are still to be written.
 * @typedef {{state: 'waiting' | 'sending' | 'resting' | 'refused', share: number, says: string, arrived?: boolean}} Course
 */
/** @typedef {{w: Waiting, course: Course, tries: number, photo?: Photo}} Entry */

/** Whether trying again may help. @param {unknown} err */
export function mayPass(err) {
  if (!(err instanceof Problem)) return false;
  return err.status === 0 || err.status === 401 || err.status === 408 || err.status === 429 || err.status >= 499;
}

/** @param {unknown} err @param {boolean} [arrived] whether only its words were refused @returns {string} */
export function sayRefusal(err, arrived = false) {
  if (arrived) return `The photo has arrived, but not what it shows. ${err instanceof Problem ? err.fields.get('caption') ? `That ${err.fields.get('caption')}.` : err.message : 'It could not be written.'}`;
  if (!(err instanceof Problem)) return 'This photo could not be sent.';
  const why = err.fields.get('photo');
  return why ? `This file ${why}.` : err.message;
}

export class PhotoSender {
  /** @type {Entry[]} */
  #line = [];
  #running = false;
  #wake = () => {};

  /**
   * @param {object} of
   * @param {(w: Waiting, onshare: (share: number) => void) => Promise<Photo>} of.send
   * @param {(w: Waiting, photo: Photo) => Promise<void>} of.arrived writes what is left to write, and is called again until that is done
   * @param {(w: Waiting, course: Course) => void} of.course
   * @param {(seconds: number, early: Promise<void>) => Promise<void>} of.pause ends when early does
   * @param {AbortSignal} of.gone
   */
  constructor(of) {
    this.of = of;
  }

  /** @param {Waiting} w */
  add(w) {
    /** @type {Entry} */
    const entry = { w, course: { state: 'waiting', share: 0, says: '' }, tries: 0 };
    this.#line.push(entry);
    this.#wait(entry);
  }

  /** Tries one again that was refused. @param {string} id */
  again(id) {
    const entry = this.#line.find((e) => e.w.id === id && e.course.state === 'refused');
    if (entry) this.#wait(entry);
  }

  /** @param {Entry} entry */
  #wait(entry) {
    this.#tell(entry, { state: 'waiting', share: 0, says: 'waits its turn' });
    this.run();
  }

  /** Takes one out; one that is on its way may still arrive. @param {string} id */
  drop(id) {
    this.#line = this.#line.filter((e) => e.w.id !== id);
  }

  /** Goes on at once: the network is back. */
  wake() { this.#wake(); }

  async run() {
    if (this.#running) return;
    this.#running = true;
    while (!this.of.gone.aborted) {
      const entry = this.#line.find((e) => e.course.state !== 'refused');
      if (!entry) break;
      await this.#try(entry);
    }
    this.#running = false;
  }

  /** @param {Entry} entry */
  async #try(entry) {
    this.#tell(entry, { state: 'sending', share: 0, says: entry.photo ? 'has arrived; what it shows is being written' : 'is being sent' });
    try {
      entry.photo ??= await this.of.send(entry.w, (share) => this.#tell(entry, { state: 'sending', share, says: 'is being sent' }));
      await this.of.arrived(entry.w, entry.photo);
      this.drop(entry.w.id);
    } catch (err) {
      if (this.of.gone.aborted || !this.#line.includes(entry)) return;
      const arrived = Boolean(entry.photo);
      if (!mayPass(err)) {
        this.#tell(entry, { state: 'refused', share: 0, says: sayRefusal(err, arrived) });
        return;
      }
      this.#tell(entry, { state: 'resting', share: 0, says: sayRest(err, arrived) });
      const early = new Promise((resolve) => { this.#wake = () => resolve(undefined); });
      await this.of.pause(PAUSES[Math.min(entry.tries, PAUSES.length - 1)], /** @type {Promise<any>} */ (early));
      entry.tries += 1;
    }
  }

  /** @param {Entry} entry @param {Course} course */
  #tell(entry, course) {
    entry.course = { ...course, arrived: Boolean(entry.photo) };
    this.of.course(entry.w, entry.course);
  }
}

/** @param {unknown} err @param {boolean} arrived */
function sayRest(err, arrived) {
  const [what, then] = arrived ? ['has arrived; what it shows is kept here', 'written'] : ['is kept here', 'sent'];
  return err instanceof Problem && err.status === 401 ? `${what}: sign in again, then it is ${then}` : `${what} and ${then} when the network is back`;
}
