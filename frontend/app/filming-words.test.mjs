import { test } from 'node:test';
import assert from 'node:assert/strict';
import { sayChance, sayHours, sayPiece, saySpeed, sayTake } from './filming-words.js';

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

test('a take is used as a whole or by its shots', () => {
  const of = (...accepted) => ({ set_aside_at: null, accepted_at: null, shots: accepted.map((a, i) => ({ shot_id: String(i), at: null, until: null, accepted: a })) });
  assert.equal(sayTake(of()), 'not looked through yet');
  assert.equal(sayTake(of(false, false)), 'not looked through yet');
  assert.equal(sayTake(of(true, false)), '1 of 2 shots accepted');
  assert.equal(sayTake(of(true, true)), 'accepted');
  assert.equal(sayTake({ ...of(), accepted_at: '2027-02-08T10:00:00Z' }), 'accepted');
  assert.equal(sayTake({ ...of(true, true), set_aside_at: '2027-02-08T10:00:00Z' }), 'set aside');
});

for (const [name, x, says] of [
  ['a sample that somebody has', { held_by: 'distaff', new: false }, ', which distaff has'],
  ['one still to be made', { held_by: '', new: true }, ', still to be made'],
  ['one still to be made while another stands there', { held_by: '', new: true, spare: 'the butter one' }, ', still to be made (the butter one is there already and can show it too)'],
]) test(`sayPiece: ${name}`, () => assert.equal(sayPiece(x), says));
