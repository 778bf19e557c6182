// A body table cut to what the table of sizes takes.
import { sayNumber, CM_PER_INCH } from '../parts/lengths.js';

/** @typedef {{sources: string[], how: [string, string][], dimensions: string[], rows: {name: string, body: string[]}[]}} Start */
/** @typedef {import('../shapes-counts.js').Range} Range */

/** One number of a range: its lower end, its upper end or its middle. @param {Range} r @param {string} end */
function one(r, end) {
  const [low, high] = [r.low ?? r.high, r.high ?? r.low];
  if (low === null || high === null) return '';
  return sayNumber(end === 'low' ? low : end === 'high' ? high : (low + high) / 2, 2);
}

/**
 * A published chart. Its inches are the master, its centimetres exactly 2.54
 * times those; a range gives its lower end, its upper end or its middle.
 * @param {import('../shapes-counts.js').BodyChart} chart @param {'cm'|'in'} unit @param {string} end
 * @returns {Start}
 */
export function fromChart(chart, unit, end) {
  return {
    sources: [...new Set(chart.cells.map((c) => `${c.source.citation} (${c.source.standing})`))],
    how: chart.dimensions.map((d) => [d.name, d.how]),
    dimensions: chart.dimensions.map((d) => d.name),
    rows: chart.sizes.map((size) => ({
      name: size,
      body: chart.dimensions.map((d) => {
        const cell = chart.cells.find((c) => c.size === size && c.dimension === d.id);
        return cell ? one(unit === 'in' ? cell.in : cell.cm, end) : '';
      }),
    })),
  };
}

/**
 * Published head circumferences, the current edition.
 * @param {{how: string, items: {group: string, edition: string, in: Range, cm: Range, source: import('../shapes-counts.js').Source}[]}} heads
 * @param {'cm'|'in'} unit @param {string} end
 * @returns {Start}
 */
export function fromHeads(heads, unit, end) {
  const current = heads.items.filter((x) => x.edition === 'current');
  return {
    sources: [...new Set(current.map((x) => `${x.source.citation} (${x.source.standing})`))], how: [['head', heads.how]], dimensions: ['head'],
    rows: current.map((x) => ({ name: x.group, body: [one(unit === 'in' ? x.in : x.cm, end)] })),
  };
}

/**
 * One of the studio's own tables. @param {import('../shapes-counts.js').BodyTable} table @param {'cm'|'in'} unit
 * @returns {Start}
 */
export function fromTable(table, unit) {
  const dimensions = [...new Set(table.sizes.flatMap((s) => s.body.map((b) => b.dimension)))];
  const say = (/** @type {{value: number, unit: string, cm: number} | undefined} */ l) => {
    if (!l) return '';
    return l.unit === unit ? sayNumber(l.value, 4) : sayNumber(unit === 'in' ? l.cm / CM_PER_INCH : l.cm, 2);
  };
  return { sources: [table.source], how: [], dimensions, rows: table.sizes.map((s) => ({ name: s.name, body: dimensions.map((d) => say(s.body.find((b) => b.dimension === d)?.length)) })) };
}
