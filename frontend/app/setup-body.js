// Body tables as starting points for the sizes: published charts and the
// studio's own, each with its source on the screen.
import { h, put } from '../parts/h.js';
import { openDialog, openForm } from '../parts/open-dialog.js';
import '../parts/form-field.js';
import * as api from './api.js';
import { sayError } from './problem.js';
import { announce } from './shell.js';
import { fromChart, fromHeads, fromTable } from './body-start.js';

/** @typedef {import('../shapes-counts.js').BodyChart} BodyChart */
/** @typedef {import('../shapes-counts.js').BodyTable} BodyTable */
/** @typedef {import('./body-start.js').Start} Start */
/** @typedef {{words: string, start: (end: string) => Start, ranged: boolean, own?: BodyTable}} Offered */

/**
 * Offers the tables; `take` gets the chosen sizes with lengths in the design's unit.
 * @param {import('../shapes.js').Design} design @param {AbortSignal} gone @param {(start: Start) => void} take
 */
export async function chooseBody(design, gone, take) {
  const body = h('div', {}, h('p', { class: 'soft' }, 'One moment.'));
  const dialog = openDialog('Start from a body table', gone, body);
  dialog.classList.add('wide-dialog');
  try {
    const [{ items: charts }, heads, own] = await Promise.all([api.get('/standards/body-charts', { signal: gone }), api.get('/standards/head-sizes', { signal: gone }), api.all('/body-tables', { signal: gone })]);
    /** @type {Offered[]} */
    const tables = [
      ...charts.map((/** @type {BodyChart} */ c) => ({ words: `${c.name}${c.edition === 'current' ? '' : `, ${c.edition} edition`}`, start: (/** @type {string} */ end) => fromChart(c, design.unit, end), ranged: true })),
      { words: 'heads', start: (end) => fromHeads(heads, design.unit, end), ranged: true },
      ...own.filter((/** @type {BodyTable} */ t) => !t.retired).map((/** @type {BodyTable} */ t) => ({ words: `${t.name} (our own)`, start: () => fromTable(t, design.unit), ranged: false, own: t })),
    ];
    draw(tables, Math.max(0, charts.findIndex((/** @type {BodyChart} */ c) => c.name === design.audience && c.edition === 'current')));
  } catch (err) {
    put(body, h('p', { class: 'pin', role: 'alert' }, sayError(err)));
  }

  /** @param {Offered[]} tables @param {number} first */
  function draw(tables, first) {
    const table = h('select', { id: 'body-table', onchange: show }, tables.map((t, i) => h('option', { value: i }, t.words)));
    table.value = String(first);
    const end = h('select', { 'aria-label': 'Of a range', onchange: show }, [['middle', 'middle of a range'], ['low', 'lower end of a range'], ['high', 'upper end of a range']].map(([v, w]) => h('option', { value: v }, w)));
    const shown = h('div', {});
    put(body, h('label', { for: 'body-table' }, 'Table'), h('div', { class: 'acts' }, table, end), shown);
    show();

    function show() {
      const chosen = tables[Number(table.value)];
      end.hidden = !chosen.ranged;
      const start = chosen.start(end.value);
      const ticks = (/** @type {string[]} */ names, /** @type {string} */ what) => names.map((n) => h('input', { type: 'checkbox', '.checked': true, 'aria-label': `${what} ${n}` }));
      const [rows, columns] = [ticks(start.rows.map((r) => r.name), 'Take size'), ticks(start.dimensions, 'Take')];
      put(shown,
        h('p', { class: 'soft' }, `Source: ${start.sources.join('; ')}. Lengths in ${design.unit}. A starting point: check it against the people you design for.`),
        h('div', { class: 'wide' }, h('table', { class: 'grid' },
          h('thead', {}, h('tr', {}, h('th', { scope: 'col' }, 'Size'), start.dimensions.map((d, i) => h('th', { scope: 'col', class: 'num' }, h('label', {}, columns[i], ` ${d}`))))),
          h('tbody', {}, start.rows.map((r, k) => h('tr', {}, h('th', { scope: 'row' }, h('label', {}, rows[k], ` ${r.name}`)), start.dimensions.map((_, i) => h('td', { class: 'num' }, r.body[i] || '–'))))))),
        start.how.length ? h('details', {}, h('summary', {}, 'How each is measured'), h('dl', { class: 'pairs' }, start.how.map(([name, how]) => [h('dt', {}, name), h('dd', {}, how)]))) : null,
        h('div', { class: 'acts' }, h('button', { type: 'button', class: 'main', onclick: () => {
          const wanted = start.dimensions.flatMap((_, i) => (columns[i].checked ? [i] : []));
          dialog.close();
          take({ ...start, dimensions: wanted.map((i) => start.dimensions[i]), rows: start.rows.filter((_, k) => rows[k].checked).map((r) => ({ name: r.name, body: wanted.map((i) => r.body[i]) })) });
        } }, 'Add these sizes'),
        chosen.own ? h('button', { type: 'button', onclick: () => retire(/** @type {BodyTable} */ (chosen.own), shown) }, 'Offer this table no longer') : null));
    }
  }
}

/** @param {BodyTable} t @param {HTMLElement} shown */
async function retire(t, shown) {
  try {
    await api.put(`/body-tables/${t.id}`, {
      name: t.name, source: t.source, retired: true,
      sizes: t.sizes.map((s) => ({ name: s.name, body: s.body.map((b) => ({ dimension: b.dimension, value: b.length.value, unit: b.length.unit })) })),
    }, { revision: t.revision });
    put(shown, h('p', { role: 'status' }, `${t.name} is no longer offered. Sizes that were set up from it stay as they are.`));
  } catch (err) {
    put(shown, h('p', { class: 'pin', role: 'alert' }, sayError(err)));
  }
}

/**
 * Keeps the sizes as they are saved as a table of the studio's own.
 * @param {import('../shapes.js').Design} design @param {AbortSignal} gone
 */
export function keepBody(design, gone) {
  openForm({
    title: 'Keep these sizes as a body table', say: 'Keep the table', gone,
    save: ({ name, source }) => api.post('/body-tables', {
      name, source, sizes: design.sizes.map((s) => ({ name: s.name, body: s.body.map((b) => ({ dimension: b.dimension, value: b.length.value, unit: b.length.unit })) })),
    }),
    done: () => announce('The table is kept; it is offered wherever sizes are set up.'),
  }, h('p', {}, 'The sizes as last saved, with their body measurements.'),
  h('form-field', { name: 'name', label: 'Name', required: true, maxlength: 120 }),
  h('form-field', { name: 'source', label: 'Where the numbers come from', kind: 'area', rows: 3, required: true, hint: 'It stands beside the table wherever it is used.' }));
}
