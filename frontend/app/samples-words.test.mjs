import test from 'node:test';
import assert from 'node:assert/strict';
import { sayWorked, sayHolder, sayPlace } from './samples-words.js';

const run = [['a', 'Hem', 'aired'], ['b', 'Yoke', 'unrecorded']].map(([id, title, state], i) => ({ id, title, state, position: i + 1 }));

test('sayWorked', () => {
  assert.equal(sayWorked('b', 'two rows further', run), 'worked through 2, Yoke; two rows further');
  assert.equal(sayWorked(null, '', run), 'not worked through the first installment');
  assert.equal(sayWorked(null, 'whole, washed', run), 'whole, washed');
  assert.equal(sayWorked('a', '', run, 'Yoke: row 12'), 'worked to Yoke: row 12');
});
test('sayPlace looks the point up', () => {
  const shelf = { run, stateWords: (id) => (id === 'p' ? 'Yoke: row 12' : '') };
  assert.equal(sayPlace({ worked_through: 'a', state_id: 'p', worked_note: 'and a bit' }, shelf), 'worked to Yoke: row 12; and a bit');
  assert.equal(sayPlace({ worked_through: 'a', state_id: null, worked_note: '' }, shelf), 'worked through 1, Hem');
});
test('sayHolder', () => {
  assert.equal(sayHolder({ held_by: { handle: 'mabel' }, held_note: 'until Friday' }), 'with mabel, until Friday');
  assert.equal(sayHolder({ held_by: null, held_note: '' }), 'nobody is noted');
});
