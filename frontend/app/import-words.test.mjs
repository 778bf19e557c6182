import test from 'node:test';
import assert from 'node:assert/strict';
import { fieldsOf, readHeader, sayField, sayRow, sayPlan, sayDone, badFirst, overrides } from './import-words.js';

const preview = (rows) => ({ columns: [], mapping: {}, rows, good: rows.filter((r) => !r.problem).length, bad: rows.filter((r) => r.problem).length });
const rows = [{ line: 2, state: 'new' }, { line: 3, problem: 'has no handle' }, { line: 4, state: 'same' }];

test('sayField: a point keeps its own name', () => assert.deepEqual(['handle', 'point:upper arm', 'points.bust', 'applied_at'].map(sayField), ['Handle', 'upper arm', 'bust', 'When they offered']));
test('sayRow: the problem, or what would happen', () => assert.deepEqual(rows.map(sayRow), ['new', 'has no handle', 'same as here']));
test('sayPlan: counts what would be new and the same, and names the bad ones', () => {
  assert.equal(sayPlan(preview(rows)), '2 good rows: 1 new, 1 the same. One row can’t be taken; it stands first.');
});
test('sayPlan: all good', () => assert.equal(sayPlan(preview([{ line: 2, state: 'changed' }])), 'One good row: 1 changed.'));
test('badFirst: keeps the order of lines within each kind', () => assert.deepEqual(badFirst(rows).map((r) => r.line), [3, 2, 4]));
test('sayDone: says what was left out', () => {
  assert.equal(sayDone({ created: 3, changed: 0, same: 1, skipped: [{ line: 3, problem: 'x' }] }), '3 added, 0 changed, 1 left as they were, one row left out.');
});
test('overrides: only what differs from what was found', () => {
  assert.deepEqual(overrides({ handle: 'Handle', email: 'Mail' }, { handle: 'Handle', email: '', unit: 'Units' }), { email: '', unit: 'Units' });
});
const headers = [
  ['commas', 'Handle,Sizes\nnewt,1', ['Handle', 'Sizes']],
  ['semicolons, with a comma in a name', 'Handle;"Sizes, best first";Units\r\n', ['Handle', 'Sizes, best first', 'Units']],
  ['tabs', 'Handle\tSizes', ['Handle', 'Sizes']],
  ['quotes within quotes', '"the ""handle""",x', ['the "handle"', 'x']],
  ['a byte order mark and an empty line first', '\uFEFF\nHandle,Size', ['Handle', 'Size']],
  ['nothing', '', []],
];
for (const [name, text, want] of headers) test(`readHeader: ${name}`, () => assert.deepEqual(readHeader(text), want));
test('fieldsOf: reports have a column for each point', () => {
  assert.ok(fieldsOf('reports', [{ name: 'upper arm' }]).includes('point:upper arm'));
  assert.ok(!fieldsOf('applicants', [{ name: 'upper arm' }]).includes('point:upper arm'));
});
