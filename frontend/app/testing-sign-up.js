import { h, put } from '../parts/h.js';
import { openDialog } from '../parts/open-dialog.js';
import '../parts/form-field.js';
import '../parts/entry-form.js';
import * as api from './api.js';
import { announce } from './shell.js';
import { sayError } from './problem.js';
import { copyText } from './copy-text.js';

/** @typedef {import('./testing.js').Desk} Desk */
/** @typedef {import('../shapes-recruiting.js').SignUpPage} SignUpPage */

/** The public way into the call: its link, its words, open or closed. @param {Desk} desk */
export async function openSignUp(desk) {
  const call = /** @type {import('../shapes-testing.js').Call} */ (desk.call);
  const path = `/calls/${call.id}/sign-up`;
  const inside = h('div', {}, h('p', { class: 'soft' }, 'One moment.'));
  openDialog('Sign-up page', desk.view.gone, inside);
  try {
    show(await api.get(path));
  } catch (err) {
    put(inside, h('p', { class: 'note bad' }, sayError(err)));
  }

  /** @param {SignUpPage} page */
  function show(page) {
    const opened = page.link !== '';
    put(inside,
      h('p', {}, 'Whoever has the link can offer to make a size; no sign-in is needed. The page shows the sizes, the yarn, the days and what testers agree to, and none of the counts.'),
      opened ? link(page) : null,
      h('entry-form', { say: opened ? 'Save' : 'Open the page', '.save': save },
        h('form-field', { name: 'introduction', label: 'Your words at the top', kind: 'area', maxlength: 4000, value: page.introduction }),
        h('form-field', { name: 'closes_on', label: 'Last day to apply', kind: 'date', hint: 'Leave it empty to take offers as long as the call is open.', value: page.closes_on ?? '' }),
        h('check-field', { name: 'open', label: 'The page is open', value: opened && !page.open ? 'false' : 'true' })));

    /** @param {Record<string, any>} values */
    async function save(values) {
      const body = { ...values, closes_on: values.closes_on || undefined };
      show(await api.put(path, body, opened ? { revision: page.revision } : {}));
      announce(values.open ? 'The sign-up page is open.' : 'The sign-up page is closed.');
    }
  }

  /** @param {SignUpPage} page */
  function link(page) {
    const field = h('input', { readonly: true, value: page.link, 'aria-label': 'Link of the sign-up page', onfocus: () => field.select() });
    const wrong = h('p', { class: 'error', role: 'alert' });
    return h('div', {}, page.open ? null : h('p', { class: 'brass' }, 'The page is closed: the link shows that to whoever opens it.'), field,
      h('div', { class: 'acts' }, h('button', { type: 'button', class: 'main', onclick: () => copyText(page.link, field) }, 'Copy the link'),
        h('button', { type: 'button', onclick: () => renew(page, wrong) }, 'Replace the link')), wrong,
      h('details', {}, h('summary', {}, 'As a QR code'), h('img', { alt: 'QR code of the sign-up page', width: 200, height: 200, src: `data:image/svg+xml;charset=utf-8,${encodeURIComponent(page.qr_svg)}` })));
  }

  /** @param {SignUpPage} page @param {Element} wrong */
  async function renew(page, wrong) {
    if (!confirm('The present link stops working at once. Replace it?')) return;
    try {
      show(await api.post(`${path}/link`, undefined, { revision: page.revision }));
      announce('The link is replaced.');
    } catch (err) {
      put(wrong, sayError(err));
    }
  }
}
