import { h, put } from '../parts/h.js';
import { openDialog } from '../parts/open-dialog.js';

/** @typedef {import('../shapes-photos.js').Photo} Photo */

/** @param {Photo} p @param {'large' | 'screen' | 'thumb'} size */
export const picture = (p, size) => p.pictures.find((x) => x.size === size) || p.pictures[0];

/** What stands in place of a photo that can't be seen. @param {Photo} p @param {number} at @param {number} of */
export const sayPhoto = (p, at, of) => p.caption || `Photo ${at + 1} of ${of}, without words`;

/** @param {Photo} p @param {string} alt */
export function thumb(p, alt) {
  const small = picture(p, 'thumb');
  return h('img', { src: small.href, width: small.width, height: small.height, alt, loading: 'lazy', decoding: 'async' });
}

/**
 * Photos in a row; each opens larger.
 * @param {Photo[]} photos @param {AbortSignal} gone @param {string} [key] for keeping the focus when the page is drawn anew
 */
export function photoRow(photos, gone, key = '') {
  if (photos.length === 0) return null;
  return h('ul', { class: 'plain photo-row' }, photos.map((p, i) => h('li', {},
    h('button', { type: 'button', class: 'photo-thumb', 'data-key': key ? `photo-${key}-${p.id}` : undefined, onclick: () => openPhoto(photos, i, gone) }, thumb(p, sayPhoto(p, i, photos.length))))));
}

/**
 * One photo after the other, as large as the screen; the arrow keys turn.
 * @param {Photo[]} photos @param {number} at @param {AbortSignal} gone
 */
export function openPhoto(photos, at, gone) {
  const figure = h('figure', { class: 'photo-large' });
  const count = h('span', { role: 'status' });
  const back = h('button', { type: 'button', onclick: () => turn(-1) }, 'Previous');
  const on = h('button', { type: 'button', onclick: () => turn(1) }, 'Next');
  const many = photos.length > 1;
  const dialog = openDialog('Photo', gone, figure, many ? h('div', { class: 'acts' }, back, on, count) : null);
  dialog.classList.add('photo-dialog');
  dialog.addEventListener('keydown', (/** @type {KeyboardEvent} */ e) => {
    if (many && (e.key === 'ArrowLeft' || e.key === 'ArrowRight')) {
      e.preventDefault();
      turn(e.key === 'ArrowLeft' ? -1 : 1);
    }
  });
  show();

  /** @param {number} by */
  function turn(by) {
    at = (at + by + photos.length) % photos.length;
    show();
  }

  function show() {
    const p = photos[at];
    const [screen, large] = [picture(p, 'screen'), picture(p, 'large')];
    put(figure,
      h('a', { href: large.href, target: '_blank', 'aria-label': 'Open this photo by itself, at full size' },
        h('img', { src: screen.href, srcset: `${screen.href} ${screen.width}w, ${large.href} ${large.width}w`, sizes: '95vw', width: large.width, height: large.height, alt: sayPhoto(p, at, photos.length) })),
      p.caption ? h('figcaption', {}, p.caption) : null);
    count.textContent = `${at + 1} of ${photos.length}`;
  }
}
