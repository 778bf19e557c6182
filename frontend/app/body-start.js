// A body table cut to what the table of sizes takes.
import { sayNumber, CM_PER_INCH } from '../parts/lengths.js';

/** @typedef {{sources: string[], dimensions: string[], rows: {name: string, body: string[]}[]}} Start */

/**
 * A published chart. Its inches are the master, its centimetres exactly 2.54
 * times those; a range gives its lower end, its upper end or its middle.
 * @param {import('../shapes-counts.js').BodyChart} chart @param {'cm'|'in'} unit @param {string} end
 * @returns {Start}
 */
export function fromChart(chart, unit, end) {
  const at = (/** @type {{low: number | null, high: number | null}} */ r) => {
    const [low, high] = [r.low ?? r.high, r.high ?? r.low];
    if (low === null || high === null) return '';
    return sayNumber(end === 'low' ? low : end === 'high' ? high : (low + high) / 2, 2);
  };
  return {
    sources: [...new Set(chart.cells.map((c) => `${c.source.citation} (${c.source.standing})`))],
    dimensions: chart.dimensions.map((d) => d.name),
    rows: chart.sizes.map((size) => ({
      name: size,
      body: chart.dimensions.map((d) => {
        const cell = chart.cells.find((c) => c.size === size && c.dimension === d.id);
        return cell ? at(unit === 'in' ? cell.in : cell.cm) : '';
      }),
    })),
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
  return { sources: [table.source], dimensions, rows: table.sizes.map((s) => ({ name: s.name, body: dimensions.map((d) => say(s.body.find((b) => b.dimension === d)?.length)) })) };
}
