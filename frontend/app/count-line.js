// A line of counts as the design writes it, and a way to take it along.
import { h } from '../parts/h.js';
import { announce } from './shell.js';

/** @param {number | null} v */
const say = (v) => (v === null ? '–' : String(v));

/**
 * One value for each size in the trade's notation, as the server prints it:
 * `72 (80, 88, 96) (104, 112)`. The grouping is the design's own, `1,3,2`; one
 * for another number of sizes gives way to a single pair of brackets.
 * @param {(number | null)[]} values @param {string} grouping
 */
export function printLine(values, grouping) {
  if (values.length === 0) return '';
  if (values.length === 1 || (values[0] !== null && values.every((v) => v === values[0]))) return say(values[0]);
  let groups = grouping.split(',').slice(1).map(Number);
  if (groups.reduce((sum, n) => sum + n, 1) !== values.length) groups = [values.length - 1];
  let next = 1;
  return [say(values[0]), ...groups.map((n) => `(${values.slice(next, next += n).map(say).join(', ')})`)].join(' ');
}

/**
 * A button that copies a line.
 * @param {string} name of the count @param {() => string} text
 */
export function copyButton(name, text) {
  const button = h('button', {
    type: 'button', class: 'plain', 'aria-label': `Copy ${name} as a pattern line`,
    onclick: async () => {
      const copied = await copy(text());
      button.textContent = copied ? 'Copied' : 'Copy';
      announce(copied ? `Copied: ${text()}` : 'The browser did not let this be copied; the lines stand below the grid.');
    },
  }, 'Copy');
  return button;
}

/** @param {string} text @returns {Promise<boolean>} */
async function copy(text) {
  try {
    await navigator.clipboard.writeText(text);
    return true;
  } catch {
    return copyOldWay(text); // plain http in a studio's own network has no clipboard
  }
}

/** @param {string} text */
function copyOldWay(text) {
  const back = /** @type {HTMLElement | null} */ (document.activeElement);
  const field = h('textarea', { class: 'unseen', 'aria-hidden': 'true', '.value': text });
  document.body.append(field);
  field.select();
  const done = document.execCommand('copy');
  field.remove();
  back?.focus();
  return done;
}
