import test from 'node:test';
import assert from 'node:assert/strict';
import { findingsFirst, shownAtFirst } from './board-points.js';

const points = (...outside) => outside.map((n, i) => ({ id: String(i), name: `p${i}`, axis: 'row', tolerance_cm: 1, outside: n }));
const ids = (list) => list.map((p) => p.id).join('');

test('findingsFirst: most findings first, else in order', () => assert.equal(ids(findingsFirst(points(0, 2, 0, 3))), '3102'));
test('shownAtFirst: fills up to four, in the design\'s order', () => assert.equal(ids(shownAtFirst(points(0, 0, 1, 0, 0, 0, 0, 2))), '0127'));
test('shownAtFirst: all with findings, when there are more than four', () => assert.equal(ids(shownAtFirst(points(1, 1, 0, 1, 1, 1))), '01345'));
test('shownAtFirst: never more than six at first', () => assert.equal(shownAtFirst(points(1, 1, 1, 1, 1, 1, 1, 1)).length, 6));
test('shownAtFirst: fewer points than four', () => assert.equal(ids(shownAtFirst(points(0, 1))), '01'));
