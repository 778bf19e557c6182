import { test } from 'node:test';
import assert from 'node:assert/strict';
import { WhatIf } from './what-if.js';

function shelf() {
  const kept = new Map();
  return { getItem: (k) => kept.get(k) ?? null, setItem: (k, v) => kept.set(k, v) };
}

test('a pair is fixed or forbidden, never both', () => {
  const w = new WhatIf('c', shelf());
  w.forbid('ann', '3');
  w.forbid('ann', '4');
  w.fix('ann', '3');
  assert.deepEqual(w.body.fixed, [{ person_id: 'ann', size_id: '3' }]);
  assert.deepEqual(w.body.forbidden, [{ person_id: 'ann', size_id: '4' }]);
  w.forbid('ann', '3');
  assert.deepEqual(w.body.fixed, []);
  assert.deepEqual(w.body.forbidden.map((p) => p.size_id), ['4', '3']);
});

test('one size is fixed for a person: the last', () => {
  const w = new WhatIf('c', shelf());
  w.fix('ann', '3');
  w.fix('ann', '2');
  assert.deepEqual(w.body.fixed, [{ person_id: 'ann', size_id: '2' }]);
  w.free('ann');
  assert.equal(w.isEmpty, true);
});

test('it is kept for its call, and for no other', () => {
  const storage = shelf();
  const w = new WhatIf('c', storage);
  w.fix('ann', '3');
  w.forbid('ben', '1');
  w.set({ moveAsked: true, probability: 0.8 });
  assert.deepEqual(new WhatIf('c', storage).body, w.body);
  assert.equal(new WhatIf('d', storage).isEmpty, true);
});

test('storage that fails or holds rubbish does no harm', () => {
  const broken = { getItem: () => '{nonsense', setItem: () => { throw new Error('full'); } };
  const w = new WhatIf('c', broken);
  w.fix('ann', '3');
  assert.equal(w.fixed.get('ann'), '3');
  assert.equal(new WhatIf('c', { getItem: () => '{"probability": 7}', setItem() {} }).probability, 0.9);
});
