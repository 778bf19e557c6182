import { test } from 'node:test';
import assert from 'node:assert/strict';
import { sayClock } from './sheet-clock.js';
import { readTimeCode } from '../parts/time-code.js';

test('the clock reads as a player shows it', () => {
  assert.deepEqual([0, 999, 59_999, 60_000, 3_600_000, 3_723_400].map((ms) => sayClock(ms, false)), ['0:00', '0:00', '0:59', '1:00', '1:00:00', '1:02:03']);
});

test('a stamp is a time code of the same tenth', () => {
  for (const ms of [0, 100, 59_900, 61_300, 3_723_400, 35_999_900]) assert.equal(readTimeCode(sayClock(ms, true)), ms);
  assert.equal(sayClock(-5, true), '0:00');
});
