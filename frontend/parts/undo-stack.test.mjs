import test from 'node:test';
import assert from 'node:assert/strict';
import { UndoStack } from './undo-stack.js';

test('undo and redo walk through the states', () => {
  const u = new UndoStack('a');
  u.note('b');
  u.note('c');
  assert.deepEqual([u.undo(), u.undo(), u.undo()], ['b', 'a', null]);
  assert.deepEqual([u.redo(), u.redo(), u.redo()], ['b', 'c', null]);
});
test('what is typed into one cell is one step', () => {
  const u = new UndoStack('');
  u.note('1', 'cell 0 1');
  u.note('12', 'cell 0 1');
  u.note('122', 'cell 0 1');
  u.note('122 6', 'cell 1 1');
  assert.deepEqual([u.undo(), u.undo(), u.undo()], ['122', '', null]);
});
test('a pause ends the step', () => {
  const u = new UndoStack('');
  u.note('1', 'k');
  u.pause();
  u.note('12', 'k');
  assert.equal(u.undo(), '1');
});
test('something new forgets what was undone', () => {
  const u = new UndoStack('a');
  u.note('b');
  u.undo();
  u.note('c');
  assert.equal(u.redo(), null);
  assert.equal(u.undo(), 'a');
});
test('what changes nothing is no step', () => {
  const u = new UndoStack('a');
  u.note('a');
  assert.equal(u.canUndo, false);
});
test('it keeps a bounded number of states', () => {
  const u = new UndoStack('0');
  for (let i = 1; i <= 500; i += 1) u.note(String(i));
  let n = 0;
  while (u.undo() !== null) n += 1;
  assert.equal(n, 100);
});
