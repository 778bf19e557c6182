import { h } from './h.js';
import { wayBack } from './keep-focus.js';

/**
 * Opens a native dialog with a title and a way out; it is gone when it closes,
 * and closes with the screen that opened it.
 * @param {string} title
 * @param {AbortSignal} gone
 * @param {...import('./h.js').Child} children
 * @returns {HTMLDialogElement}
 */
export function openDialog(title, gone, ...children) {
  const back = wayBack();
  const dialog = h('dialog', { 'aria-label': title, onclose: () => { dialog.remove(); back(); } },
    h('div', { class: 'sec-head' }, h('h2', {}, title), h('button', { type: 'button', onclick: () => dialog.close() }, 'Close')),
    children);
  gone.addEventListener('abort', () => dialog.close(), { once: true });
  document.body.append(dialog);
  dialog.showModal();
  return dialog;
}

/**
 * A dialog around one form. `save` gets the form's values; the dialog closes
 * when it is through, and stays with everything typed when it throws. `done`
 * then gets what `save` returned: by that time the focus is back where it was,
 * so that a page drawn anew can keep it.
 * @param {{title: string, say: string, gone: AbortSignal, save: (values: Record<string, any>, form: any) => Promise<any>, done?: (saved: any) => Promise<void> | void}} of
 * @param {...import('./h.js').Child} fields
 */
export function openForm(of, ...fields) {
  const dialog = openDialog(of.title, of.gone, h('entry-form', {
    say: of.say,
    '.save': async (/** @type {Record<string, any>} */ values, /** @type {any} */ form) => {
      const saved = await of.save(values, form);
      dialog.close();
      await of.done?.(saved);
    },
  }, fields));
  return dialog;
}
