import { h, put } from '../parts/h.js';
import { sayDay } from '../parts/dates.js';
import '../parts/form-field.js';
import '../parts/length-field.js';
import '../parts/entry-form.js';
import * as api from './api.js';
import { sayError } from './problem.js';
import { UNITS, TERMS } from './words.js';
import { sentence } from './plan-words.js';
import { announce } from './shell.js';

export const sheets = ['apply'];

/** @typedef {import('../shapes-recruiting.js').SignUpForm} SignUpForm */
/** @typedef {import('../shapes-recruiting.js').SizeAdvice} SizeAdvice */

const CHOICES = ['The size I would like best to make', 'Second', 'Third'];

/**
 * The public page of a test call. Its secret stands after the #, so that it
 * never reaches a log.
 * @param {import('../shapes.js').View} view
 */
export async function draw(view) {
  const token = location.hash.slice(1);
  view.title('Offer to test');
  if (!token) {
    put(view.page, h('p', {}, 'Open the whole link that the studio has published, with the part after the #; without it this page can’t tell which call you mean.'),
      h('p', {}, 'You test here already? ', h('a', { href: '/sign-in' }, 'Sign in')));
    return;
  }
  /** @type {SignUpForm} */
  const form = await api.post('/sign-up/look', { token }, { signal: view.gone });
  view.title(`Offer to test ${form.design}`);
  view.lede.textContent = form.studio;
  const sizes = sizeFields(form);
  const body = bodyPart(form, token, sizes, view);
  put(view.page,
    form.introduction ? h('p', { class: 'apply-intro' }, form.introduction) : null,
    h('dl', { class: 'pairs' }, h('dt', {}, 'Craft'), h('dd', {}, form.craft), form.yarn ? [h('dt', {}, 'Yarn'), h('dd', {}, form.yarn)] : null,
      h('dt', {}, 'Reports due'), h('dd', {}, form.due_on < view.settings.today ? 'on a day that we agree with you' : sayDay(form.due_on)), form.closes_on ? [h('dt', {}, 'Apply by'), h('dd', {}, sayDay(form.closes_on))] : null),
    h('entry-form', { class: 'narrow apply', say: 'Offer to test', '.save': (/** @type {any} */ values) => send(values, form, token, sizes, body.read, view) },
      h('h2', {}, 'You'),
      h('form-field', { name: 'handle', label: 'The name that others see', required: true, autocapitalize: 'off', spellcheck: 'false', autocomplete: 'nickname', maxlength: 40 }),
      h('form-field', { name: 'name', label: 'Your name', autocomplete: 'name', maxlength: 120 }),
      h('form-field', { name: 'email', label: 'E-mail', kind: 'email', required: true, autocomplete: 'email', maxlength: 254, hint: 'For the studio’s answer. If you have tested here before, the address that you gave then.' }),
      h('p', {}, h('a', { href: '/privacy', target: '_blank' }, 'Who here sees what of you')),
      h('div', { class: 'side' }, h('form-field', { name: 'unit', label: 'I measure in', kind: 'select', quiet: true, '.options': UNITS, value: form.unit }),
        h('form-field', { name: 'terms', label: 'I read stitch names in', kind: 'select', quiet: true, '.options': TERMS, value: form.terms })),
      h('h2', {}, 'The size'), body.element, h('div', { 'data-at': 'sizes' }, sizes),
      h('h2', {}, 'Your experience'),
      h('div', { class: 'side' }, h('form-field', { name: 'accepted', label: 'Tests taken on for other studios', kind: 'number', min: 0, max: 10000, inputmode: 'numeric' }), h('form-field', { name: 'finished', label: 'Of these finished in time', kind: 'number', min: 0, max: 10000, inputmode: 'numeric' })),
      h('form-field', { name: 'yarn', label: 'The yarn that you would use', maxlength: 120, autocomplete: 'off' }),
      h('form-field', { name: 'remarks', label: 'Anything else', kind: 'area', maxlength: 4000 }),
      form.confidentiality ? [h('h2', {}, 'What you agree to'), h('blockquote', { class: 'apply-terms' }, h('p', {}, form.confidentiality)),
        h('check-field', { name: 'agreed', label: 'I have read this and agree to it', required: true })] : null));
}

/** @param {SignUpForm} form */
function sizeFields(form) {
  /** @type {[string, string][]} */
  const options = [['', '–'], ...form.sizes.map((z) => /** @type {[string, string]} */ ([z.id, sizeWords(z)]))];
  return CHOICES.slice(0, form.sizes.length).map((label, i) => h('form-field', { 'data-at': `sizes[${i}]`, label, kind: 'select', quiet: i === 0, required: i === 0, '.options': options }));
}

/** A size with the body that it is for. @param {SignUpForm['sizes'][number]} z */
function sizeWords(z) {
  const body = z.body.map((b) => `${b.dimension} ${b.length.value} ${b.length.unit}`).join(', ');
  return body ? `${z.name} (${body})` : z.name;
}

/**
 * Measurements of the body, told if one likes, and the size that they speak
 * for. @param {SignUpForm} form @param {string} token @param {any[]} sizes @param {import('../shapes.js').View} view
 */
function bodyPart(form, token, sizes, view) {
  const fields = form.dimensions.map((d) => ({ dimension: d, field: h('length-field', { label: d, unit: form.unit, inputmode: 'decimal' }) }));
  const read = () => fields.flatMap(({ dimension, field }) => (field.value ? [{ dimension, value: field.value.value, unit: field.value.unit }] : []));
  if (fields.length === 0) return { element: null, read };
  const said = h('div', { role: 'status' });
  const keep = h('check-field', { label: 'Send these measurements with my offer', hint: 'Only the designer and you see them; you can remove them later.' });
  const element = h('details', { class: 'apply-body' }, h('summary', {}, 'Which size is near me?'),
    h('p', { class: 'soft' }, 'Give your own measurements and see which size the design’s ease speaks for. Nothing is kept unless you tick the box.'),
    fields.map((f) => f.field), h('div', { class: 'apply-advise' }, h('button', { type: 'button', onclick: advise }, 'Show the size')), said, keep);
  return { element, read: () => (keep.value ? read() : []) };

  async function advise() {
    const body = read();
    if (body.length === 0) { put(said, h('p', { class: 'brass' }, 'Give at least one measurement.')); return; }
    try {
      /** @type {{advice: SizeAdvice | null}} */
      const { advice } = await api.post('/sign-up/advice', { token, body }, { signal: view.gone });
      if (!advice) { put(said, h('p', {}, 'From this no size can be told.')); return; }
      put(said, h('p', { class: advice.fits ? 'leaf' : 'brass' }, sentence(advice.why)));
      const size = form.sizes.find((z) => z.name === advice.size);
      if (size && !sizes[0].value) sizes[0].value = size.id;
    } catch (err) {
      put(said, h('p', { class: 'note bad' }, sayError(err)));
    }
  }
}

/**
 * @param {Record<string, any>} values @param {SignUpForm} form @param {string} token @param {any[]} sizes
 * @param {() => unknown[]} body @param {import('../shapes.js').View} view
 */
async function send(values, form, token, sizes, body, view) {
  const wanted = [...new Set(sizes.map((f) => f.value).filter(Boolean))];
  const answer = await api.post('/sign-up/apply', { ...values, accepted: values.accepted ?? 0, finished: values.finished ?? 0, token, sizes: wanted,
    agreed: values.agreed ? form.confidentiality_hash : '', body: body() });
  put(view.page, h('p', { class: 'leaf apply-intro', tabindex: '-1' }, `Thank you for offering to test ${answer.design}.`),
    h('p', {}, 'The studio reads every offer and answers by e-mail. If you want to change something, fill in the page again with the same address: the last answers count.'));
  announce('Your offer is sent. Thank you.');
  /** @type {HTMLElement} */ (view.page.firstElementChild).focus();
}
