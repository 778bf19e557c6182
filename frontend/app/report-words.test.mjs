import test from 'node:test';
import assert from 'node:assert/strict';
import { sayShare, sayDifference, stateOf, atOwnGauge, stripOf, sayPercent, needsLook } from './report-words.js';

const cell = (given = {}) => ({
  point_id: 'p', point: 'bust', axis: 'stitch', expected_cm: 100, expected_own_cm: 105, measured: { value: 106, unit: 'cm', cm: 106 },
  difference_cm: 6, explained_cm: 5, residual_cm: 1, share_percent: 83.3, within: false, sentence: '', warnings: [], ...given });

const shares = [
  ['all of it', { verdict: 'gauge_explains', share_percent: 100 }, 'the gauge explains all of it'],
  ['enough of it', { verdict: 'gauge_explains' }, 'the gauge explains 83 %, 1 cm left'],
  ['more than all is said as all', { verdict: 'gauge_explains', share_percent: 120 }, 'the gauge explains all of it'],
  ['within what can be told', { verdict: 'within_doubt' }, '1 cm left, no more than tape and swatch can be out'],
  ['a part', { verdict: 'partly_gauge' }, 'the gauge explains 83 %, 1 cm left'],
  ['little', { verdict: 'not_gauge', share_percent: 20, residual_cm: 5 }, 'the gauge explains only 20 %, 5 cm left'],
  ['nothing', { verdict: 'not_gauge', share_percent: 0, residual_cm: -6 }, 'the gauge explains none of it, 6 cm left'],
  ['right by the design, wrong by the own gauge', { verdict: 'against_gauge', residual_cm: -4.3 }, 'as the design, yet 4.3 cm off their own gauge'],
  ['no swatch', { verdict: 'gauge_unknown', expected_own_cm: null, residual_cm: null, share_percent: null }, 'outside tolerance, no swatch to tell why'],
  ['within', { verdict: 'as_promised', within: true }, 'within tolerance'],
  ['readings that contradict', { verdict: 'measure_again' }, 'the readings contradict each other'],
  ['a size without the count', { difference_cm: null }, 'nothing to compare with'],
  ['a sample, which comes without a verdict', {}, 'the gauge explains 83 %, 1 cm left'],
  ['a sample within tolerance', { within: true }, 'within tolerance'],
  ['a sample without a gauge', { expected_own_cm: null, share_percent: null, residual_cm: null }, 'outside tolerance, no swatch to tell why'],
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
test('needsLook: what the gauge leaves, and slips; not what can be explained', () => {
  const of = (verdict, given = {}) => needsLook(cell({ verdict, ...given }));
  assert.deepEqual(['as_promised', 'gauge_explains', 'within_doubt'].map((v) => of(v)), [false, false, false]);
  assert.deepEqual(['partly_gauge', 'not_gauge', 'against_gauge', 'gauge_unknown', 'measure_again'].map((v) => of(v)), [true, true, true, true, true]);
  assert.equal(of('as_promised', { warnings: [{}] }), true);
  assert.equal(of(undefined, { difference_cm: null }), false);
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
