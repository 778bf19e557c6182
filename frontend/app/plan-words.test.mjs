import { test } from 'node:test';
import assert from 'node:assert/strict';
import { changesOf, sayPlan, sayTake, sayChance, saySize, sayRecruit, sentence } from './plan-words.js';

const person = (handle, change) => ({ handle, change });
const plan = (changes, objective) => ({ people: changes.map((c, i) => person(`p${i}`, c)), objective: { short: 0, below_wanted: 0, ...objective } });
const size = (over) => ({ name: '3', fewest: 2, recruit: 0, now: { probability: 0.5 }, then: { probability: 0.9 }, ...over });

test('the plan in one sentence', () => {
  assert.equal(sayPlan(plan(['keep', 'none'])), 'The plan changes nothing; then every size has as many as wanted.');
  assert.equal(sayPlan(plan(['ask', 'ask', 'move', 'release'], { below_wanted: 1 })), 'The plan asks 2 testers, moves one tester and releases one tester; then every size has its fewest and one wanted place stays empty.');
  assert.equal(sayPlan(plan(['ask'], { short: 3, below_wanted: 9 })), 'The plan asks one tester; then the sizes together lack 3 testers of the fewest.');
});

test('changes come by what they are, then by handle', () => {
  const list = [person('zoe', 'ask'), person('ann', 'release'), person('ben', 'ask'), person('cy', 'keep'), person('dan', 'move')];
  assert.deepEqual(changesOf(list).map((p) => p.handle), ['ben', 'zoe', 'dan', 'ann']);
});

test('a button says what it does', () => {
  assert.equal(sayTake([]), 'Nothing ticked');
  assert.equal(sayTake([person('a', 'ask'), person('b', 'ask')]), 'Ask 2');
  assert.equal(sayTake([person('a', 'ask'), person('b', 'move'), person('c', 'release')]), 'Ask 1, move 1 and release 1');
});

test('chances are not rounded into certainty', () => {
  assert.deepEqual([0, 0.001, 0.004, 0.006, 0.5, 0.994, 0.999, 1].map(sayChance), ['0 %', 'under 1 %', 'under 1 %', '1 %', '50 %', '99 %', 'over 99 %', 'certain']);
});

test('a size says how likely it is covered, then and now', () => {
  assert.equal(saySize(size(), 0.9), '90 % for at least 2 reports, 50 % as it is now');
  assert.equal(saySize(size({ fewest: 1, now: { probability: 0.7 }, then: { probability: 0.7 }, recruit: 2 }), 0.9), '70 % for at least one report; 2 newcomers more would make it 90 %');
  assert.equal(saySize(size({ fewest: 0 }), 0.9), 'no report needed');
});

test('whom to recruit', () => {
  assert.equal(sayRecruit([size()]), '');
  assert.equal(sayRecruit([size({ recruit: 2 }), size(), size({ name: '9', recruit: 1 })]), 'To recruit: 2 for size 3 and 1 for size 9.');
});

test('a clause becomes a sentence', () => {
  assert.equal(sentence('sizes 8 and 9 need four reports'), 'Sizes 8 and 9 need four reports.');
  assert.equal(sentence(''), '');
});
