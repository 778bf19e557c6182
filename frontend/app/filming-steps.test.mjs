import test from 'node:test';
import assert from 'node:assert/strict';
import { openSteps, firstNeed, tallyRun } from './filming-steps.js';

const of = (position, state, given = {}) => {
  const reached = ['edited', 'captioned', 'scheduled', 'aired'].indexOf(state);
  const at = (i) => (i <= reached ? 'then' : null);
  return { position, state, late: false, record_by: null, open_slips: 0, edited_at: at(0), captioned_at: at(1), scheduled_at: at(2), aired_at: at(3), ...given };
};
const rows = [
  ['nothing before the recording', 'unrecorded', null, null],
  ['first the edit', 'recorded', 'edited', null],
  ['then the captions, or back', 'edited', 'captioned', 'edited'],
  ['nothing after the airing, but back', 'aired', null, 'aired'],
];
for (const [name, state, next, last] of rows) test(`openSteps: ${name}`, () => assert.deepEqual(openSteps(of(1, state)), { next, last }));
test('openSteps: a slip to record again holds the next step back', () => {
  assert.deepEqual(openSteps(of(1, 'unrecorded', { edited_at: 'then' })), { next: null, last: 'edited' });
});
test('firstNeed: a late one before an earlier day', () => {
  const run = [of(1, 'aired'), of(2, 'unrecorded', { record_by: '2027-03-01' }), of(3, 'unrecorded', { record_by: '2027-03-05', late: true })];
  assert.equal(firstNeed(run).position, 3);
});
test('firstNeed: without days, the first in the run', () => assert.equal(firstNeed([of(2, 'unrecorded'), of(1, 'unrecorded')]).position, 1));
test('firstNeed: nothing when all is recorded', () => assert.equal(firstNeed([of(1, 'recorded')]), null));
test('tallyRun', () => assert.equal(tallyRun([of(1, 'aired'), of(2, 'recorded', { open_slips: 2 }), of(3, 'unrecorded')]), '2 of 3 recorded, 1 aired, 2 slips to mend'));
