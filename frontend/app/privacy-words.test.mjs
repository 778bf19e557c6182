import test from 'node:test';
import assert from 'node:assert/strict';
import { whoSees } from './privacy-words.js';

const rows = [
  ['the tester and the designer', ['self', 'designer'], 'you and the designer'],
  ['all of the studio', ['self', 'designer', 'tech_editor', 'maker', 'filmer'], 'you and everybody of the studio'],
  ['some of the studio', ['designer', 'self', 'maker'], 'you, the designer and the maker'],
  ['one', ['designer'], 'the designer'],
  ['nobody', [], ''],
];
for (const [name, roles, want] of rows) {
  test(`who sees: ${name}`, () => assert.equal(whoSees(roles, (r) => r), want));
}
