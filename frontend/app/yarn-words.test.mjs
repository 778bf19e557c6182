import { test } from 'node:test';
import assert from 'node:assert/strict';
import { sayBuy, sayMakers, sayMetres, sayRest, sayStated, yarnScale } from './yarn-words.js';

const size = (/** @type {any} */ of) => ({ size_id: 's', size: '1', stitches: 1, basis: 'testers', made: 0, typical_metres: 400, upper_metres: 470, publish_metres: 480, balls: 4, grams: 200, message: '', stated: null, short: false, ...of });
const piece = (/** @type {any} */ of) => ({ who: 'ash', kind: 'report', id: 'r', size_id: 's', told: null, metres: 410, at_design_metres: 410, ...of });
const yarn = (/** @type {any} */ of) => /** @type {any} */ ({ share: 0.9, sizes: [size({})], pieces: [piece({})], size_matters: false, ball: null, ...of });

test('a share of makers reads as people count', () => {
  assert.deepEqual([0.9, 0.95, 0.99, 0.925].map(sayMakers), ['9 of 10 makers', '19 of 20 makers', '99 of 100 makers', '92.5 % of makers']);
});

test('balls to buy, or metres where no ball is known', () => {
  assert.equal(sayBuy(size({}), yarn({})), '4 balls (200 g) = 480 m');
  assert.equal(sayBuy(size({ balls: null, grams: null, publish_metres: 470 }), yarn({})), '470 m');
  assert.equal(sayBuy(size({ upper_metres: null }), yarn({})), '–');
});

test('a yard is 0.9144 m', () => assert.equal(sayMetres(457.2, 'yd'), '500 yd'));

test('it says what the amounts rest on, samples apart from testers', () => {
  const y = yarn({ pieces: [piece({}), piece({ kind: 'sample' }), piece({ outlier: 'twice' }), piece({ unused: 'grams', metres: 0 })] });
  assert.equal(sayRest(y), 'Enough for 9 of 10 makers, from 1 tester and 1 sample, with 1 left out, each brought to the design’s gauge.');
  assert.match(sayRest(yarn({ pieces: [] })), /nothing can be said yet/);
});

test('what is stated is said with its balls', () => {
  assert.equal(sayStated(size({ stated: { value: 500, unit: 'yd', metres: 457.2 }, stated_balls: 4 })), '500 yd = 4 balls');
  assert.equal(sayStated(size({})), 'nothing stated yet');
});

test('the scale is round and holds every amount', () => {
  assert.deepEqual(yarnScale(yarn({})), { most: 500, step: 100 });
  assert.deepEqual(yarnScale(yarn({ sizes: [size({ upper_metres: 61 })], pieces: [] })), { most: 80, step: 20 });
});
