// Hints beside a design's gauge and tool, from the published tables. A hint is
// never an error: the pattern states the gauge that its own stitch wants.
import { h, put } from '../parts/h.js';
import { readNumber } from '../parts/lengths.js';
import * as api from './api.js';

const PAUSE_MS = 400;

/**
 * Watches the fields of a design's form. @param {any} form the entry-form @param {AbortSignal} gone
 * @returns {HTMLElement}
 */
export function designHints(form, gone) {
  const tool = h('p', { class: 'hint', 'aria-live': 'polite' });
  const yarn = h('div', { 'aria-live': 'polite' });
  const select = h('select', { id: 'yarn-class', onchange: () => hintYarn() }, h('option', { value: '' }, 'choose a class'));
  /** @type {any} */
  let timer = 0;
  const soon = () => { clearTimeout(timer); timer = setTimeout(() => { hintTool(); hintYarn(); }, PAUSE_MS); };
  form.addEventListener('input', soon, { signal: gone });
  form.addEventListener('change', soon, { signal: gone });
  fill();
  return h('details', { class: 'hints', open: true }, h('summary', {}, 'Hook, needle and yarn beside the published tables'), tool,
    h('div', { class: 'acts' }, h('label', { for: 'yarn-class' }, 'Yarn class'), select), yarn);

  async function fill() {
    const classes = await ask('/standards/yarn-classes');
    if (!classes) return;
    select.append(...classes.items.map((/** @type {any} */ c) => h('option', { value: c.number }, `${c.number} ${c.name}`)));
    hintTool();
  }

  async function hintTool() {
    const { craft, tool_mm } = form.values;
    const mm = readNumber(String(tool_mm ?? ''));
    if (mm === null || mm <= 0 || mm > 50) { put(tool); return; }
    const near = await ask(`/standards/tools?kind=${craft === 'knit' ? 'needle' : 'hook'}&mm=${mm}`);
    if (!near) return;
    const say = (/** @type {any} */ t) => `${t.mm} mm${t.us ? ` is US ${t.us}` : ''}${t.old_uk ? `, old UK ${t.old_uk}` : ''}`;
    put(tool, `${near.items.length > 1 ? `${mm} mm lies between: ` : ''}${near.items.map(say).join('; ')}. ${[...new Set(near.items.flatMap((/** @type {any} */ t) => [t.us_source?.citation, t.old_uk_source?.citation]).filter(Boolean))].map((s) => `Source: ${s}.`).join(' ')} Letters and numbers differ from maker to maker: the millimetres decide.`);
  }

  async function hintYarn() {
    const { craft, gauge } = form.values;
    if (select.value === '' || !gauge?.stitches || !gauge?.span) { put(yarn); return; }
    const hint = await ask(`/standards/gauge-hint?craft=${craft}&class=${select.value}&stitches=${gauge.stitches}&span=${gauge.span}&unit=${gauge.unit}`);
    if (hint) put(yarn, h('p', { class: hint.place === 'within' ? undefined : 'brass' }, hint.message), h('p', { class: 'soft' }, `Source: ${hint.source.citation} (${hint.source.standing}).`));
  }

  /** No table, no hint: a form works without. @param {string} path */
  async function ask(path) {
    try {
      return await api.get(path, { signal: gone });
    } catch {
      return null;
    }
  }
}
