import test from 'node:test';
import assert from 'node:assert/strict';
import { sayRecord, sayLack, choicesFor, waitingFirst, bySize, sum } from './testing-words.js';

const slot = (size_id, given = {}) => ({ size_id, fewest: 2, wanted: 3, most: 4, applied: 0, assigned: 3, accepted: 3, reported: 2, approved: 0, ...given });

test('sayRecord', () => {
  assert.deepEqual([[0, 0], [4, 3], [5, 5]].map(([accepted, finished]) => sayRecord({ accepted, finished })), ['no tests before', 'finished 3 of 4', 'finished all 5']);
});
const lacks = [
  ['testers first', { assigned: 0, reported: 0 }, '2 testers too few'],
  ['one tester', { assigned: 1, reported: 1 }, 'one tester too few'],
  ['then reports', { reported: 1 }, 'one more report needed'],
  ['nothing', {}, ''],
  ['too many', { assigned: 6, reported: 5 }, '2 more than the most'],
  ['a size nobody is wanted for', { fewest: 0, wanted: 0, assigned: 0, reported: 0 }, ''],
];
for (const [name, given, want] of lacks) test(`sayLack: ${name}`, () => assert.equal(sayLack(slot('1', given)), want));

test('sum: adds the sizes up', () => {
  assert.deepEqual(sum([slot('1'), slot('2', { assigned: 1, accepted: 0, reported: 0 })]), { wanted: 6, assigned: 4, accepted: 3, reported: 2, approved: 0 });
});
test('choicesFor: what was asked for comes first, in its order, then the rest', () => {
  const got = choicesFor({ sizes: ['3', '1', 'gone'] }, [slot('1'), slot('2', { assigned: 0 }), slot('3')], (id) => id);
  assert.deepEqual(got.map(([id]) => id), ['3', '1', '2']);
  assert.deepEqual(got.map(([, words]) => words), ['size 3: first choice, 3 of 3 taken', 'size 1: second choice, 3 of 3 taken', 'size 2: 0 of 3 taken']);
});
test('waitingFirst: who has no size yet, then who offered first', () => {
  const of = (handle, applied_at, assignment = null) => ({ person: { handle }, applied_at, assignment });
  assert.deepEqual(waitingFirst([of('c', '1', {}), of('b', '3'), of('a', '2')]).map((a) => a.person.handle), ['a', 'b', 'c']);
});
test('bySize: in the order of the sizes, withdrawn at the end of its size', () => {
  const of = (handle, id, state = 'accepted') => ({ person: { handle }, size: { id }, state });
  const list = [of('d', 's10'), of('a', 's2', 'withdrawn'), of('b', 's2')];
  assert.deepEqual(bySize(list, [{ id: 's2' }, { id: 's10' }]).map((a) => a.person.handle), ['b', 'a', 'd']);
});
