import test from 'node:test';
import assert from 'node:assert/strict';
import { fromChart, fromHeads, fromTable } from './body-start.js';

const source = { citation: 'a chart', standing: 'published' };
const chart = {
  name: 'woman', edition: 'current', sizes: ['Small', 'Medium'], dimensions: [{ id: 'chest', name: 'chest/bust', how: '', source }, { id: 'hips', name: 'hips', how: '', source }],
  cells: [
    { size: 'Small', dimension: 'chest', in: { low: 32, high: 34 }, cm: { low: 81.28, high: 86.36 }, note: '', source },
    { size: 'Medium', dimension: 'chest', in: { low: 36, high: 36 }, cm: { low: 91.44, high: 91.44 }, note: '', source },
  ],
};
test('the middle of a range, in the design\'s unit', () => {
  assert.deepEqual(fromChart(chart, 'in', 'middle').rows, [{ name: 'Small', body: ['33', ''] }, { name: 'Medium', body: ['36', ''] }]);
  assert.deepEqual(fromChart(chart, 'cm', 'middle').rows[0].body, ['83.82', '']);
});
test('either end of a range', () => {
  assert.equal(fromChart(chart, 'in', 'low').rows[0].body[0], '32');
  assert.equal(fromChart(chart, 'in', 'high').rows[0].body[0], '34');
});
test('the source comes along, once', () => assert.deepEqual(fromChart(chart, 'cm', 'low').sources, ['a chart (published)']));
test('a table of our own keeps what was typed, and turns the other unit', () => {
  const table = { id: '1', name: 'ours', source: 'measured here', retired: false, revision: 1, sizes: [
    { name: 'one', body: [{ dimension: 'bust', length: { value: 34.5, unit: 'in', cm: 87.63 } }] },
    { name: 'two', body: [{ dimension: 'back', length: { value: 42, unit: 'cm', cm: 42 } }] }] };
  assert.deepEqual(fromTable(table, 'in').rows, [{ name: 'one', body: ['34.5', ''] }, { name: 'two', body: ['', '16.54'] }]);
  assert.deepEqual(fromTable(table, 'cm').rows[0].body, ['87.63', '']);
});
test('heads are those of the current edition', () => {
  const item = (group, edition) => ({ group, edition, in: { low: 14, high: 16 }, cm: { low: 35.56, high: 40.64 }, source });
  const start = fromHeads({ how: 'snug', items: [item('Baby', 'current'), item('Baby', 'older')] }, 'cm', 'middle');
  assert.deepEqual([start.rows, start.how], [[{ name: 'Baby', body: ['38.1'] }], [['head', 'snug']]]);
});
