// What was found in a pasted part of a pattern: each list with its place in
// the text, to keep as a count or to drop.
import { h, put, freshId } from '../parts/h.js';
import { sayError } from './problem.js';
import { cutText } from './counts-places.js';
import { COUNT_UNITS } from './words.js';

/** @typedef {import('./counts-paste.js').ReadLine} ReadLine */
/** @typedef {import('./counts-paste.js').ReadAnswer} ReadAnswer */
/**
 * @typedef {object} Offer
 * @property {string} text
 * @property {ReadAnswer} [read] of that text, when it was read already
 * @property {(text: string) => Promise<ReadAnswer>} find
 * @property {(kept: ReadLine[]) => void} keep
 */

/** @param {import('./counts-editor.js').SheetEditor} editor @param {Offer} offer */
export function reviewFound(editor, offer) {
  const text = h('textarea', { id: 'pattern-lines', rows: 8, spellcheck: 'false', 'aria-describedby': 'pattern-hint', '.value': offer.text });
  const found = h('div', { 'aria-live': 'polite' });
  const dialog = h('dialog', { class: 'wide-dialog', 'aria-label': 'Paste pattern lines', onclose: () => dialog.remove() },
    h('div', { class: 'sec-head' }, h('h2', {}, 'Paste pattern lines'), h('button', { type: 'button', onclick: () => dialog.close() }, 'Close')),
    h('label', { for: 'pattern-lines' }, 'Part of the pattern'),
    h('p', { class: 'hint', id: 'pattern-hint' }, `Whole lines as they are printed, for ${editor.sizes.length} sizes: “Ch 62 (68, 76) (82, 90)”, “back: 62 (68, 76)”, or “body | sts | base round | 122 (134, 150)”. Each list in it is offered below.`),
    text, h('div', { class: 'acts' }, h('button', { type: 'button', class: 'main', onclick: look }, 'Find the counts')), found);
  editor.given.gone.addEventListener('abort', () => dialog.close(), { once: true });
  document.body.append(dialog);
  dialog.showModal();
  if (offer.read) show(offer.read);

  async function look() {
    try {
      show(await offer.find(text.value));
    } catch (err) {
      put(found, h('p', { class: 'pin' }, sayError(err)));
    }
  }

  /** @param {ReadAnswer} read */
  function show(read) {
    const items = read.lists.map((l) => new FoundItem(l, text.value, editor));
    const trouble = h('p', { class: 'error', role: 'alert' });
    put(found,
      h('h3', {}, read.lists.length === 1 ? 'One list found' : `${read.lists.length} lists found`),
      h('ul', { class: 'plain rows found' }, items.map((i) => i.element)),
      read.problems.length ? [h('h3', {}, 'Could not be read'), h('ul', { class: 'plain rows found' }, read.problems.map((p) => h('li', {}, place(text.value, p), h('p', { class: 'pin' }, `Line ${p.line}: ${p.problem}`))))] : null,
      items.length ? [trouble, h('div', { class: 'acts' }, h('button', { type: 'button', class: 'main', onclick: () => {
        const kept = items.filter((i) => i.kept);
        const nameless = kept.find((i) => !i.value.name);
        trouble.textContent = nameless ? 'Give each list that you keep a name, or drop it.' : '';
        if (nameless) { nameless.focus(); return; }
        dialog.close();
        offer.keep(kept.map((i) => i.value));
      } }, 'Put the kept ones into the sheet'))] : null);
  }
}

/** The line of the text with the list in it marked. @param {string} text @param {{line: number, start: number, end: number}} at */
function place(text, at) {
  const { before, marked, after } = cutText(text, at.start, at.end);
  return h('p', { class: 'place' }, h('span', { class: 'soft' }, `line ${at.line}: `), before, h('mark', {}, marked), after);
}

class FoundItem {
  /** @param {ReadLine} list @param {string} text @param {import('./counts-editor.js').SheetEditor} editor */
  constructor(list, text, editor) {
    this.list = list;
    const id = freshId('keep');
    const known = list.name && editor.typed.counts.some((c) => c.name === list.name);
    this.keep = h('input', { type: 'checkbox', id, '.checked': !list.measure });
    this.name = h('input', { 'aria-label': `Name of ${list.text}`, '.value': list.name || '', autocomplete: 'off', spellcheck: 'false' });
    this.unit = h('select', { 'aria-label': `${list.text} is a number of` }, COUNT_UNITS.map(([v, words]) => h('option', { value: v }, words)));
    this.unit.value = list.unit || 'stitch';
    this.element = h('li', {}, place(text, list),
      h('div', { class: 'found-line' },
        h('label', { class: 'tick', for: id }, this.keep, h('span', { class: 'mono' }, list.text)), this.name, this.unit,
        h('span', { class: 'soft' }, list.measure ? 'looks like a length' : known ? `fills the row ${list.name}` : '')));
  }

  get kept() { return this.keep.checked; }
  /** @returns {ReadLine} */
  get value() { return { ...this.list, name: this.name.value.trim(), unit: this.unit.value }; }
  focus() { this.name.focus(); }
}
