import { h, put } from '../parts/h.js';
import { wayBack } from '../parts/keep-focus.js';
import { sayMoment } from '../parts/dates.js';
import * as api from './api.js';
import { studio } from './session.js';
import { sayError } from './problem.js';
import { announce } from './shell.js';

/**
 * Makes an invitation link and shows it with its QR code.
 * @param {string} path of the API that makes it
 * @param {string} handle whom it is for
 * @param {() => void} [closed]
 */
export async function invite(path, handle, closed) {
  const back = wayBack();
  const body = h('div', { 'aria-live': 'polite' }, h('p', { class: 'soft' }, 'One moment.'));
  const dialog = h('dialog', { 'aria-label': `Invitation for ${handle}`, onclose: () => { dialog.remove(); back(); closed?.(); } },
    h('div', { class: 'sec-head' }, h('h2', {}, `Invitation for ${handle}`), h('button', { type: 'button', onclick: () => dialog.close() }, 'Close')), body);
  document.body.append(dialog);
  dialog.showModal();
  try {
    const [made, settings, post] = await Promise.all([api.post(path), studio(), api.get('/letters/post')]);
    show(body, made, handle, settings.zone, post.on ? path : null);
  } catch (err) {
    put(body, h('p', { class: 'note bad' }, sayError(err)));
  }
}

/**
 * @param {Element} body @param {import('../shapes.js').Invitation} made @param {string} handle @param {string} zone
 * @param {string | null} mailed where a letter with a link of its own is made; null: this server sends none
 */
function show(body, made, handle, zone, mailed) {
  const link = h('input', { readonly: true, value: made.link, 'aria-label': 'Link', onfocus: () => link.select() });
  // The code comes as SVG text; as an image it can run nothing.
  const code = h('img', { alt: `QR code of the link for ${handle}`, width: 220, height: 220, src: `data:image/svg+xml;charset=utf-8,${encodeURIComponent(made.qr_svg)}` });
  put(body,
    h('p', {}, `Give this link to ${handle} alone: whoever opens it first gets the account. It works once, until ${sayMoment(made.expires_at, zone)}. It is shown only now; an earlier link has stopped working.`),
    link, h('div', { class: 'acts' }, h('button', { type: 'button', class: 'main', onclick: copy }, 'Copy the link'),
      mailed ? h('button', { type: 'button', onclick: send }, 'Send one by e-mail instead') : null), h('p', {}, code));

  async function send() {
    try {
      await api.post(`${mailed}/letter`);
      put(body, h('p', {}, `A letter to ${handle} is on its way, with a link that only they are shown. The link that stood here has stopped working.`), h('p', {}, h('a', { href: '/letters' }, 'Letters')));
    } catch (err) {
      put(body, h('p', { class: 'note bad' }, sayError(err)), h('p', {}, 'The link that stood here still works: ', made.link));
    }
  }

  async function copy() {
    link.select();
    try {
      await navigator.clipboard.writeText(made.link);
      announce('Copied.');
    } catch {
      announce('The link is selected: copy it with the keyboard or a long press.');
    }
  }
}
