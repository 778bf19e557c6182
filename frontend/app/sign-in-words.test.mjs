import test from 'node:test';
import assert from 'node:assert/strict';
import { inGroups, sayNotice } from './sign-in-words.js';

test('a secret is typed in groups of four', () => {
  assert.equal(inGroups('GEZDGNBVGY3TQOJQGE'), 'GEZD GNBV GY3T QOJQ GE');
  assert.equal(inGroups(''), '');
});

test('a notice says what happened and who did it', () => {
  assert.equal(sayNotice({ at: '', action: 'second step taken away', by: 'odile' }), 'The second step was taken away, by odile.');
  assert.equal(sayNotice({ at: '', action: 'password changed' }), 'The password was changed.');
  assert.equal(sayNotice({ at: '', action: 'something new' }), 'something new.');
});
