import test from 'node:test';
import assert from 'node:assert/strict';
import { readTimeCode, readLasting, sayLasting, writeLasting } from './time-code.js';

const codes = [
  ['minutes and seconds', '12:04', 724_000],
  ['with tenths', '12:04.5', 724_500],
  ['with a decimal comma', '12:04,25', 724_250],
  ['with hours', '1:02:03', 3_723_000],
  ['long takes without hours', '75:00', 4_500_000],
  ['the very start', '0:00', 0],
  ['sixty seconds are none', '12:60', null],
  ['sixty minutes beside hours are none', '1:60:00', null],
  ['a plain number could be either', '12', null],
  ['words', 'near the end', null],
];
for (const [name, text, want] of codes) test(`readTimeCode: ${name}`, () => assert.equal(readTimeCode(text), want));
test('readLasting: a plain number is minutes', () => assert.deepEqual(['25', '25:10', '1:02:03', 'long'].map(readLasting), [1500, 1510, 3723, null]));
test('sayLasting', () => assert.deepEqual([1510, 1500, 40, 0, null].map(sayLasting), ['25 min 10 s', '25 min', '40 s', '0 s', '']));
test('writeLasting: comes back through readLasting', () => {
  for (const seconds of [0, 59, 60, 1510, 7322]) assert.equal(readLasting(writeLasting(seconds)), seconds);
});
