import test from 'node:test';
import assert from 'node:assert/strict';
import { printLine } from './count-line.js';

// The same cases as the server's own printing (models/counts).
for (const [values, grouping, want] of [
  [[122, 134, 150, 162], '', '122 (134, 150, 162)'],
  [[122, 134, 150, 162, 178, 190, 206, 218, 234], '1,3,3,2', '122 (134, 150, 162) (178, 190, 206) (218, 234)'],
  [[122, 134, 150], '1,3,3,2', '122 (134, 150)'],
  [[12, 12, 12], '', '12'],
  [[12, null, 12], '', '12 (–, 12)'],
  [[null, null], '', '– (–)'],
  [[null], '', '–'],
  [[7.5, 8], '', '7.5 (8)'],
  [[], '', ''],
]) test(`printLine: ${want || 'nothing'}`, () => assert.equal(printLine(values, grouping), want));
