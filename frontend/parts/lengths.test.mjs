import test from 'node:test';
import assert from 'node:assert/strict';
import { readNumber, readLength, sayLength, sayCM, sayGauge, toCM } from './lengths.js';

const numbers = [
  ['a whole number', '41', 41],
  ['a decimal point', '41.5', 41.5],
  ['a decimal comma', '41,5', 41.5],
  ['no leading zero', '.5', 0.5],
  ['a fraction after a space', '41 1/2', 41.5],
  ['a fraction after a hyphen', '41-1/2', 41.5],
  ['a bare fraction', '3/8', 0.375],
  ['a fraction sign', '41½', 41.5],
  ['a fraction sign after a space', '41 ⅝', 41.625],
  ['a fraction slash', '1⁄4', 0.25],
  ['spaces all over', '  41   1 / 2 ', 41.5],
  ['a negative number', '-2', -2],
  ['a typographic minus', '−1,5', -1.5],
  ['a negative mixed number', '-1 1/2', -1.5],
  ['nothing', '', null],
  ['a word', 'about 41', null],
  ['two numbers', '41 42', null],
  ['division by zero', '1/0', null],
  ['a thousands mark is not guessed at', '1,234.5', null],
  ['an exponent', '1e3', null],
];
for (const [name, text, want] of numbers) {
  test(`readNumber: ${name}`, () => assert.equal(readNumber(text), want));
}

test('readLength: the unit beside the field holds when none is typed', () => {
  assert.deepEqual(readLength('41,5', 'cm'), { value: 41.5, unit: 'cm' });
});
test('readLength: a typed unit wins', () => {
  assert.deepEqual(readLength('41 1/2 in', 'cm'), { value: 41.5, unit: 'in' });
  assert.deepEqual(readLength('41½"', 'cm'), { value: 41.5, unit: 'in' });
  assert.deepEqual(readLength('105cm', 'in'), { value: 105, unit: 'cm' });
});
test('readLength: nonsense is not a length', () => assert.equal(readLength('cm', 'cm'), null));

// An inch is exactly 2.54 cm (international yard and pound agreement, 1959).
test('toCM: 41.5 in is 105.41 cm', () => assert.ok(Math.abs(toCM({ value: 41.5, unit: 'in' }) - 105.41) < 1e-9));
test('sayLength: shows what was entered', () => assert.equal(sayLength({ value: 41.625, unit: 'in' }), '41.625 in'));
test('sayCM: in the reader\'s unit', () => {
  assert.equal(sayCM(105.41, 'in'), '41.5 in');
  assert.equal(sayCM(36.24, 'cm'), '36.2 cm');
  assert.equal(sayCM(-4.67, 'cm'), '−4.7 cm');
  assert.equal(sayCM(null, 'cm'), '–');
});
test('sayGauge: leaves out what was not counted', () => {
  assert.equal(sayGauge({ stitches: 14, rows: 11, span: 10, unit: 'cm' }), '14 stitches and 11 rows over 10 cm');
  assert.equal(sayGauge({ stitches: 14.5, rows: null, span: 4, unit: 'in' }), '14.5 stitches over 4 in');
});
