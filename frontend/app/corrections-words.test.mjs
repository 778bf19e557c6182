import test from 'node:test';
import assert from 'node:assert/strict';
import { countChoices, dueTogether, finderChoices, inOrder, sayFound, sayPiece, saySizes, saySource, sayState, sayTold, sayVersions } from './corrections-words.js';

const states = [
  ['a draft is in no version', { state: 'draft', mended: null }, 'draft'],
  ['in the text says of which version', { state: 'in_text', mended: 3 }, 'in the text of version 3'],
  ['announced keeps its version', { state: 'announced', mended: 2 }, 'announced, version 2'],
  ['withdrawn before it was mended', { state: 'withdrawn', mended: null }, 'withdrawn'],
];
for (const [name, c, says] of states) test(name, () => assert.equal(sayState(c), says));

const sizes = [['none is all', [], 'All sizes'], ['one', ['4'], 'Size 4'], ['two', ['4', '5'], 'Sizes 4 and 5'], ['more', ['S', 'M', 'L'], 'Sizes S, M and L']];
for (const [name, list, says] of sizes) test(name, () => assert.equal(saySizes(list), says));

test('who found it is a person before words, and nobody is nothing', () => {
  assert.equal(sayFound({ found_handle: 'burdock', found_words: '' }), 'burdock');
  assert.equal(sayFound({ found_handle: '', found_words: 'a reader' }), 'a reader');
  assert.equal(sayFound({ found_handle: '', found_words: '' }), '');
});

test('where it came from', () => {
  assert.equal(saySource({ finding_key: 'cell-1', remark_id: null }), 'a fit finding');
  assert.equal(saySource({ finding_key: '', remark_id: 'r' }), 'a remark');
  assert.equal(saySource({ finding_key: '', remark_id: null }), 'written by hand');
});

test('versions are said as far as they are known', () => {
  assert.equal(sayVersions({ since: 1, mended: null }), 'wrong since version 1');
  assert.equal(sayVersions({ since: 1, mended: 3 }), 'wrong since version 1, right in version 3');
});

const makers = [{ handle: 'mallow', told: [1], due: [2] }, { handle: 'heddle', told: [], due: [1, 2] }, { handle: 'skein', told: [], due: [] }];
test('who is told and who is not', () => {
  assert.equal(sayTold(1, makers), 'told: mallow; to be told: heddle');
  assert.equal(sayTold(2, makers), 'to be told: mallow, heddle');
  assert.equal(sayTold(3, makers), '');
});

test('who is to be told the same is told together', () => {
  const of = (handle, due, version = 1, call_id = 'c') => ({ handle, due, version, call_id, told: [] });
  const groups = dueTogether([of('a', [1]), of('b', [1, 2]), of('c', []), of('d', [1]), of('e', [1], 2), of('f', [1], 1, 'other')]);
  assert.deepEqual(groups.map((g) => g.makers.map((m) => m.handle).join()), ['a,d', 'b', 'e', 'f']);
});

test('what wants doing comes first', () => {
  const list = [{ number: 1, state: 'announced' }, { number: 2, state: 'withdrawn' }, { number: 3, state: 'draft' }, { number: 4, state: 'announced' }];
  assert.deepEqual(inOrder(list).map((c) => c.number), [3, 4, 1, 2]);
});

const pieces = [
  ['a count in both', { count: 'leg_rounds', before: 86, after: 88 }, 'leg rounds is 88 now, was 86'],
  ['skipped now', { count: 'gusset', before: 86, after: null }, 'gusset was 86; your size skips this line now'],
  ['skipped before', { count: 'gusset', before: null, after: 88 }, 'gusset is 88 now; your size skipped this line before'],
  ['no count', { before: null, after: null }, ''],
];
for (const [name, c, says] of pieces) test(name, () => assert.equal(sayPiece(c, String), says));

test('whoever found it can be kept after they have left', () => {
  const people = [{ id: 'a', handle: 'mallow' }, { id: 'b', handle: 'heddle', disabled_at: '2027-01-01T00:00:00Z' }];
  assert.deepEqual(finderChoices(people, null), [['a', 'mallow']]);
  assert.deepEqual(finderChoices(people, 'b'), [['a', 'mallow'], ['b', 'heddle']]);
});

test('a count that the latest version dropped can be kept', () => {
  assert.deepEqual(countChoices([{ name: 'body' }], ''), [['body', 'body']]);
  assert.deepEqual(countChoices([{ name: 'body' }], 'body'), [['body', 'body']]);
  assert.deepEqual(countChoices([{ name: 'body' }], 'gusset'), [['gusset', 'gusset'], ['body', 'body']]);
});
