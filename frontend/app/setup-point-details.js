import { h, freshId } from '../parts/h.js';

/** @typedef {import('./point-rows.js').PointRow} PointRow */

/**
 * What is needed less often for a point.
 * @param {PointRow} row @param {number} r @param {import('../shapes.js').Design} design
 */
export function pointDetails(row, r, design) {
  const any = /** @type {any} */ (row);
  const field = (/** @type {keyof PointRow} */ key, /** @type {string} */ label, /** @type {string} */ hint, /** @type {Record<string, any>} */ more = {}) => {
    const id = freshId('detail');
    return h('div', {}, h('label', { for: id }, label),
      h('p', { class: 'hint', id: `${id}-hint` }, hint),
      h('input', { id, 'data-at': `points[${r}].${key}`, 'aria-describedby': `${id}-hint`, autocomplete: 'off', '.value': any[key], ...more, oninput: (/** @type {any} */ e) => { any[key] = e.target.value; } }));
  };
  const dimensions = freshId('dimensions');
  const girth = h('input', { type: 'checkbox', '.checked': row.girth, onchange: (/** @type {any} */ e) => { row.girth = e.target.checked; } });
  return h('div', { class: 'side details' },
    field('how_to_measure', 'How to measure', 'Testers read this beside the field.'),
    field('add', `Added, in ${design.unit}`, 'An edging, or a seam taken off (−1).'),
    h('div', {}, h('label', { class: 'tick' }, girth, 'A full round'), h('p', { class: 'hint' }, 'Usually measured flat and doubled: a half width is then recognised as a slip.')),
    field('body_dimension', 'Ease is counted from', 'The body measurement it lies on.', { list: dimensions }),
    h('datalist', { id: dimensions }, [...new Set(design.sizes.flatMap((s) => s.body.map((b) => b.dimension)))].map((d) => h('option', { value: d }))),
    field('ease_low_cm', 'Least ease, cm', 'Finished less body; may be negative.'),
    field('ease_high_cm', 'Most ease, cm', 'Left empty: no bound.'),
    field('repeat', 'Stitch or row repeat', 'The count can only move in steps of this.', { inputmode: 'numeric' }),
    field('repeatability_cm', 'Repeatability, cm', 'How far two honest measurements of one piece differ (standard uncertainty).'));
}
