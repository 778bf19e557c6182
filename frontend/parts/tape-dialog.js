import { h } from './h.js';

/**
 * Shows a strip in the large form, with its numbers.
 * @param {import('./tape-strip.js').TapeStrip} from
 */
export function showTape(from) {
  const large = h('tape-strip', {
    large: true, '.strip': from.strip, '.point': from.point, '.size': from.size, '.unit': from.unit, '.href': from.href, '.half': from.half,
  });
  const close = () => dialog.close();
  const dialog = h('dialog', { class: 'tape-dialog', 'aria-label': `${from.point}, size ${from.size}`, onclose: () => dialog.remove() },
    h('div', { class: 'sec-head' }, h('h2', {}, `${from.point}, size ${from.size}`), h('button', { type: 'button', onclick: close }, 'Close')),
    large);
  dialog.addEventListener('click', (/** @type {MouseEvent} */ e) => {
    if (e.target === dialog || /** @type {Element} */ (e.target).closest('a')) close();
  });
  document.body.append(dialog);
  dialog.showModal();
}
