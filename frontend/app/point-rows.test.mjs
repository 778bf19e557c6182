import test from 'node:test';
import assert from 'node:assert/strict';
import { pointsFrom, pointsBody, emptyPoint } from './point-rows.js';
import { readLength } from '../parts/lengths.js';

const length = (value, unit) => ({ value, unit, cm: unit === 'in' ? value * 2.54 : value });
const design = {
  unit: 'cm', sizes: [{ id: 'a' }, { id: 'b' }],
  points: [{
    id: 'p', name: 'upper arm', axis: 'stitch', expr: 'upper_arm', add: length(0, 'cm'), tolerance: length(0.5, 'in'), repeatability_cm: null, repeat: 1,
    girth: true, how_to_measure: 'flat', body_dimension: 'upper arm', ease_low_cm: 2, ease_high_cm: null, intended: [{ size_id: 'b', length: length(30, 'cm') }],
  }],
};
const inCM = (text) => readLength(text, 'cm');

test('pointsBody: gives back what was read, and leaves out what is empty', () => {
  assert.deepEqual(pointsBody(pointsFrom(design), design.sizes, inCM).points, [{
    id: 'p', name: 'upper arm', axis: 'stitch', expr: 'upper_arm', girth: true, how_to_measure: 'flat', tolerance: { value: 0.5, unit: 'in' },
    body_dimension: 'upper arm', ease_low_cm: 2, intended: [{ size_id: 'b', value: 30, unit: 'cm' }],
  }]);
});
test('pointsBody: names each field that can\'t be read', () => {
  const rows = pointsFrom(design);
  rows[0].tolerance = '';
  rows[0].intended[0] = 'wide';
  rows[0].repeat = 'six';
  assert.throws(() => pointsBody(rows, design.sizes, inCM), (err) => {
    assert.deepEqual([...err.fields.keys()].sort(), ['points[0].intended[0]', 'points[0].repeat', 'points[0].tolerance']);
    return true;
  });
});
test('emptyPoint: a place for each size', () => assert.equal(emptyPoint(9).intended.length, 9));
