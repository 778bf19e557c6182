import { h, put } from '../parts/h.js';
import { wayBack } from '../parts/keep-focus.js';
import { sayMoment } from '../parts/dates.js';
import * as api from './api.js';
import { studio } from './session.js';
import { sayError } from './problem.js';
import { announce } from './shell.js';

/**
 * Makes an invitation link and shows it with its QR code. Where an earlier one
 * still works it asks first: a new one ends it.
 * @param {string} path of the API that makes it
 * @param {{id: string, handle: string}} person whom it is for
 * @param {() => void} [closed]
 */
export async function invite(path, { id, handle }, closed) {
  const back = wayBack();
  const body = h('div', { 'aria-live': 'polite' }, h('p', { class: 'soft' }, 'One moment.'));
  const dialog = h('dialog', { 'aria-label': `Invitation for ${handle}`, onclose: () => { dialog.remove(); back(); closed?.(); } },
    h('div', { class: 'sec-head' }, h('h2', {}, `Invitation for ${handle}`), h('button', { type: 'button', onclick: () => dialog.close() }, 'Close')), body);
  document.body.append(dialog);
  dialog.showModal();
  try {
    /** @type {[import('../shapes-sign-in.js').PersonSignIn, any, any]} */
    const [{ open_link: open, has_password: known }, settings, post] = await Promise.all([api.get(`/people/${id}/sign-in`), studio(), api.get('/letters/post')]);
    const make = async () => show(body, await api.post(path), { handle, known }, settings.zone, post.on ? path : null);
    if (open) ask(body, open, settings.zone, make);
    else await make();
  } catch (err) {
    put(body, h('p', { class: 'note bad' }, sayError(err)));
  }
}

/**
 * @param {Element} body @param {NonNullable<import('../shapes-sign-in.js').PersonSignIn['open_link']>} open @param {string} zone
 * @param {() => Promise<void>} make
 */
function ask(body, open, zone, make) {
  const button = h('button', { type: 'button', class: 'grave', onclick: async () => {
    button.disabled = true; // a second press would end the link that the first one makes
    try {
      await make();
      /** @type {HTMLElement | null} */ (body.querySelector('button'))?.focus();
    } catch (err) {
      button.disabled = false;
      put(wrong, h('p', { class: 'note bad' }, sayError(err)));
    }
  } }, 'Make a new link');
  const wrong = h('div', { role: 'alert' });
  put(body, h('p', {}, `A link made on ${sayMoment(open.made_at, zone)} has not been used yet and works until ${sayMoment(open.expires_at, zone)}. A new link ends it: whoever was given that one then needs the new one.`),
    wrong, h('div', { class: 'acts' }, button));
}

/**
 * @param {Element} body @param {import('../shapes.js').Invitation} made @param {{handle: string, known: boolean}} person known: has a password already @param {string} zone
 * @param {string | null} mailed where a letter with a link of its own is made; null: this server sends none
 */
function show(body, made, { handle, known }, zone, mailed) {
  const link = h('input', { readonly: true, value: made.link, 'aria-label': 'Link', onfocus: () => link.select() });
  // The code comes as SVG text; as an image it can run nothing.
  const code = h('img', { alt: `QR code of the link for ${handle}`, width: 220, height: 220, src: `data:image/svg+xml;charset=utf-8,${encodeURIComponent(made.qr_svg)}` });
  put(body,
    h('p', {}, `Give this link to ${handle} alone: whoever opens it first ${known ? 'sets a new password for the account, and the present one ends' : 'gets the account'}. It works once, until ${sayMoment(made.expires_at, zone)}. It is shown only now.`),
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
