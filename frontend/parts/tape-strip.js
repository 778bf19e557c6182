import { h, put } from './h.js';
import { bareCM, sayCM } from './lengths.js';
import { drawTape } from './tape-draw.js';
import { describe, halfSpan, middle, expectedGrown } from './tape-scale.js';
import { FittedElement } from './fitted-element.js';

/** @typedef {import('../shapes.js').Strip} Strip */
/** @typedef {import('../shapes.js').Mark} Mark */

const SMALL_PX = 190; // drawn at this width until it is known

/** @type {Record<string, string>} */
const STATES = { within: 'within tolerance', outside: 'outside tolerance', slip: 'likely a slip' };

/**
 * `<tape-strip>`: a ruler in the point's own scale. The intended value is the
 * long mark, the tolerance a band, what the counts give a dashed line (both moved
 * by the fabric's growth where that is known), and each report a mark at the
 * tester's own gauge; samples lie below the ruler.
 *
 * Set `.strip`, `.point` (its name), `.size` (its name) and `.unit`; `.half`
 * when several strips share one scale; `.href` for where a mark leads. Small,
 * it is a button that opens the large form; with the attribute `large` it is a
 * figure with linked marks and its numbers in a table (`bare` leaves the table out,
 * where the numbers stand beside it). Style sheet `tape-strip`.
 */
export class TapeStrip extends FittedElement {
  /** @type {Strip | null} */ strip = null;
  point = '';
  size = '';
  /** @type {'cm'|'in'} */ unit = 'cm';
  half = 0;
  /** @type {(m: Mark) => string | null} */ href = () => null;

  draw() {
    const strip = this.strip;
    if (!strip) { put(this); return; }
    const large = this.hasAttribute('large');
    const svg = drawTape(strip, {
      unit: this.unit, large, href: this.href, half: this.half || halfSpan([strip]),
      width: this.fitted(large ? 600 : SMALL_PX),
    });
    const words = describe(strip, this.point, this.size, this.unit);
    const held = this.contains(document.activeElement);
    if (large) put(this, h('figure', {}, svg, h('figcaption', {}, words)), this.hasAttribute('bare') ? null : marksTable(this));
    else put(this, h('button', { type: 'button', class: 'tape-button', 'aria-label': words, onclick: () => this.#enlarge() }, svg));
    if (held) this.querySelector('button')?.focus();
  }

  async #enlarge() {
    const { showTape } = await import('./tape-dialog.js');
    showTape(this);
  }
}
customElements.define('tape-strip', TapeStrip);

/** The numbers behind the marks. @param {TapeStrip} t */
export function marksTable(t) {
  const strip = /** @type {Strip} */ (t.strip);
  const expected = expectedGrown(strip) ?? middle(strip);
  if (strip.marks.length === 0) return h('p', { class: 'soft' }, 'Nobody has measured this yet.');
  /** @type {[string, boolean][]} */
  const heads = [['Who', false], ['Measured', true], ['At own gauge', true], ['Off by', true], ['Reads as', false]];
  return h('table', { class: 'marks', role: 'table' },
    h('thead', { role: 'rowgroup' }, h('tr', { role: 'row' }, heads.map(([words, num]) => h('th', { role: 'columnheader', scope: 'col', class: num ? 'num' : undefined }, words)))),
    h('tbody', { role: 'rowgroup' }, strip.marks.map((m) => {
      const href = t.href(m);
      const who = m.handle || `sample: ${m.label}`;
      const figures = [sayCM(m.measured_cm, t.unit), sayCM(m.at_cm, t.unit), expected === null ? '–' : bareCM(m.at_cm - expected, t.unit)];
      return h('tr', { role: 'row' },
        h('th', { role: 'rowheader', scope: 'row' }, href ? h('a', { href }, who) : who),
        figures.map((f, i) => h('td', { role: 'cell', class: 'num', 'data-label': heads[i + 1][0] }, f)),
        h('td', { role: 'cell' }, h('span', { class: m.state === 'within' ? 'soft' : 'pin' }, STATES[m.state] || m.state), m.sentence ? ` · ${m.sentence}` : ''));
    })));
}
