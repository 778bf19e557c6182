import test from 'node:test';
import assert from 'node:assert/strict';
import { places, holder, sayWorked } from './board-size-words.js';

const t = (wanted, assigned, reported, approved) => ({ fewest: 2, wanted, assigned, accepted: assigned, reported, approved });

test('places: one for each wanted, the farthest first', () => {
  assert.deepEqual(places(t(4, 3, 2, 1)), ['approved', 'reported', 'assigned', 'blank']);
});
test('places: more assigned than wanted are shown too', () => assert.equal(places(t(3, 4, 0, 0)).length, 4));
test('places: nobody wanted', () => assert.deepEqual(places(t(0, 0, 0, 0)), []));
test('places: never more than fit', () => assert.equal(places(t(40, 0, 0, 0)).length, 12));
test('holder: by handle, by name, or nobody', () => {
  assert.deepEqual([{ id: '1', handle: 'oda' }, 'oda', null, ''].map(holder), [', with oda', ', with oda', '', '']);
});
test('worked: the state it is in, else what was noted, else the beginning', () => {
  assert.deepEqual([{ worked: 'the end of Sides', worked_note: 'tail left long' }, { worked_note: 'whole, washed' }, {}].map(sayWorked), ['at the end of Sides', 'whole, washed', 'at the beginning']);
});
