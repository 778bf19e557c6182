/**
 * Draws a part anew and puts the focus back where it was: the control (or its
 * part) with the same `data-key`, or when that is gone, what `otherwise` finds.
 * @param {Element} root
 * @param {() => void} redraw
 * @param {() => HTMLElement | null | undefined} [otherwise]
 */
export function keepFocus(root, redraw, otherwise) {
  const held = document.activeElement;
  const within = Boolean(held && root.contains(held));
  const key = within ? held?.closest('[data-key]')?.getAttribute('data-key') : null;
  redraw();
  if (key) focusKey(root, key);
  if (within && !root.contains(document.activeElement)) otherwise?.()?.focus();
}

/**
 * The way back to what opened a dialog. The browser finds it by itself, unless
 * the page was drawn anew meanwhile.
 * @returns {() => void} to call when the dialog has closed
 */
export function wayBack() {
  const key = document.activeElement?.closest('[data-key]')?.getAttribute('data-key');
  return () => {
    if (key && document.activeElement === document.body) focusKey(document, key);
  };
}

/** @param {ParentNode} root @param {string} key */
function focusKey(root, key) {
  const place = /** @type {HTMLElement | null} */ (root.querySelector(`[data-key="${CSS.escape(key)}"]`));
  /** @type {HTMLElement | null | undefined} what has moved into a closed part is reached by that part's heading */
  const folded = place?.closest('details:not([open])')?.querySelector('summary');
  if (folded) folded.focus();
  else if (place?.matches('button, a, input, select, textarea, summary')) place.focus();
  else /** @type {HTMLElement | null | undefined} */ (place?.querySelector('button, a, input, select, summary'))?.focus();
}
