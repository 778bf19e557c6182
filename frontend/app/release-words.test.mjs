import { test } from 'node:test';
import assert from 'node:assert/strict';
import { openedFor, sayEarly, sayWentOut, sayReleaseDay, sayStanding, tallyDays, tallyGates, videoMark } from './release-words.js';

const day = (on, standing, ...done) => ({ on, standing, parts: [{ installment_id: null, title: '', version: 1, shut: [], items: done.map((d) => ({ item: 'text', says: '', done: d, at: null })) }] });

for (const [name, given, heading, standing] of [
  ['a day to come', day('2027-02-12', 'this_week'), 'Fri 12 Feb, in 4 days', 'this week'],
  ['today', day('2027-02-08', 'today'), 'Mon 8 Feb, today', 'to do now'],
  ['a day that is past', day('2027-02-07', 'overdue'), 'Sun 7 Feb, yesterday', 'overdue'],
  ['no day', day(null, 'undated'), 'No day announced', ''],
]) {
  test(name, () => {
    assert.equal(sayReleaseDay(given, '2027-02-08'), heading);
    assert.equal(sayStanding(given), standing);
  });
}

for (const [name, days, says] of [
  ['nothing', [], 'Nothing is announced yet'],
  ['all done', [day('2027-02-01', 'done', true, true)], 'Everything is ticked'],
  ['some left', [day('2027-02-01', 'overdue', true, false), day('2027-02-20', 'later', false)], '2 of 3 still to do, 1 day overdue'],
]) test(`tallyDays: ${name}`, () => assert.equal(tallyDays(days), says));

const gate = (shut, by_hand) => ({ shut, by_hand });
for (const [name, gates, says] of [
  ['all open', [gate(false)], 'every gate is open'],
  ['one shut', [gate(true), gate(false)], '1 gate shut'],
  ['two shut and one by hand', [gate(true), gate(true), gate(false, true)], '2 gates shut, 1 opened by hand'],
]) test(`tallyGates: ${name}`, () => assert.equal(tallyGates(gates), says));

for (const [name, state, out, sends] of [
  ['scheduled already', 'scheduled', true, { aired: true }],
  ['captioned: scheduled along the way', 'captioned', true, { scheduled: true, aired: true }],
  ['not even edited: the server decides', 'recorded', true, { aired: true }],
  ['taken back', 'aired', false, { aired: false }],
]) test(`videoMark: ${name}`, () => assert.deepEqual(videoMark({ state }, out), sends));

for (const [name, n, says] of [
  ['on its day', { aired_at: '2020-02-05T17:00:00Z', air_on: '2020-02-05' }, 'went out 5 Feb 2020, 17:00, announced for Wed 5 Feb'],
  ['without an announced day', { aired_at: '2020-02-05T17:00:00Z', air_on: null }, 'went out 5 Feb 2020, 17:00'],
]) test(`sayWentOut: ${name}`, () => assert.equal(sayWentOut(n, '2020-02-08', 'UTC'), says));

test('of an installment that is out only what was open by hand for it is told, and no shut gate', () => {
  const gates = [{ name: 'Fit', shut: true, opened: null }, { name: 'Cautions', shut: false, opened: { installment_id: 'a' } }, { name: 'Yarn', shut: false, opened: { installment_id: null } }];
  assert.deepEqual(openedFor({ id: 'a', gates }).map((g) => g.name), ['Cautions']);
});

test('the question names the day', () => assert.equal(sayEarly('Ties', '2027-02-12', '2027-02-08'), 'Ties is announced for Fri 12 Feb, in 4 days.'));
