import { h } from '../parts/h.js';
import { openForm } from '../parts/open-dialog.js';
import '../parts/form-field.js';
import '../parts/entry-form.js';
import * as api from './api.js';
import { announce } from './shell.js';
import { METRES_PER_YARD, sayMakers, sayMetres } from './yarn-words.js';

/** @typedef {import('../shapes-fit.js').Yarn} Yarn */
/** @typedef {import('../shapes-fit.js').YarnSize} YarnSize */

const SHARES = [0.8, 0.9, 0.95, 0.99];

/**
 * The ball, the share of makers, the stitches, and the amount for each size.
 * @param {{view: import('../shapes.js').View, path: string, yarn: Yarn, done: () => Promise<void>}} of
 */
export function editYarn({ view, path, yarn, done }) {
  const unit = /** @type {'m'|'yd'} */ (yarn.sizes.find((z) => z.stated)?.stated?.unit || yarn.ball?.length?.unit || 'm');
  const shares = [...new Set([...SHARES, yarn.share])].sort((a, b) => a - b);
  const number = (/** @type {string} */ name, /** @type {string} */ label, /** @type {number | undefined} */ value, /** @type {string} */ hint) => h('form-field', {
    name, label, kind: 'number', min: 0, step: 'any', inputmode: 'decimal', hint: hint || undefined, '.value': value ?? null });
  const units = h('form-field', { name: 'unit', label: 'Amounts are in', kind: 'select', quiet: true, '.options': [['m', 'metres'], ['yd', 'yards']], '.value': unit });
  const sizes = yarn.sizes.map((z, i) => number(`sizes[${i}].value`, `Size ${z.size}`, z.stated?.value, enough(z)));
  openForm({
    title: 'State the yarn', say: 'Save', gone: view.gone,
    save: async (values) => {
      const body = bodyOf(values, yarn, sizes.map((f) => f.value), units.value);
      await api.put(`${path}/yarn`, body, { revision: yarn.revision });
      announce('The amounts are saved.');
    },
    done,
  },
  h('div', { class: 'yarn-ball' },
    number('ball.length.value', 'Length of a ball', yarn.ball?.length?.value, 'As the label says'), h('form-field', { name: 'ball.length.unit', label: 'In', kind: 'select', quiet: true, '.options': [['m', 'metres'], ['yd', 'yards']], '.value': yarn.ball?.length?.unit || 'm' }),
    number('ball.weight.value', 'Weight of a ball', yarn.ball?.weight?.value, 'So that grams can be read as metres'), h('form-field', { name: 'ball.weight.unit', label: 'In', kind: 'select', quiet: true, '.options': [['g', 'grams'], ['oz', 'ounces']], '.value': yarn.ball?.weight?.unit || 'g' })),
  h('form-field', { name: 'share', label: 'Enough for', kind: 'select', quiet: true, '.options': shares.map((s) => [String(s), sayMakers(s)]), hint: 'Take more where running out is costly.', '.value': String(yarn.share) }),
  h('form-field', { name: 'stitches', label: 'All stitches of a size', maxlength: 500, spellcheck: 'false', hint: 'A formula over the names of counts, like body * body_rows + 2 * upper_arm * sleeve_rows. Only how sizes compare matters.', '.value': yarn.stitches }),
  h('fieldset', {}, h('legend', {}, 'What the text states'), units,
    h('p', {}, h('button', { type: 'button', onclick: () => fill(yarn, sizes, units.value) }, 'Fill in what is enough')), h('div', { class: 'yarn-stated' }, sizes)));
}

/** @param {YarnSize} z */
const enough = (z) => (z.upper_metres === null ? '' : `${sayMetres(z.publish_metres)} are enough${z.balls ? `, ${z.balls} ball${z.balls === 1 ? '' : 's'}` : ''}`);

/** @param {Yarn} yarn @param {any[]} sizes @param {'m'|'yd'} unit */
function fill(yarn, sizes, unit) {
  yarn.sizes.forEach((z, i) => { if (z.publish_metres !== null) sizes[i].value = Math.ceil(unit === 'yd' ? z.publish_metres / METRES_PER_YARD : z.publish_metres); });
  announce('Filled in. Nothing is saved yet.');
}

/** @param {Record<string, any>} v @param {Yarn} yarn @param {(number | null)[]} stated @param {string} unit */
function bodyOf(v, yarn, stated, unit) {
  const part = (/** @type {string} */ name) => (v[`ball.${name}.value`] === null ? null : { value: v[`ball.${name}.value`], unit: v[`ball.${name}.unit`] });
  const [length, weight] = [part('length'), part('weight')];
  return {
    ...((length || weight) && { ball: { ...(length && { length }), ...(weight && { weight }) } }), share: Number(v.share), stitches: v.stitches.trim(),
    sizes: yarn.sizes.map((z, i) => ({ size_id: z.size_id, value: stated[i], unit })).filter((z) => z.value !== null),
  };
}
