import test from 'node:test';
import assert from 'node:assert/strict';
import { surveyDimension, usualStep, bodiesOf } from './size-steps.js';

for (const [name, want] of [['bust', 'chest'], ['Chest/bust', 'chest'], ['waist', 'waist'], ['back waist length', undefined], ['hip', 'hips'], ['head circumference', 'head'], ['upper arm', undefined]]) {
  test(`surveyDimension: ${name}`, () => assert.equal(surveyDimension(name), want));
}
for (const [bodies, want] of [[[76, 86, 96], 10], [[76, 81, 91, 101], 10], [[76, 81, 91], 7.5], [[76], null], [[76, 76], null], [[], null]]) {
  test(`usualStep: ${bodies}`, () => assert.equal(usualStep(bodies), want));
}
test('bodiesOf leaves out sizes without the measurement', () => {
  assert.deepEqual(bodiesOf([{ body: [{ dimension: 'bust', length: { cm: 80 } }] }, { body: [] }], 'bust'), [80]);
});
