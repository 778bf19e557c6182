import test from 'node:test';
import assert from 'node:assert/strict';
import { sayShare, sayDifference, stateOf, atOwnGauge, stripOf, sayPercent } from './report-words.js';

const cell = (given = {}) => ({
  point_id: 'p', point: 'bust', axis: 'stitch', expected_cm: 100, expected_own_cm: 105, measured: { value: 106, unit: 'cm', cm: 106 },
  difference_cm: 6, explained_cm: 5, residual_cm: 1, share_percent: 83.3, within: false, sentence: '', warnings: [], ...given });

const shares = [
  ['most of it', {}, 'the gauge explains 83 %, 1 cm left'],
  ['all of it', { share_percent: 100, residual_cm: 0 }, 'the gauge explains all of it'],
  ['none of it', { share_percent: 0, residual_cm: 6 }, 'the gauge explains none of it, 6 cm left'],
  ['no swatch', { expected_own_cm: null, share_percent: null, residual_cm: null }, 'no swatch to tell why'],
  ['no swatch and no need', { expected_own_cm: null, share_percent: null, within: true }, 'within tolerance'],
  ['too small a difference to share out', { share_percent: null, within: true }, 'within tolerance'],
  ['a gauge that points the other way', { share_percent: null, residual_cm: 9 }, 'the gauge doesn’t explain it, 9 cm left'],
  ['a size without the count', { difference_cm: null }, 'nothing to compare with'],
];
for (const [name, given, want] of shares) test(`sayShare: ${name}`, () => assert.equal(sayShare(cell(given), 'cm'), want));

test('sayDifference: signed, in the reader’s unit', () => {
  assert.deepEqual([sayDifference(2.54, 'in'), sayDifference(-2.5, 'cm'), sayDifference(0.01, 'cm'), sayDifference(null, 'cm')], ['+1 in', '−2.5 cm', '0 cm', '–']);
});
test('stateOf: what the gauge leaves decides, and a likely slip is one', () => {
  assert.equal(stateOf(cell(), 2), 'within');
  assert.equal(stateOf(cell(), 0.5), 'outside');
  assert.equal(stateOf(cell({ residual_cm: null, within: false }), 20), 'outside');
  assert.equal(stateOf(cell({ warnings: [{}] }), 2), 'slip');
});
test('atOwnGauge: the measurement with the gauge taken out; as measured without a swatch', () => {
  assert.ok(Math.abs(atOwnGauge(cell()) - 100.952) < 1e-3);
  assert.equal(atOwnGauge(cell({ expected_own_cm: null })), 106);
});
test('stripOf: around what the size is meant to measure', () => {
  const strip = stripOf(cell(), { tolerance: { cm: 2 }, intended: [{ size_id: 's', length: { cm: 101 } }] }, 's', 'gorse');
  assert.deepEqual([strip.intended_cm, strip.expected_cm, strip.low_cm, strip.high_cm, strip.marks[0].state], [101, 100, 99, 103, 'within']);
});
test('sayPercent', () => assert.deepEqual([sayPercent(7.14, 'stitches'), sayPercent(-3, 'rows'), sayPercent(null, 'rows'), sayPercent(0.01, 'rows')], ['stitches +7.1 %', 'rows −3 %', 'rows not told', 'rows as the design’s']));
