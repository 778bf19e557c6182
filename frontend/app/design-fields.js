import { h } from '../parts/h.js';
import '../parts/form-field.js';
import '../parts/gauge-field.js';
import { readNumber } from '../parts/lengths.js';
import { CRAFTS, AUDIENCES, TERMS, UNITS } from './words.js';

/** @typedef {import('../shapes.js').Design} Design */

/**
 * The fields of a design, empty for a new one.
 * @param {Design | null} d
 */
export function designFields(d) {
  return [
    h('form-field', { name: 'name', label: 'Name', required: true, maxlength: 120, autocomplete: 'off', value: d?.name }),
    h('div', { class: 'side' },
      h('form-field', { name: 'craft', label: 'Craft', kind: 'select', quiet: true, '.options': CRAFTS, value: d?.craft }),
      h('form-field', { name: 'audience', label: 'For', kind: 'select', quiet: true, '.options': AUDIENCES, value: d?.audience }),
      h('form-field', { name: 'terms', label: 'Written in', kind: 'select', quiet: true, '.options': TERMS, value: d?.terms }),
      h('form-field', { name: 'unit', label: 'Lengths in', kind: 'select', quiet: true, '.options': UNITS, value: d?.unit })),
    h('gauge-field', { name: 'gauge', label: 'Gauge', required: true, hint: 'After washing, as it will be printed. 4 in and 10 cm are not the same span.', ...(d ? { '.value': d.gauge } : {}) }),
    h('form-field', { name: 'yarn', label: 'Yarn', maxlength: 200, hint: 'Weight and fibre, metres and grams per ball.', value: d?.yarn }),
    h('div', { class: 'side' },
      h('form-field', { name: 'tool', label: 'Hook or needle', maxlength: 120, value: d?.tool }),
      h('form-field', { name: 'tool_mm', label: 'Its size in mm', inputmode: 'decimal', value: d?.tool_mm ?? undefined })),
    h('form-field', { name: 'grouping', label: 'Sizes in each bracket', maxlength: 60, hint: '1,3,3,2 prints 72 (80, 88, 96) (104, 112, 120) (128, 136). Left empty: all but the first in one bracket.', value: d?.grouping }),
    h('form-field', { name: 'note', label: 'Note', kind: 'area', value: d?.note }),
  ];
}

/**
 * The fields' values as the API takes them.
 * @param {Record<string, any>} values @param {boolean} creating an absent tool size is left out instead of null
 */
export function designBody(values, creating) {
  const typed = String(values.tool_mm ?? '').trim();
  const { tool_mm: _, ...rest } = values;
  const mm = typed === '' ? null : readNumber(typed);
  if (typed !== '' && mm === null) throw new Error('The size of the hook or needle is not a number of millimetres.');
  return creating && mm === null ? rest : { ...rest, tool_mm: mm };
}
