import test from 'node:test';
import assert from 'node:assert/strict';
import { sayNotice } from './webhook-words.js';

const KINDS = [{ name: 'report', says: 'A report was sent or approved.' }];

for (const [what, kind, says] of [
  ['a kind of the list', 'report', 'A report was sent or approved.'],
  ['what the designer sends', 'trial', 'A trial, to see whether it arrives.'],
  ['a kind that is not told any more', 'yarn', 'yarn'],
]) test(what, () => assert.equal(sayNotice(kind, KINDS), says));
