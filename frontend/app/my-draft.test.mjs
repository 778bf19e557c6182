import test from 'node:test';
import assert from 'node:assert/strict';
import { DraftKeeper, readDraft, draftKey, differs } from './my-draft.js';

const NOW = Date.parse('2027-03-10T12:00:00Z');
const draft = { at: '2027-03-10T11:00:00Z', fields: { p1: ['41.5', 'in'] }, remarks: [] };
const store = () => {
  const kept = new Map();
  return { getItem: (k) => kept.get(k) ?? null, setItem: (k, v) => { kept.set(k, v); }, removeItem: (k) => { kept.delete(k); } };
};

test('a draft comes back as it was kept', () => {
  const keeper = new DraftKeeper(draftKey('me', 'a'), store());
  assert.equal(keeper.keep(draft), true);
  assert.deepEqual(keeper.read(NOW), draft);
  keeper.forget();
  assert.equal(keeper.read(NOW), null);
});
test('another person on the same phone does not see it', () => {
  const shared = store();
  new DraftKeeper(draftKey('me', 'a'), shared).keep(draft);
  assert.equal(new DraftKeeper(draftKey('you', 'a'), shared).read(NOW), null);
});
test('a full or forbidden store is said, not thrown', () => {
  const full = { getItem: () => { throw new Error('no'); }, setItem: () => { throw new Error('full'); }, removeItem: () => { throw new Error('no'); } };
  const keeper = new DraftKeeper('k', full);
  assert.equal(keeper.keep(draft), false);
  assert.equal(keeper.read(NOW), null);
  keeper.forget();
});
for (const [name, text] of [['nothing', null], ['not JSON', '{'], ['another shape', '{"at":"2027-03-10T11:00:00Z"}'], ['a list', '[]']]) {
  test(`readDraft: ${name} is no draft`, () => assert.equal(readDraft(text, NOW), null));
}
test('readDraft: one of last year is let go', () => assert.equal(readDraft(JSON.stringify(draft), NOW + 200 * 86_400_000), null));
test('differs: the moment of keeping alone is no difference', () => {
  assert.equal(differs({ ...draft, at: '2027-03-11T00:00:00Z' }, draft), false);
  assert.equal(differs({ ...draft, remarks: [{ place: 'Row 12', body: '' }] }, draft), true);
});
