import test from 'node:test';
import assert from 'node:assert/strict';
import { nextPlace, readBlock, looksLikeList } from './grid-moves.js';

const size = { rows: 3, cols: 4 };
const edge = { atStart: true, atEnd: true };
const middle = { atStart: false, atEnd: false };
const moves = [
  ['down', { key: 'ArrowDown' }, { row: 0, col: 1 }, edge, { row: 1, col: 1 }],
  ['up stops at the top', { key: 'ArrowUp' }, { row: 0, col: 1 }, edge, null],
  ['down stops at the bottom', { key: 'ArrowDown' }, { row: 2, col: 1 }, edge, null],
  ['enter goes down', { key: 'Enter' }, { row: 1, col: 3 }, middle, { row: 2, col: 3 }],
  ['shift and enter go up', { key: 'Enter', shiftKey: true }, { row: 1, col: 3 }, middle, { row: 0, col: 3 }],
  ['right from the end of the text', { key: 'ArrowRight' }, { row: 0, col: 0 }, { atStart: false, atEnd: true }, { row: 0, col: 1 }],
  ['right within the text stays the field\'s', { key: 'ArrowRight' }, { row: 0, col: 0 }, middle, null],
  ['left from the start', { key: 'ArrowLeft' }, { row: 0, col: 2 }, { atStart: true, atEnd: false }, { row: 0, col: 1 }],
  ['left with shift selects', { key: 'ArrowLeft', shiftKey: true }, { row: 0, col: 2 }, edge, null],
  ['right stops at the last column', { key: 'ArrowRight' }, { row: 0, col: 3 }, edge, null],
  ['control and home', { key: 'Home', ctrlKey: true }, { row: 2, col: 3 }, middle, { row: 0, col: 0 }],
  ['control and end', { key: 'End', ctrlKey: true }, { row: 0, col: 0 }, middle, { row: 2, col: 3 }],
  ['home alone is the field\'s', { key: 'Home' }, { row: 2, col: 3 }, middle, null],
  ['a letter is the field\'s', { key: 'a' }, { row: 0, col: 0 }, edge, null],
  ['alt and arrows are the browser\'s', { key: 'ArrowLeft', altKey: true }, { row: 0, col: 1 }, edge, null],
];
for (const [name, e, at, caret, want] of moves) {
  test(`nextPlace: ${name}`, () => assert.deepEqual(nextPlace(e, at, size, caret), want));
}

test('readBlock: rows and columns of a spreadsheet', () => {
  assert.deepEqual(readBlock('body\t122\t134\r\nback\t62\t68\r\n'), [['body', '122', '134'], ['back', '62', '68']]);
});
test('readBlock: a single column', () => assert.deepEqual(readBlock('122\n134\n–\n'), [['122'], ['134'], ['–']]));
test('readBlock: an empty cell stays', () => assert.deepEqual(readBlock('1\t\t3'), [['1', '', '3']]));
test('readBlock: one value is no block', () => assert.equal(readBlock('122'), null));
test('readBlock: pattern lines are no block', () => assert.equal(readBlock('body: 122 (134, 150)\nback: 62 (68, 76)'), null));

for (const [text, want] of [
  ['122 (134, 150, 162)', true], ['Row 1: ch 3 – 85 (93, 101) sc', true], ['12/14/16', true], ['12 14 16', true], ['12; 14: 16', true],
  ['122', false], ['41.5', false], ['41,5', false], ['41 1/2', false], ['body', false], ['left_front2', false], ['', false],
]) test(`looksLikeList: ${text || 'nothing'} → ${want}`, () => assert.equal(looksLikeList(text), want));
