import test from 'node:test';
import assert from 'node:assert/strict';
import { sayWorked, sayHolder, passes, warningsFor, goesBack, placeOf } from './samples-words.js';

const run = [['a', 'Hem', 'aired'], ['b', 'Yoke', 'unrecorded'], ['c', 'Neck', 'recorded'], ['d', 'Sleeves', 'unrecorded']]
  .map(([id, title, state], i) => ({ id, title, state, position: i + 1 }));
const sample = (id, worked_through, given = {}) => ({ id, label: id, worked_through, purpose: 'camera', size_id: 's4', retired: false, ...given });
const grey = sample('grey', 'a');

test('placeOf: nothing worked is before the first', () => assert.deepEqual([placeOf(null, run), placeOf('a', run), placeOf('d', run)], [0, 1, 4]));
test('sayWorked', () => {
  assert.equal(sayWorked('b', 'two rows further', run), 'worked through 2, Yoke; two rows further');
  assert.equal(sayWorked(null, '', run), 'not worked through the first installment');
});
test('sayHolder', () => {
  assert.equal(sayHolder({ held_by: { handle: 'mabel' }, held_note: 'until Friday' }), 'with mabel, until Friday');
  assert.equal(sayHolder({ held_by: null, held_note: '' }), 'nobody is noted');
});
const moves = [
  ['through an unrecorded one', 'b', ['b']],
  ['through several', 'd', ['b', 'd']],
  ['nowhere', 'a', []],
  ['back', null, []],
];
for (const [name, to, want] of moves) test(`passes: ${name}`, () => assert.deepEqual(passes(grey, to, run).map((n) => n.id), want));

test('warningsFor: loud when nothing else can show it', () => {
  assert.match(warningsFor(grey, 'b', [grey], run)[0], /^Installment 2, Yoke, is unrecorded\. No other sample/);
});
test('warningsFor: names the sample that still can', () => {
  assert.equal(warningsFor(grey, 'b', [grey, sample('blue', null)], run)[0], 'Installment 2, Yoke, is unrecorded. Before it there is still: blue.');
});
const useless = [['in another size', { size_id: 's1' }], ['for photographs', { purpose: 'photography' }], ['put away', { retired: true }], ['worked past it already', { worked_through: 'c' }]];
for (const [name, given] of useless) {
  test(`warningsFor: a sample ${name} does not help`, () => assert.match(warningsFor(grey, 'b', [grey, sample('blue', null, given)], run)[0], /No other sample/));
}
test('goesBack', () => assert.deepEqual([goesBack(grey, null, run), goesBack(grey, 'a', run), goesBack(grey, 'b', run)], [true, false, false]));
