import test from 'node:test';
import assert from 'node:assert/strict';
import { changesOf, sayDeed } from './history-words.js';

test('changesOf: only what differs', () => {
  assert.deepEqual(changesOf({ name: 'bust', girth: true }, { name: 'bust', girth: false }), [{ where: 'girth', from: 'yes', to: 'no' }]);
});
test('changesOf: a creation shows what it was made with', () => {
  assert.deepEqual(changesOf(null, { how_to_measure: 'flat' }), [{ where: 'how to measure', from: '', to: 'flat' }]);
});
test('changesOf: a list of plain values is one value, with its gaps', () => {
  assert.deepEqual(changesOf({ values: [1, null] }, { values: [1, 2] }), [{ where: 'values', from: '1, –', to: '1, 2' }]);
});
test('changesOf: goes into things within things and counts places from 1', () => {
  assert.deepEqual(changesOf({ sizes: [{ name: 'S' }] }, { sizes: [{ name: 'XS' }] }), [{ where: 'sizes · 1 · name', from: 'S', to: 'XS' }]);
});
test('changesOf: a revision alone is no change', () => assert.deepEqual(changesOf({ revision: 1 }, { revision: 2 }), []));
test('changesOf: bounded', () => assert.equal(changesOf({}, Object.fromEntries(Array.from({ length: 500 }, (_, i) => [`k${i}`, i]))).length, 60));

for (const [entity, action, says] of [
  ['remark', 'added', 'added a remark'],
  ['assignment', 'withdrawn', 'withdrew an assignment'],
  ['assignment', 'more time given', 'gave a tester more time'],
  ['extension', 'asked', 'asked for more time'],
  ['extension', 'answered', 'answered a wish for more time'],
  ['measure_request', 'taken back', 'took back a wish to measure again'],
  ['installment', 'marked as edited', 'marked an installment as edited'],
  ['correction', 'put into the text', 'put a correction into the text'],
  ['correction', 'taken back to draft', 'took back a correction to draft'],
  ['count sheet', 'changed', 'changed the counts'],
]) test(`sayDeed: ${entity} ${action}`, () => assert.equal(sayDeed(entity, action), says));
