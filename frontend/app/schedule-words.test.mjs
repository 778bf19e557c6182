import { test } from 'node:test';
import assert from 'node:assert/strict';
import { sayHeldUp, sayLength } from './schedule-words.js';

for (const [name, expected, unit, says] of [
  ['a day that takes no time', 0, 'days', '–'],
  ['hours, up to the next half', 1.29, 'hours', '1.5 h'],
  ['a half hour stays one', 0.5, 'hours', '0.5 h'],
  ['one day', 0.4, 'days', '1 day'],
  ['days', 24.1, 'days', '25 days'],
]) test(`sayLength: ${name}`, () => assert.equal(sayLength(expected, unit), says));

for (const [name, task, says] of [
  ['nothing', { later_days: 0, waits: '', through: '' }, '–'],
  ['another design', { later_days: 1, waits: 'odile is at Pullover (record 3) until 12 March; this waits.', through: '' }, '1 day later: odile is at Pullover (record 3) until 12 March; this waits.'],
  ['what it follows', { later_days: 2, waits: '', through: 'record 2' }, '2 days later, because “record 2” waits'],
  ['hours here and there', { later_days: 2, waits: '', through: '' }, '2 days later: hours for other designs add up'],
]) test(`sayHeldUp: ${name}`, () => assert.equal(sayHeldUp(task), says));
