import test from 'node:test';
import assert from 'node:assert/strict';
import { cutText } from './counts-places.js';

test('a place within its line', () => {
  assert.deepEqual(cutText('one\nCh 80 (88), turn\nend', 7, 14), { before: 'Ch ', marked: '80 (88)', after: ', turn' });
});
test('characters, not UTF-16 units', () => {
  assert.deepEqual(cutText('🧶🧶 80 (88)', 3, 10), { before: '🧶🧶 ', marked: '80 (88)', after: '' });
});
test('a whole line that ends as Windows ends it', () => {
  assert.deepEqual(cutText('80 (88)\r\nx', 0, 7), { before: '', marked: '80 (88)', after: '' });
});
