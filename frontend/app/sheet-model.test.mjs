import test from 'node:test';
import assert from 'node:assert/strict';
import { readCell, typedFrom, sheetBody, namesIn, placeFindings } from './sheet-model.js';

for (const [text, want] of [['122', 122], [' 12,5 ', 12.5], ['', null], ['–', null], ['-', null], ['--', null], ['x', null], ['n/a', null], ['N/A', null], ['12 sts', undefined], ['-4', undefined], ['0', 0]]) {
  test(`readCell: ${JSON.stringify(text)}`, () => assert.equal(readCell(text), want));
}

const sheet = {
  counts: [{ id: '1', name: 'body', unit: 'stitch', note: '', values: [122, 134, null] }, { id: '2', name: 'back', unit: 'stitch', note: 'panel', values: [62, 68, 76] }],
  rules: [{ id: '3', name: 'shell repeat', kind: 'multiple', expr: 'body', of: 4, plus: 2 }, { id: '4', name: 'panels', kind: 'holds', expr: 'back * 2 == body + 2', of: null, plus: null }],
};
test('sheetBody: gives back what was read', () => {
  assert.deepEqual(sheetBody(typedFrom(sheet)), {
    counts: [{ name: 'body', unit: 'stitch', note: '', values: [122, 134, null] }, { name: 'back', unit: 'stitch', note: 'panel', values: [62, 68, 76] }],
    rules: [{ name: 'shell repeat', kind: 'multiple', expr: 'body', of: 4, plus: 2 }, { name: 'panels', kind: 'holds', expr: 'back * 2 == body + 2' }],
  });
});
test('sheetBody: names every cell that can\'t be read', () => {
  const typed = typedFrom(sheet);
  typed.counts[0].cells[1] = 'many';
  typed.rules[0].of = '4.5';
  assert.throws(() => sheetBody(typed), (err) => {
    assert.deepEqual([...err.fields.keys()], ['counts[0].values[1]', 'rules[0].of']);
    return true;
  });
});
test('namesIn: names, not numbers', () => assert.deepEqual([...namesIn('left_front + 2*back2 == body')], ['left_front', 'back2', 'body']));
test('placeFindings: a rule marks the cells of all its counts', () => {
  const [p] = placeFindings([{ kind: 'rule', name: 'panels', size: '2', message: '' }], typedFrom(sheet), [], [{ name: '1' }, { name: '2' }]);
  assert.deepEqual([p.kind, p.size, p.rows], ['rule', 1, [0, 1]]);
});
test('placeFindings: a step marks its own count', () => {
  const [p] = placeFindings([{ kind: 'step', name: 'back', size: '1', message: '' }], typedFrom(sheet), [], [{ name: '1' }]);
  assert.deepEqual([p.kind, p.size, p.rows], ['count', 0, [1]]);
});
test('placeFindings: a point marks the counts of its expression', () => {
  const [p] = placeFindings([{ kind: 'intended', name: 'bust', size: '1', message: '' }], typedFrom(sheet), [{ name: 'bust', expr: 'body' }], [{ name: '1' }]);
  assert.deepEqual([p.kind, p.rows], ['point', [0]]);
});
test('placeFindings: what is unknown marks nothing', () => {
  const [p] = placeFindings([{ kind: 'rule', name: 'gone', size: '9', message: '' }], typedFrom(sheet), [], [{ name: '1' }]);
  assert.deepEqual([p.size, p.rows], [-1, []]);
});
