import { test } from 'node:test';
import assert from 'node:assert/strict';

globalThis.HTMLElement ??= class {};
globalThis.customElements ??= { define() {} };
const { readNumbers } = await import('./filming-shots.js');

test('counts to say are read a line each, words after the first colon', () => {
  assert.deepEqual(readNumbers('body: stitches: all of them\n\n  yoke_rows  \n'), [{ count: 'body', words: 'stitches: all of them' }, { count: 'yoke_rows' }]);
});
