import test from 'node:test';
import assert from 'node:assert/strict';
import { sizesFrom, sizesBody } from './size-rows.js';
import { readLength } from '../parts/lengths.js';

const length = (value, unit) => ({ value, unit, cm: unit === 'in' ? value * 2.54 : value });
const design = {
  unit: 'cm',
  sizes: [
    { id: 'a', name: 'S', filmed: false, body: [{ dimension: 'bust', length: length(86, 'cm') }] },
    { id: 'b', name: 'M', filmed: true, body: [{ dimension: 'bust', length: length(38.5, 'in') }, { dimension: 'upper arm', length: length(31, 'cm') }] },
  ],
};
const inCM = (text) => readLength(text, 'cm');

test('sizesFrom: a column for each dimension, a unit only where it is another', () => {
  assert.deepEqual(sizesFrom(design), {
    dimensions: ['bust', 'upper arm'],
    rows: [{ id: 'a', name: 'S', filmed: false, body: ['86', ''] }, { id: 'b', name: 'M', filmed: true, body: ['38.5 in', '31'] }],
  });
});
test('sizesBody: gives back what was read', () => {
  assert.deepEqual(sizesBody(sizesFrom(design), inCM).sizes[1], {
    id: 'b', name: 'M', filmed: true, body: [{ dimension: 'bust', value: 38.5, unit: 'in' }, { dimension: 'upper arm', value: 31, unit: 'cm' }],
  });
});
test('sizesBody: names the cell that can\'t be read', () => {
  const table = sizesFrom(design);
  table.rows[1].body[0] = 'about 90';
  assert.throws(() => sizesBody(table, inCM), (err) => err.fields.has('sizes[1].body[0]') && err.fields.size === 1);
});
test('sizesBody: a measurement needs a name', () => {
  assert.throws(() => sizesBody({ dimensions: [''], rows: [{ name: 'S', filmed: false, body: ['86'] }] }, inCM), (err) => err.fields.has('sizes[0].body[0]'));
});
