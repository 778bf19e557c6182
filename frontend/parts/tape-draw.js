import { s } from './h.js';
import { bareCM } from './lengths.js';
import { middle, expectedGrown, scale, ticks, rowsOf } from './tape-scale.js';

/** @typedef {import('../shapes.js').Strip} Strip */
/** @typedef {import('../shapes.js').Mark} Mark */
/**
 * @typedef {object} Look
 * @property {'cm'|'in'} unit
 * @property {number} half of the tape shown, cm
 * @property {number} width px
 * @property {boolean} large
 * @property {((m: Mark) => string | null)} [href] in the large form, where a mark leads
 */

/**
 * Draws a strip: band (moved by the fabric's growth, where it is known), ruler, intended and expected marks, reports above the
 * ruler, samples below it. States differ in shape: within a solid wedge,
 * outside an open diamond, a slip a cross.
 * @param {Strip} strip @param {Look} look
 * @returns {SVGElement}
 */
export function drawTape(strip, look) {
  const { width, large, unit, half } = look;
  const centre = middle(strip);
  const size = large ? 7 : 4.5;
  const on = scale(centre ?? 0, half, width, large ? 22 : 10);
  const held = strip.marks.map((m) => on.held(m.at_cm));
  const reports = strip.marks.map((m, i) => i).filter((i) => strip.marks[i].kind !== 'sample');
  const samples = strip.marks.map((m, i) => i).filter((i) => strip.marks[i].kind === 'sample');
  const rows = rowsOf(reports.map((i) => held[i].x), size * 2.1);
  const deep = large ? Math.max(1, ...rows) : 1;
  const base = (large ? 30 : 12) + size * 2 * (deep + 1);
  const height = base + (large ? 44 : samples.length ? 23 : 19);
  const svg = s('svg', { viewBox: `0 0 ${width} ${height}`, class: 'tape-draw', 'aria-hidden': large && look.href ? undefined : 'true', focusable: 'false' });
  if (centre === null) return svg;

  band(svg, strip, on, base);
  ruler(svg, strip, look, on, base, centre);
  for (const off of new Set(held.map((p) => p.off))) if (off) svg.append(beyond(off < 0 ? 3 : width - 3, base, off));
  lines(svg, strip, on, base, large);
  reports.forEach((i, k) => svg.append(report(strip.marks[i], held[i], base - 3 - size - Math.min(rows[k], deep) * size * 2, size, look)));
  samples.forEach((i) => svg.append(sample(strip.marks[i], held[i], base + size + 2, size, look)));
  svg.append(s('text', { x: on.x(centre), y: height - 2, class: 'tape-value', 'text-anchor': 'middle' }, bareCM(centre, unit)));
  return svg;
}

/** @param {SVGElement} svg @param {Strip} strip @param {ReturnType<typeof scale>} on @param {number} base */
function band(svg, strip, on, base) {
  const from = strip.intended_cm ?? strip.expected_cm;
  if (from === null || !strip.tolerance_cm) return;
  const moved = from + (strip.growth_cm || 0);
  const [a, b] = [on.held(moved - strip.tolerance_cm).x, on.held(moved + strip.tolerance_cm).x];
  svg.append(s('rect', { x: a, y: 3, width: b - a, height: base - 3, class: 'tape-band' }));
}

/** @param {SVGElement} svg @param {Strip} strip @param {Look} look @param {ReturnType<typeof scale>} on @param {number} base @param {number} centre */
function ruler(svg, strip, look, on, base, centre) {
  const { width, large, unit, half } = look;
  svg.append(s('path', { d: `M3 ${base}H${width - 3}`, class: 'tape-base' }));
  let short = '';
  let long = '';
  for (const t of ticks(centre, half, width, unit, large ? 7 : 5)) {
    const x = on.x(t.cm).toFixed(1);
    if (t.long) long += `M${x} ${base}v${large ? 11 : 6}`;
    else short += `M${x} ${base}v${large ? 6 : 3}`;
    if (large && t.long && Math.abs(on.x(t.cm) - on.x(centre)) > 34) svg.append(s('text', { x, y: base + 26, class: 'tape-figure', 'text-anchor': 'middle' }, bareCM(t.cm, unit)));
  }
  svg.append(s('path', { d: short + long, class: 'tape-ticks' }));
}

/** @param {SVGElement} svg @param {Strip} strip @param {ReturnType<typeof scale>} on @param {number} base @param {boolean} large */
function lines(svg, strip, on, base, large) {
  const start = strip.intended_cm ?? strip.expected_cm;
  if (start !== null && strip.growth_cm) growth(svg, on.x(start), on.held(start + strip.growth_cm).x);
  if (strip.intended_cm !== null) svg.append(s('path', { d: `M${on.x(strip.intended_cm)} 1V${base + (large ? 18 : 8)}`, class: 'tape-intended' }));
  const grown = expectedGrown(strip);
  if (grown !== null) svg.append(s('path', { d: `M${on.held(grown).x} 5V${base}`, class: 'tape-expected' }));
}

/** An arrow from what is intended to where the fabric takes it. @param {SVGElement} svg @param {number} from @param {number} to */
function growth(svg, from, to) {
  if (Math.abs(to - from) < 3) return;
  const tip = to > from ? -4 : 4;
  svg.append(s('path', { d: `M${from} 5H${to}m${tip} -3l${-tip} 3l${tip} 3`, class: 'tape-growth' }));
}

/** @param {Mark} m @param {{x: number, off: number}} at @param {number} y @param {number} r @param {Look} look */
function report(m, at, y, r, look) {
  const { x } = at;
  const shape = m.state === 'slip' ? `M${x - r} ${y - r}l${2 * r} ${2 * r}M${x + r} ${y - r}l${-2 * r} ${2 * r}`
    : m.state === 'outside' ? `M${x} ${y - r - 1}l${r} ${r + 1}l${-r} ${r + 1}l${-r} ${-r - 1}z`
      : `M${x - r} ${y - r}h${2 * r}l${-r} ${2 * r}z`;
  return linked(m, look, s('path', { d: shape, class: `tape-mark ${m.state}` }), x, y);
}

/** @param {Mark} m @param {{x: number, off: number}} at @param {number} y @param {number} r @param {Look} look */
function sample(m, at, y, r, look) {
  const k = r * 0.85;
  const cross = m.state === 'within' ? '' : `M${at.x - k} ${y + k}l${2 * k} ${-2 * k}`;
  const shape = `M${at.x - k} ${y - k}h${2 * k}v${2 * k}h${-2 * k}z${cross}`;
  return linked(m, look, s('path', { d: shape, class: `tape-sample ${m.state}` }), at.x, y);
}

/** An arrowhead at the end of the tape: a mark lies beyond it. @param {number} x @param {number} y @param {number} off */
function beyond(x, y, off) {
  return s('path', { d: `M${x} ${y - 4}l${off * 5} 4l${-off * 5} 4z`, class: 'tape-beyond' });
}

/** @param {Mark} m @param {Look} look @param {SVGElement} shape @param {number} x @param {number} y */
function linked(m, look, shape, x, y) {
  const href = look.large && look.href ? look.href(m) : null;
  if (look.large) shape.append(s('title', {}, `${m.handle || m.label}: ${bareCM(m.measured_cm, look.unit)} ${look.unit}`));
  if (!href) return shape;
  return s('a', { href, 'aria-label': `${m.handle || m.label}: ${bareCM(m.measured_cm, look.unit)} ${look.unit}, ${m.state}` },
    s('rect', { x: x - 14, y: y - 12, width: 28, height: 24, class: 'tape-hit' }), shape);
}
