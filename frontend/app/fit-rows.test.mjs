import { test } from 'node:test';
import assert from 'node:assert/strict';
import { halfOf, otherSizes, rowsFor } from './fit-rows.js';

const line = (/** @type {any} */ of) => ({ report_id: 'r1', assignment_id: 'a1', who: 'ash', size_id: 's1', point_id: 'p', point: 'bust', axis: 'stitch', measured: { value: 90, unit: 'cm', cm: 90 },
  measured_cm: 90, readings: 1, expected_design_cm: 88, expected_own_cm: 90, likely_cm: 90, low_cm: 86, high_cm: 94, odd: false, ...of });
/** @type {any} */
const fit = {
  design: { slug: 'a-b' }, sheet: [{ point_id: 'p', size_id: 's1', size: '1', intended_cm: 90, expected_cm: 93, limit_cm: 0.5 }],
  pieces: [{ report_id: 'r1', who: 'ash', size_id: 's1', size: '1' }, { report_id: 'r2', who: 'birch', size_id: 's1', size: '1' }, { report_id: 'r3', who: 'cedar', size_id: 's2', size: '2' }],
  lines: [line({}), line({ report_id: 'r2', who: 'birch', measured_cm: 45, odd: true }), line({ report_id: 'r3', who: 'cedar', size_id: 's2' }), line({ point_id: 'q', point: 'cuff', axis: 'row', likely_cm: 20, expected_own_cm: 20, measured_cm: 22, low_cm: 19, high_cm: 21 })],
};
const finding = (/** @type {any} */ of) => ({ kind: 'cell', verdict: 'fault', size_id: 's1', size: '1', point_id: 'p', point: 'bust', numbers: { verdict: 'fault' }, ...of });

test('a size and point shows its own pieces, and apart from them the other sizes', () => {
  assert.deepEqual(rowsFor(finding({}), fit, 'cm').map((r) => r.name), ['ash', 'birch']);
  assert.deepEqual(otherSizes(finding({}), fit, 'cm').map((r) => r.name), ['cedar, size 2']);
});

test('an odd number comes first among its neighbours', () => {
  const rows = rowsFor(finding({ kind: 'odd_value', report_id: 'r2' }), fit, 'cm');
  assert.deepEqual(rows.map((r) => [r.name, r.odd, r.off]), [['birch', true, '−50 %'], ['ash', false, '0 %']]);
  assert.equal(rows[0].expected, '90 cm (86 to 94)');
});

test('a point shows everybody, a tester all their points of that direction, a sheet its sizes', () => {
  assert.deepEqual(rowsFor(finding({ kind: 'point' }), fit, 'cm').map((r) => r.name), ['ash, size 1', 'birch, size 1', 'cedar, size 2']);
  assert.deepEqual(rowsFor(finding({ kind: 'tester', report_id: 'r1', axis: 'row' }), fit, 'cm').map((r) => r.name), ['cuff']);
  assert.deepEqual(rowsFor(finding({ kind: 'grading' }), fit, 'in').map((r) => [r.name, r.measured]), [['size 1', '36.61 in']]);
});

test('the fabric shows one mean for each piece, without odd numbers', () => {
  const rows = rowsFor(finding({ kind: 'fabric', axis: 'stitch' }), fit, 'cm');
  assert.deepEqual(rows.map((r) => [r.name, r.off]), [['ash, size 1', '0 %'], ['cedar, size 2', '0 %']]);
});

test('all tapes of a picture share a scale that holds every mark, up to a bound', () => {
  const rows = rowsFor(finding({}), fit, 'cm');
  assert.equal(halfOf(rows, { verdict: 'fault' }), 56.00000000000001);
  assert.equal(halfOf([{ ...rows[0], at: 900 }], { verdict: 'odd' }), 120);
  assert.equal(halfOf([], { verdict: 'grows', estimate_pct: 3 }), 6.720000000000001);
});
