import test from 'node:test';
import assert from 'node:assert/strict';
import { sayState, sayWritten, KINDS, LETTERS } from './letter-words.js';

const at = (moment) => (moment ? 'then' : '–');
const letter = (change) => ({ id: 'l', kind: 'overdue', person: { id: 'p', handle: 'mara', name: 'Mara', email: 'm@reader.example', doubtful: false }, call_id: null, subject: 's',
  state: 'waiting', sending: false, tries: 0, next_try_at: 'x', created_at: 'x', ended_at: null, erased_at: null, ...change });

test('how a letter stands', () => {
  for (const [change, said] of [
    [{}, 'waits since then'],
    [{ sending: true, tries: 1 }, 'is with the mail server now'],
    [{ tries: 1, said: '451 later' }, 'tried once, next at then: 451 later'],
    [{ tries: 3 }, 'tried 3 times, next at then'],
    [{ state: 'sent', ended_at: 'x' }, 'sent then'],
    [{ state: 'failed', ended_at: 'x', said: '550 no such mailbox' }, 'not sent, then: 550 no such mailbox'],
    [{ state: 'withdrawn', ended_at: 'x' }, 'withdrawn then'],
  ]) assert.equal(sayState(letter(change), at), said);
});

test('what was written and what was left out', () => {
  assert.equal(sayWritten({ written: 1, left_out: [] }), '1 letter is on its way.');
  const left = (why) => ({ person_id: 'p', kind: 'k', about: '', why });
  assert.equal(sayWritten({ written: 2, left_out: [left('a'), left('a'), left('b')] }), '2 letters are on their way. 3 left out: a; b.');
});

test('every kind of letter has words', () => {
  for (const kind of Object.keys(LETTERS)) assert.ok(KINDS[kind], kind);
});
