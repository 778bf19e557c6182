import { put, s } from './h.js';
import { sayMakers, sayMetres, yarnScale } from '../app/yarn-words.js';
import { FittedElement } from './fitted-element.js';

/** @typedef {import('../shapes-fit.js').Yarn} Yarn */

const LEFT = 52;
const BOTTOM = 30;
const HEIGHT = 300;

/**
 * `<yarn-draw>`: metres for each size: typical and bound as steps, pieces as
 * marks (testers' solid, samples' open squares, those left out crosses), what
 * is stated as a long mark. Set `.yarn`. The table beside it has the numbers.
 */
export class YarnDraw extends FittedElement {
  /** @type {Yarn | null} */ yarn = null;

  draw() {
    const y = this.yarn;
    if (!y) { put(this); return; }
    const width = this.fitted(640);
    const { most, step } = yarnScale(y);
    const at = (/** @type {number} */ m) => HEIGHT - BOTTOM - (m / most) * (HEIGHT - BOTTOM - 12);
    const wide = (width - LEFT - 8) / Math.max(1, y.sizes.length);
    const svg = s('svg', { viewBox: `0 0 ${width} ${HEIGHT}`, class: 'yarn-drawing', role: 'img', 'aria-label': `Metres for each size: typical, enough for ${sayMakers(y.share)}, each piece, and what is stated. The table below has the numbers.` });
    for (let m = 0; m <= most; m += step) {
      svg.append(s('path', { d: `M${LEFT} ${at(m)}H${width - 4}`, class: m === 0 ? 'axis' : 'line' }),
        s('text', { x: LEFT - 6, y: at(m) + 4, 'text-anchor': 'end' }, sayMetres(m)));
    }
    y.sizes.forEach((z, i) => this.#size(svg, y, i, LEFT + i * wide, wide, at));
    put(this, svg);
  }

  /** @param {SVGElement} svg @param {Yarn} y @param {number} i @param {number} x @param {number} wide @param {(m: number) => number} at */
  #size(svg, y, i, x, wide, at) {
    const z = y.sizes[i];
    const [a, b, middle] = [x + wide * 0.08, x + wide * 0.92, x + wide / 2];
    svg.append(s('text', { x: middle, y: HEIGHT - 10, 'text-anchor': 'middle', class: 'size' }, z.size.length * 7 > wide ? z.size.slice(0, Math.max(1, Math.floor(wide / 7))) : z.size));
    if (z.typical_metres !== null && z.upper_metres !== null) {
      svg.append(s('rect', { x: a, y: at(z.upper_metres), width: b - a, height: at(z.typical_metres) - at(z.upper_metres), class: 'band' }),
        s('path', { d: `M${a} ${at(z.typical_metres)}H${b}`, class: 'typical' }), s('path', { d: `M${a} ${at(z.upper_metres)}H${b}`, class: 'upper' }));
    }
    if (z.stated) svg.append(s('path', { d: `M${x + 2} ${at(z.stated.metres)}H${x + wide - 2}`, class: `stated ${z.short ? 'short' : ''}` }));
    const pieces = y.pieces.filter((p) => p.size_id === z.size_id && p.at_design_metres > 0);
    pieces.forEach((p, k) => svg.append(mark(p, a + ((k + 1) * (b - a)) / (pieces.length + 1), at(p.at_design_metres))));
  }
}
customElements.define('yarn-draw', YarnDraw);

/** @param {import('../shapes-fit.js').YarnPiece} p @param {number} x @param {number} y */
function mark(p, x, y) {
  const title = s('title', {}, `${p.who}: ${sayMetres(p.at_design_metres)}`);
  if (p.outlier) return s('path', { d: `M${x - 5} ${y - 5}l10 10M${x + 5} ${y - 5}l-10 10`, class: 'out' }, title);
  if (p.kind === 'sample') return s('path', { d: `M${x - 4} ${y - 4}h8v8h-8z`, class: 'sample' }, title);
  return s('circle', { cx: x, cy: y, r: 4, class: 'piece' }, title);
}
