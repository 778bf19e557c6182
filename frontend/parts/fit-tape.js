import { put, s } from './h.js';
import { bareCM } from './lengths.js';
import { scale, ticks } from './tape-scale.js';
import { FittedElement } from './fitted-element.js';

/** @typedef {import('../shapes-fit.js').TapeRow} TapeRow */

const MARGIN = 14;
const BASE = 30;

/**
 * `<fit-tape>`: one piece on a tape of its own, whose middle is where a sound
 * piece of this maker would lie (dashed), with the interval in which 19 of 20
 * do as a band, and what was measured as a mark. All tapes of one picture show
 * the same percent to either side (`.half`). Without `.row` it is the picture's
 * head: how far off the finding is (`.estimate`), with its interval
 * (`.interval`), in percent. What it shows stands beside it in words.
 */
export class FitTape extends FittedElement {
  /** @type {TapeRow | null} */ row = null;
  half = 10;
  /** @type {number | undefined} */ estimate = undefined;
  /** @type {[number, number] | null} */ interval = null;
  /** @type {'cm'|'in'} */ unit = 'cm';

  draw() {
    const width = this.fitted(420);
    const svg = s('svg', { viewBox: `0 0 ${width} ${BASE + 18}`, class: 'tape-draw', 'aria-hidden': 'true', focusable: 'false' });
    if (this.row) this.#piece(svg, this.row, width);
    else this.#head(svg, width);
    put(this, svg);
  }

  /** @param {SVGElement} svg @param {number} width */
  #head(svg, width) {
    const on = scale(0, this.half, width, MARGIN);
    ruler(svg, ticks(0, this.half, width - 2 * MARGIN, 'cm', 6), on, width, (v) => `${v > 0 ? '+' : v < 0 ? '−' : ''}${bareCM(Math.abs(v), 'cm')}`);
    svg.append(s('path', { d: `M${on.x(0)} 3V${BASE}`, class: 'tape-expected' }));
    if (this.estimate === undefined) return;
    const tip = on.held(this.estimate).x;
    if (this.interval) {
      const [a, b] = this.interval.map((v) => on.held(v).x);
      svg.append(s('path', { d: `M${a} 8v12M${b} 8v12M${a} 14H${b}`, class: 'fit-interval' }));
    }
    svg.append(arrow(on.x(0), tip, 14));
  }

  /** @param {SVGElement} svg @param {TapeRow} row @param {number} width */
  #piece(svg, row, width) {
    const half = (row.centre * this.half) / 100;
    const on = scale(row.centre, half, width, MARGIN);
    const [low, high] = [on.held(row.low).x, on.held(row.high).x];
    svg.append(s('rect', { x: low, y: 4, width: Math.max(1, high - low), height: BASE - 4, class: 'tape-band' }));
    const unit = row.percent ? 'cm' : this.unit;
    ruler(svg, ticks(row.centre, half, width - 2 * MARGIN, unit, 6), on, width, row.percent ? (v) => bareCM(v - 100, 'cm').replace(/^(?=[1-9])/, '+') : (v) => bareCM(v, unit));
    svg.append(s('path', { d: `M${on.x(row.centre)} 3V${BASE}`, class: 'tape-expected' }));
    if (this.estimate !== undefined && !row.odd) {
      const at = on.held(row.centre * (1 + this.estimate / 100)).x;
      svg.append(s('path', { d: `M${at} 3V${BASE}`, class: 'fit-at' }));
    }
    const at = on.held(row.at);
    svg.append(mark(at.x, 16, row));
    if (at.off) svg.append(s('path', { d: `M${at.off < 0 ? 3 : width - 3} 12l${at.off * 5} 4l${-at.off * 5} 4z`, class: 'tape-beyond' }));
  }
}
customElements.define('fit-tape', FitTape);

/** @param {SVGElement} svg @param {ReturnType<typeof ticks>} list @param {ReturnType<typeof scale>} on @param {number} width @param {(cm: number) => string} say */
function ruler(svg, list, on, width, say) {
  svg.append(s('path', { d: `M3 ${BASE}H${width - 3}`, class: 'tape-base' }));
  let path = '';
  let last = -99;
  for (const t of list) {
    const x = on.x(t.cm);
    path += `M${x.toFixed(1)} ${BASE}v${t.long ? 6 : 3}`;
    if (!t.long || x - last < 40 || x < 12 || x > width - 12) continue;
    last = x;
    svg.append(s('text', { x, y: BASE + 17, class: 'tape-figure', 'text-anchor': 'middle' }, say(t.cm)));
  }
  svg.append(s('path', { d: path, class: 'tape-ticks' }));
}

/** How far the finding is off. @param {number} from @param {number} to @param {number} y */
function arrow(from, to, y) {
  const tip = to > from ? -5 : 5;
  return s('path', { d: `M${from} ${y}H${to}m${tip} -4l${-tip} 4l${tip} 4`, class: 'fit-arrow' });
}

/** Solid within the interval, open outside it, a cross for an odd number. @param {number} x @param {number} y @param {TapeRow} row */
function mark(x, y, row) {
  const r = 6;
  if (row.odd) return s('path', { d: `M${x - r} ${y - r}l${2 * r} ${2 * r}M${x + r} ${y - r}l${-2 * r} ${2 * r}`, class: 'tape-mark slip' });
  const within = row.at >= row.low && row.at <= row.high;
  return within ? s('path', { d: `M${x - r} ${y - r}h${2 * r}l${-r} ${2 * r}z`, class: 'tape-mark within' })
    : s('path', { d: `M${x} ${y - r - 1}l${r} ${r + 1}l${-r} ${r + 1}l${-r} ${-r - 1}z`, class: 'tape-mark outside' });
}
