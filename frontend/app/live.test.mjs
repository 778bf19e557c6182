import test from 'node:test';
import assert from 'node:assert/strict';
import { waitBefore } from './live.js';

test('waitBefore: doubles from a second', () => assert.deepEqual([0, 1, 2, 3].map((n) => waitBefore(n, 0)), [1000, 2000, 4000, 8000]));
test('waitBefore: never more than a minute', () => assert.equal(waitBefore(50, 0), 60000));
test('waitBefore: spread by up to half', () => assert.equal(waitBefore(0, 1), 500));
