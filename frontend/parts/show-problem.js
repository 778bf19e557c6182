import { h, put, freshId } from './h.js';
import { Field } from './field.js';
import { Problem, sayError } from '../app/problem.js';

/**
 * Shows what went wrong: each message at the field or cell whose `name` or
 * `data-at` is the longest match of its location, the rest in `.trouble`.
 * @param {ParentNode} root @param {unknown} err
 */
export function showProblem(root, err) {
  const box = root.querySelector('.trouble');
  const places = [...root.querySelectorAll('[data-at], [name]')];
  /** @type {string[]} */
  const rest = [];
  /** @type {HTMLElement | null} */
  let first = null;
  for (const [location, message] of err instanceof Problem ? err.fields : []) {
    const place = /** @type {HTMLElement | null} */ (nearest(places, location));
    if (!place) { rest.push(location ? `${location}: ${message}` : message); continue; }
    if (place instanceof Field) place.setError(sentence(message));
    else markCell(place, sentence(message));
    first ??= place;
  }
  if (box) put(box, h('div', { class: 'note bad' }, h('p', {}, sayError(err)), rest.length ? h('ul', {}, rest.map((r) => h('li', {}, r))) : null));
  if (first) first.focus();
}

/** @param {ParentNode} root */
export function clearProblems(root) {
  const box = root.querySelector('.trouble');
  if (box) put(box);
  for (const place of root.querySelectorAll('*')) if (place instanceof Field) place.setError('');
  for (const line of root.querySelectorAll('.error.of-cell')) line.remove();
  for (const cell of root.querySelectorAll('[data-at][aria-invalid]')) {
    cell.removeAttribute('aria-invalid');
    cell.removeAttribute('aria-describedby');
  }
}

/** @param {Element[]} places @param {string} location */
function nearest(places, location) {
  const at = (/** @type {Element} */ e) => e.getAttribute('data-at') || e.getAttribute('name') || '';
  return places
    .filter((e) => at(e) && (location === at(e) || location.startsWith(`${at(e)}.`) || location.startsWith(`${at(e)}[`)))
    .sort((a, b) => at(b).length - at(a).length)[0];
}

/** A plain input in a table. @param {HTMLElement} cell @param {string} message */
function markCell(cell, message) {
  const id = freshId('cell-error');
  cell.setAttribute('aria-invalid', 'true');
  cell.setAttribute('aria-describedby', id);
  cell.after(h('p', { class: 'error of-cell', id }, message));
}

/** `is empty; write something` → `Is empty; write something.` @param {string} text */
function sentence(text) {
  const capital = text.charAt(0).toUpperCase() + text.slice(1);
  return /[.!?]$/.test(capital) ? capital : `${capital}.`;
}
