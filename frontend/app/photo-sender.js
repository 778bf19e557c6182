// Sends photos one after the other, again and again until each has arrived:
// the same file sent twice is one photo, so nothing can come twice.
import { Problem } from './problem.js';

const PAUSES = [2, 5, 15, 30, 60]; // seconds; the last one is repeated

/** @typedef {import('../shapes-photos.js').Waiting} Waiting */
/** @typedef {import('../shapes-photos.js').Photo} Photo */
/** @typedef {{state: 'waiting' | 'sending' | 'resting' | 'refused', share: number, says: string}} Course */

/** Whether trying again may help. @param {unknown} err */
export function mayPass(err) {
  if (!(err instanceof Problem)) return false;
  return err.status === 0 || err.status === 401 || err.status === 408 || err.status === 429 || err.status >= 499;
}

/** @param {unknown} err @returns {string} */
export function sayRefusal(err) {
  if (!(err instanceof Problem)) return 'This photo could not be sent.';
  const why = err.fields.get('photo');
  return why ? `This file ${why}.` : err.message;
}

export class PhotoSender {
  /** @type {{w: Waiting, course: Course, tries: number}[]} */
  #line = [];
  #running = false;
  #wake = () => {};

  /**
   * @param {object} of
   * @param {(w: Waiting, onshare: (share: number) => void) => Promise<Photo>} of.send
   * @param {(w: Waiting, photo: Photo) => Promise<void>} of.arrived
   * @param {(w: Waiting, course: Course) => void} of.course
   * @param {(seconds: number, early: Promise<void>) => Promise<void>} of.pause ends when early does
   * @param {AbortSignal} of.gone
   */
  constructor(of) {
    this.of = of;
  }

  /** @param {Waiting} w */
  add(w) {
    const entry = { w, course: /** @type {Course} */ ({ state: 'waiting', share: 0, says: '' }), tries: 0 };
    this.#line.push(entry);
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

  /** @param {{w: Waiting, course: Course, tries: number}} entry */
  async #try(entry) {
    this.#tell(entry, { state: 'sending', share: 0, says: 'is being sent' });
    try {
      const photo = await this.of.send(entry.w, (share) => this.#tell(entry, { state: 'sending', share, says: 'is being sent' }));
      this.drop(entry.w.id);
      await this.of.arrived(entry.w, photo);
    } catch (err) {
      if (this.of.gone.aborted || !this.#line.includes(entry)) return;
      if (!mayPass(err)) {
        this.#tell(entry, { state: 'refused', share: 0, says: sayRefusal(err) });
        return;
      }
      const out = err instanceof Problem && err.status === 401;
      this.#tell(entry, { state: 'resting', share: 0, says: out ? 'is kept here: sign in again, then it is sent' : 'is kept here and sent when the network is back' });
      const early = new Promise((resolve) => { this.#wake = () => resolve(undefined); });
      await this.of.pause(PAUSES[Math.min(entry.tries, PAUSES.length - 1)], /** @type {Promise<any>} */ (early));
      entry.tries += 1;
    }
  }

  /** @param {{w: Waiting, course: Course}} entry @param {Course} course */
  #tell(entry, course) {
    entry.course = course;
    this.of.course(entry.w, course);
  }
}
