import { announce } from './shell.js';

/**
 * Copies a text, or leaves it selected where the browser doesn't let us.
 * @param {string} text @param {HTMLInputElement | HTMLTextAreaElement} field that holds it
 */
export async function copyText(text, field) {
  field.select();
  try {
    await navigator.clipboard.writeText(text);
    announce('Copied.');
  } catch {
    announce('The text is selected: copy it with the keyboard or a long press.');
  }
}
