import test from 'node:test';
import assert from 'node:assert/strict';
import { columnsOf, sayValue } from './data-words.js';

test('columns: ids and what is empty everywhere are left out, what names a row stands first', () => {
  const rows = [{ id: '1', note: '', unit: 'cm', point: 'bust', report_id: 'x', hours: null }, { id: '2', note: 'tight', unit: 'cm', point: 'hem', report_id: 'x', hours: null }];
  assert.deepEqual(columnsOf(rows), ['point', 'unit', 'note']);
});

const values = [
  ['nothing', null, '–'], ['an empty text', '', '–'], ['yes', true, 'yes'], ['no', false, 'no'], ['nought', 0, '0'],
  ['a number', 93.71, '93.71'], ['a day', '2027-03-12', '2027-03-12'], ['a moment in the studio’s zone', '2027-02-08T23:30:00Z', '9 Feb 2027, 00:30'],
];
for (const [name, value, want] of values) {
  test(`value: ${name}`, () => assert.equal(sayValue(value, 'Europe/Oslo'), want));
}
