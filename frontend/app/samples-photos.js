import { openDialog } from '../parts/open-dialog.js';
import { PhotoPanel } from './photo-panel.js';

/**
 * The photos of a sample, to add to and to remove. What is still on its way
 * when the dialog closes goes on when it is opened again.
 * @param {import('./samples.js').Shelf} shelf @param {import('../shapes-filming.js').Sample} s
 */
export function openPhotos(shelf, s) {
  const open = new AbortController();
  const panel = new PhotoPanel({ path: `/samples/${s.id}/photos`, person: shelf.view.me.id, gone: open.signal });
  const dialog = openDialog(`Photos of ${s.label}`, shelf.view.gone, panel.element);
  dialog.addEventListener('close', () => {
    open.abort();
    shelf.refresh();
  });
  panel.start();
}
