import test from 'node:test';
import assert from 'node:assert/strict';
import { sayDue, inOrder, sayCountUnit, isOpen, sayTool } from './my-words.js';

const of = (id, state, due_on, days_left) => ({ id, state, due_on, days_left });

test('sayDue: what is left while it is open', () => {
  assert.equal(sayDue(of('a', 'accepted', '2027-03-18', 8), '2027-03-10'), 'due Thu 18 Mar (in 8 days)');
});
test('sayDue: overdue in words', () => {
  assert.equal(sayDue(of('a', 'asked', '2027-03-06', -4), '2027-03-10'), 'due Sat 6 Mar (4 days ago)');
});
test('sayDue: no hurry after the report', () => {
  assert.equal(sayDue(of('a', 'reported', '2027-03-06', -4), '2027-03-10'), 'due Sat 6 Mar');
});
test('isOpen: a withdrawn one expects nothing', () => assert.equal(isOpen(of('a', 'withdrawn', '', 0)), false));
test('inOrder: open ones first, then the nearest day', () => {
  const list = [of('c', 'approved', '2027-01-01', -60), of('b', 'accepted', '2027-04-01', 20), of('a', 'asked', '2027-03-20', 10)];
  assert.deepEqual(inOrder(list).map((x) => x.id), ['a', 'b', 'c']);
});
test('sayCountUnit: one and many, and a row number has none', () => {
  assert.deepEqual([['stitch', 1], ['stitch', 44], ['repeat', 8], ['row_number', 62]].map(([u, v]) => sayCountUnit(u, v)), ['stitch', 'stitches', 'repeats', '']);
});
test('sayTool: its size is said once', () => {
  assert.equal(sayTool('5 mm hook', '5 mm'), '5 mm hook');
  assert.equal(sayTool('2.5 mm hook', '5 mm'), '2.5 mm hook, 5 mm');
  assert.equal(sayTool('hook', '5 mm'), 'hook, 5 mm');
  assert.equal(sayTool('', '5 mm'), '5 mm');
  assert.equal(sayTool('hook', ''), 'hook');
});
