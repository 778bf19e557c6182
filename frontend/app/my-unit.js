import { h, freshId } from '../parts/h.js';

/**
 * One switch for all the measurements of a form. Empty ones follow it; what was
 * already typed keeps its unit, since it was read from a tape in that unit.
 */
export class UnitSwitch {
  /** @param {'cm'|'in'} unit @param {import('../parts/tape-field.js').TapeField[]} fields */
  constructor(unit, fields) {
    const group = freshId('unit');
    /** @param {'cm'|'in'} value @param {string} words */
    const choice = (value, words) => h('label', {}, h('input', { type: 'radio', name: group, value, '.checked': value === unit, onchange: () => choose(value) }), h('span', {}, words));
    /** @param {'cm'|'in'} value */
    const choose = (value) => { for (const f of fields) if (f.empty()) f.unit = value; };
    this.element = h('fieldset', { class: 'unit-switch' }, h('legend', {}, 'My tape reads'), h('div', {}, choice('cm', 'centimetres'), choice('in', 'inches')));
  }
}
