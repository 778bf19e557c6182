import { h, put } from '../parts/h.js';
import { emptyRule } from './sheet-model.js';

/** @typedef {import('./sheet-model.js').RuleRow} RuleRow */

/**
 * The rules, each with the sizes in which it fails beside it.
 * @param {Element} root @param {import('./counts-editor.js').SheetEditor} editor
 */
export function drawRules(root, editor) {
  const { rules } = editor.typed;
  const fixed = editor.given.readOnly;
  put(root,
    rules.length === 0 ? h('p', { class: 'soft' }, 'None yet. A rule is a statement over the counts that is true for every size, like left_front + back + right_front == body + 2, or a stitch multiple.') : null,
    h('ul', { class: 'plain rules' }, rules.map((rule, r) => row(rule, r, editor))),
    fixed ? null : h('div', { class: 'acts no-print' }, h('button', { type: 'button', onclick: () => {
      rules.push(emptyRule());
      editor.draw();
      /** @type {HTMLElement} */ (root.querySelector('.rules > li:last-child input')).focus();
    } }, 'Add a rule')));
}

/** @param {RuleRow} rule @param {number} r @param {import('./counts-editor.js').SheetEditor} editor */
function row(rule, r, editor) {
  const fixed = editor.given.readOnly;
  const name = rule.name || `rule ${r + 1}`;
  const input = (/** @type {'name'|'expr'|'of'|'plus'} */ key, /** @type {string} */ label, cls = '') => h('input', {
    class: cls, 'aria-label': `${label}, ${name}`, 'data-at': `rules[${r}].${key}`, '.value': rule[key], readonly: fixed, autocomplete: 'off', spellcheck: 'false',
    oninput: (/** @type {any} */ e) => { rule[key] = e.target.value; editor.touched(); },
  });
  const kind = h('select', { 'aria-label': `Kind of ${name}`, disabled: fixed, onchange: (/** @type {any} */ e) => { rule.kind = e.target.value; editor.draw(); editor.touched(); } },
    h('option', { value: 'holds' }, 'is true'), h('option', { value: 'multiple' }, 'is a multiple'));
  kind.value = rule.kind;
  return h('li', {},
    h('div', { class: 'rule' }, input('name', 'Name', 'rule-name'), input('expr', 'Statement', 'rule-expr mono'), kind,
      rule.kind === 'multiple' ? h('span', { class: 'pair' }, 'of', input('of', 'Multiple of', 'short'), 'plus', input('plus', 'Plus', 'short')) : null,
      fixed ? null : h('button', { type: 'button', class: 'plain no-print', 'aria-label': `Take out ${name}`, onclick: () => { editor.typed.rules.splice(r, 1); editor.draw(); editor.touched(); } }, 'Take out')),
    h('div', { 'data-rule': r }));
}
