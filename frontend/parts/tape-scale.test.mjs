import test from 'node:test';
import assert from 'node:assert/strict';
import { halfSpan, scale, ticks, rowsOf, describe, expectedGrown, middle } from './tape-scale.js';

const mark = (at_cm, state = 'within', kind = 'report') => ({ at_cm, measured_cm: at_cm, state, kind, sentence: '' });
const strip = (given) => ({ point_id: 'p', intended_cm: 40, expected_cm: 40, tolerance_cm: 1, low_cm: 39, high_cm: 41, growth_cm: null, marks: [], ...given });

test('halfSpan: a clean strip shows two and a half tolerances', () => assert.equal(halfSpan([strip({})]), 2.5));
test('halfSpan: stretches for the farthest mark of any size', () => {
  assert.ok(Math.abs(halfSpan([strip({}), strip({ marks: [mark(36, 'outside')] })]) - 4.48) < 1e-9);
});
test('halfSpan: a slip does not stretch it', () => assert.equal(halfSpan([strip({ marks: [mark(20, 'slip')] })]), 2.5));
test('halfSpan: never more than six tolerances', () => assert.equal(halfSpan([strip({ marks: [mark(20, 'outside')] })]), 6));
test('halfSpan: shows the band to its end, however far growth moves it', () => assert.equal(halfSpan([strip({ growth_cm: 9 })]), 10.25));

test('middle: intended, else expected, else a mark, else nothing', () => {
  assert.equal(middle(strip({})), 40);
  assert.equal(middle(strip({ intended_cm: null, expected_cm: 41 })), 41);
  assert.equal(middle(strip({ intended_cm: null, expected_cm: null, marks: [mark(39)] })), 39);
  assert.equal(middle(strip({ intended_cm: null, expected_cm: null })), null);
});
test('expectedGrown: adds the growth to what the counts give', () => assert.equal(expectedGrown(strip({ growth_cm: 0.6 })), 40.6));

test('scale: the centre lies in the middle and the ends at the margin', () => {
  const s = scale(40, 5, 200, 10);
  assert.deepEqual([s.x(35), s.x(40), s.x(45)], [10, 100, 190]);
});
test('scale: what lies beyond is held at the end and says so', () => {
  const s = scale(40, 5, 200, 10);
  assert.deepEqual(s.held(20), { x: 10, off: -1 });
  assert.deepEqual(s.held(60), { x: 190, off: 1 });
  assert.deepEqual(s.held(40), { x: 100, off: 0 });
});
test('ticks: whole centimetres where half ones would be too close, every fifth long', () => {
  const t = ticks(40, 10, 160, 'cm');
  assert.deepEqual([t[0].value, t.at(-1).value, t.length], [30, 50, 21]);
  assert.deepEqual(t.filter((k) => k.long).map((k) => k.value), [30, 35, 40, 45, 50]);
});
test('ticks: in inches the whole inch is the long one', () => {
  const t = ticks(25.4, 2.54, 160, 'in');
  assert.deepEqual(t.filter((k) => k.long).map((k) => k.value), [9, 10, 11]);
});
test('rowsOf: marks that would touch go to different rows', () => {
  assert.deepEqual(rowsOf([10, 12, 30, 14], 8), [0, 1, 0, 2]);
});
test('describe: says all that is drawn', () => {
  const s = strip({ growth_cm: 0.6, marks: [mark(40), mark(36, 'outside'), mark(20, 'slip'), mark(40, 'within', 'sample')] });
  assert.equal(describe(s, 'upper arm', '6', 'cm'),
    'upper arm, size 6: intended 40 ± 1 cm, the counts give 40 cm, with the fabric\'s growth 40.6 cm. 3 reports: 1 within tolerance, 1 outside, 1 likely a slip. 1 sample: 1 within tolerance.');
});
test('describe: an empty strip', () => {
  assert.equal(describe(strip({ intended_cm: null, expected_cm: null }), 'bust', '1', 'cm'), 'bust, size 1: nothing intended yet.');
});
