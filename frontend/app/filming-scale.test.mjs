import { test } from 'node:test';
import assert from 'node:assert/strict';
import { place } from './filming-scale.js';

test('a scale keeps its ends and its middle', () => {
  const x = place(0, 20, 100, 300);
  assert.deepEqual([0, 10, 20].map(x), [100, 200, 300]);
});

test('a range without length does not divide by zero', () => {
  assert.equal(place(3, 3, 100, 300)(3), 100);
});
