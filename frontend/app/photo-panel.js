import { h, put, freshId } from '../parts/h.js';
import { openForm } from '../parts/open-dialog.js';
import * as api from './api.js';
import { upload } from './api-upload.js';
import { announce } from './shell.js';
import { Problem, sayError } from './problem.js';
import { shrink } from './photo-shrink.js';
import { keep, forget, waitingFor } from './photo-drafts.js';
import { PhotoSender } from './photo-sender.js';
import { openPhoto, sayPhoto, thumb } from './photo-view.js';
import { sayLimits } from './photo-words.js';

/** @typedef {import('../shapes-photos.js').Photo} Photo */
/** @typedef {import('../shapes-photos.js').Waiting} Waiting */
/** @typedef {import('./photo-sender.js').Course} Course */

/**
 * The photos of one place: those that are there, and those on their way, which
 * this browser keeps until they have arrived.
 */
export class PhotoPanel {
  /** @type {Photo[]} */
  #photos = [];
  /** @type {Map<string, {element: HTMLElement, says: HTMLElement, bar: HTMLProgressElement, again: HTMLButtonElement, give: HTMLButtonElement, course?: Course, address: string}>} */
  #rows = new Map();
  #most = 0;
  #edge = 0;
  #captionMost = 300;

  /**
   * @param {object} of
   * @param {string} of.path like /samples/1/photos
   * @param {string} of.person who is signed in
   * @param {AbortSignal} of.gone
   * @param {string} [of.note]
   */
  constructor({ path, person, gone, note = '' }) {
    this.path = path;
    this.person = person;
    this.gone = gone;
    const id = freshId('photos');
    this.input = h('input', { type: 'file', id, accept: 'image/*', multiple: true, onchange: () => this.#chosen() });
    this.limits = h('p', { class: 'soft' });
    this.trouble = h('div', { role: 'alert' });
    this.there = h('ul', { class: 'plain photo-list' });
    this.waiting = h('ul', { class: 'plain photo-list' });
    this.element = h('div', { class: 'photo-panel' }, note ? h('p', { class: 'soft' }, note) : null, this.there, this.waiting, this.trouble,
      h('label', { for: id, class: 'photo-pick' }, 'Add photos'), this.input, this.limits);
    this.sender = new PhotoSender({
      gone,
      send: (w, onshare) => upload(`${path}?caption=${encodeURIComponent(w.caption)}`, w.blob, { signal: gone, onshare }),
      arrived: (w, photo) => this.#arrived(w, photo),
      course: (w, course) => this.#course(w, course),
      pause: (seconds, early) => pause(seconds, early, gone),
    });
    addEventListener('online', () => this.sender.wake(), { signal: gone });
    gone.addEventListener('abort', () => this.#rows.forEach((r) => URL.revokeObjectURL(r.address)), { once: true });
  }

  /** Reads what is there, and goes on with what was left waiting. */
  async start() {
    const left = await waitingFor(this.person, this.path);
    await this.#reread();
    if (!this.gone.aborted) for (const w of left) this.#await(w);
  }

  async #reread() {
    try {
      await this.#read();
    } catch (err) {
      if (!this.gone.aborted) put(this.trouble, h('p', { class: 'note bad' }, sayError(err)));
    }
  }

  async #read() {
    /** @type {import('../shapes-photos.js').Photos} */
    const { items, limits } = await api.get(this.path, { signal: this.gone });
    [this.#photos, this.#most, this.#edge, this.#captionMost] = [items, limits.most, limits.large, limits.caption];
    this.limits.textContent = sayLimits(limits);
    this.#show();
  }

  async #chosen() {
    const files = [...(this.input.files || [])];
    this.input.value = '';
    put(this.trouble);
    const room = this.#most ? this.#most - this.#photos.length - this.#rows.size : files.length;
    if (files.length > room) put(this.trouble, h('p', { class: 'note' }, `There can be ${this.#most} photos here; the first ${Math.max(room, 0)} of these were taken.`));
    for (const file of files.slice(0, Math.max(room, 0))) {
      const blob = await shrink(file, this.#edge || 2560);
      /** @type {Waiting} */
      const w = { id: freshName(), person: this.person, path: this.path, blob, caption: '', at: new Date().toISOString() };
      if (!await keep(w)) put(this.trouble, h('p', { class: 'note' }, 'This browser keeps no photos: stay on this page until they are sent.'));
      if (this.gone.aborted) return;
      this.#await(w);
    }
  }

  /** @param {Waiting} w */
  #await(w) {
    const address = URL.createObjectURL(w.blob);
    const bar = h('progress', { max: 1, value: 0, 'aria-label': 'How much of it is sent' });
    const says = h('p', { class: 'soft' });
    const again = h('button', { type: 'button', hidden: true, onclick: () => this.#again(w) }, 'Try again');
    const give = h('button', { type: 'button', class: 'plain', onclick: () => this.#give(w) });
    const element = h('li', {}, h('img', { src: address, alt: '' }),
      h('div', {}, this.#captionField(w.caption, async (caption) => { w.caption = caption; await keep(w); }), says, bar, h('div', { class: 'acts' }, again, give)));
    this.#rows.set(w.id, { element, says, bar, again, give, address });
    this.waiting.append(element);
    this.sender.add(w);
  }

  /** @param {Waiting} w @param {Course} course */
  #course(w, course) {
    const row = this.#rows.get(w.id);
    if (!row) return;
    row.bar.hidden = course.state !== 'sending';
    row.bar.value = course.share;
    const says = course.state === 'refused' ? course.says : `This photo ${course.says}.`;
    if (row.says.textContent !== says) row.says.textContent = says;
    const refused = course.state === 'refused';
    row.says.className = refused ? 'error' : 'soft';
    if (refused && row.course?.state !== 'refused') announce(course.arrived ? course.says : `A photo was refused. ${course.says}`);
    row.again.hidden = !(refused && course.arrived);
    const give = course.arrived ? 'Leave these words out' : 'Don’t send it';
    if (row.give.textContent !== give) row.give.textContent = give;
    row.course = course;
  }

  /** @param {Waiting} w */
  #again(w) {
    this.#rows.get(w.id)?.element.querySelector('input')?.focus();
    this.sender.again(w.id);
  }

  /** @param {Waiting} w */
  async #give(w) {
    const arrived = this.#rows.get(w.id)?.course?.arrived;
    this.sender.drop(w.id);
    await forget(w.id);
    this.#gone(w.id);
    this.input.focus();
    if (arrived) await this.#reread();
  }

  /** @param {string} id */
  #gone(id) {
    const row = this.#rows.get(id);
    if (!row) return;
    URL.revokeObjectURL(row.address);
    row.element.remove();
    this.#rows.delete(id);
  }

  /** @param {Waiting} w @param {Photo} photo */
  async #arrived(w, photo) {
    // Words typed while it was sent, or while those were written.
    for (let written = photo.caption; written !== w.caption;) {
      written = w.caption;
      photo = await this.#caption(photo, written);
    }
    await forget(w.id); // not before: what was not written is still kept
    this.#gone(w.id);
    const at = this.#photos.findIndex((p) => p.id === photo.id); // it may have been read as it was before its words
    if (at < 0) this.#photos.push(photo);
    else this.#photos[at] = photo;
    this.#show();
    announce(this.#rows.size === 0 ? 'All photos have arrived.' : 'A photo has arrived.');
  }

  #show() {
    put(this.there, this.#photos.map((p, i) => {
      const alt = sayPhoto(p, i, this.#photos.length);
      return h('li', {}, h('button', { type: 'button', class: 'photo-thumb', onclick: () => openPhoto(this.#photos, i, this.gone) }, thumb(p, alt)),
        p.yours ? h('div', {}, this.#captionField(p.caption, async (caption) => { Object.assign(p, await this.#caption(p, caption)); }),
          h('button', { type: 'button', class: 'plain', 'aria-label': `Remove: ${alt}`, onclick: () => this.#remove(p) }, 'Remove')) : h('p', {}, p.caption));
    }));
  }

  /** @param {string} value @param {(caption: string) => Promise<void>} save */
  #captionField(value, save) {
    const id = freshId('shows');
    const wrong = h('span', { class: 'error', role: 'alert' });
    return h('div', {}, h('label', { for: id }, 'What it shows'), h('input', { id, maxlength: this.#captionMost, autocomplete: 'off', '.value': value,
      onchange: async (/** @type {Event} */ e) => {
        wrong.textContent = '';
        try {
          await save(/** @type {HTMLInputElement} */ (e.target).value);
        } catch (err) {
          wrong.textContent = sayError(err);
        }
      } }), wrong);
  }

  /** @param {Photo} p @param {string} caption @returns {Promise<Photo>} */
  async #caption(p, caption) {
    try {
      return await api.patch(`/photos/${p.id}`, { caption }, { revision: p.revision });
    } catch (err) {
      if (err instanceof Problem && err.status === 412) return api.patch(`/photos/${p.id}`, { caption }, { revision: (await api.get(`/photos/${p.id}`)).revision });
      throw err;
    }
  }

  /** @param {Photo} p */
  #remove(p) {
    openForm({ title: 'Remove this photo', say: 'Remove it for good', gone: this.gone,
      save: async () => {
        try {
          await api.remove(`/photos/${p.id}`);
        } catch (err) {
          if (!(err instanceof Problem && err.status === 404)) throw err; // gone already
        }
      },
      done: () => {
        this.#photos = this.#photos.filter((x) => x !== p);
        this.#show();
        this.input.focus();
        announce('The photo is removed.');
      } }, h('p', {}, 'Its pictures are erased on the server; this can’t be undone.'));
  }
}

/** Not randomUUID: it is missing where a studio serves plain http in its own network. */
const freshName = () => [...crypto.getRandomValues(new Uint8Array(16))].map((b) => b.toString(16).padStart(2, '0')).join('');

/** @param {number} seconds @param {Promise<void>} early @param {AbortSignal} gone @returns {Promise<void>} */
function pause(seconds, early, gone) {
  return new Promise((resolve) => {
    const timer = setTimeout(resolve, seconds * 1000);
    const end = () => { clearTimeout(timer); resolve(); };
    early.then(end);
    gone.addEventListener('abort', end, { once: true });
  });
}
