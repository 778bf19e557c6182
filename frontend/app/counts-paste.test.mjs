import test from 'node:test';
import assert from 'node:assert/strict';
import { leadingName } from './counts-paste.js';

for (const [line, want] of [
  ['back: 62 (68, 76)', 'back'], ['  left_front = 31 (34)', 'left_front'], ['body | sts | base round | 122 (134)', 'body'],
  ['Row 1: ch 3 – 85 (93)', ''], ['62 (68, 76)', ''], ['', ''],
]) test(`leadingName: ${line || 'nothing'}`, () => assert.equal(leadingName(line), want));
