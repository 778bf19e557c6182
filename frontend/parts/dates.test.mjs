import test from 'node:test';
import assert from 'node:assert/strict';
import { sayDay, sayDaysLeft, sayMoment, daysBetween } from './dates.js';

test('sayDay: without the year in the same year', () => assert.equal(sayDay('2027-03-12', '2027-02-01'), 'Fri 12 Mar'));
test('sayDay: with the year in another', () => assert.equal(sayDay('2028-01-03', '2027-12-30'), 'Mon 3 Jan 2028'));
test('sayDay: nothing set', () => assert.equal(sayDay(null), '–'));
test('sayDaysLeft: words where there are words', () => {
  assert.deepEqual([-2, -1, 0, 1, 4].map(sayDaysLeft), ['2 days ago', 'yesterday', 'today', 'tomorrow', 'in 4 days']);
});
test('sayMoment: in the studio\'s zone, not in the reader\'s', () => {
  assert.equal(sayMoment('2027-03-12T23:30:00Z', 'Europe/Berlin'), '13 Mar 2027, 00:30');
});
test('daysBetween: over the end of a leap February', () => assert.equal(daysBetween('2028-02-28', '2028-03-01'), 2));
