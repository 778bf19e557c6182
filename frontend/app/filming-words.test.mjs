import { test } from 'node:test';
import assert from 'node:assert/strict';
import { sayChance, sayHours, saySpeed } from './filming-words.js';

test('hours are said as somebody would', () => {
  assert.deepEqual([0, 0.01, 0.33, 0.999, 1, 2.54, 12].map(sayHours), ['0 h', '1 min', '20 min', '60 min', '1 h', '2.5 h', '12 h']);
});

test('a speed says where it comes from', () => {
  assert.equal(saySpeed({ stitches_per_hour: 812.4, logged_hours: 3.5, source: 'logged' }), '812 stitches an hour, learned from 3.5 h logged');
  assert.match(saySpeed({ stitches_per_hour: 900, logged_hours: 0, source: 'usual' }), /until hours are logged$/);
});

test('no chance is said to be certain', () => {
  assert.deepEqual([1, 0.996, 0.994, 0.5, 0.004, 0].map(sayChance), ['over 99 %', 'over 99 %', '99 %', '50 %', 'under 1 %', 'under 1 %']);
});
