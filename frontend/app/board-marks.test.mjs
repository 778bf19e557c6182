import { test } from 'node:test';
import assert from 'node:assert/strict';
import { nameMarks } from './board-marks.js';

test('a mark is a sample or a report by the id that it carries', () => {
  const strip = { marks: [{ report_id: 'r', who: 'ash' }, { sample_id: 's', who: 'the grey one' }] };
  nameMarks({ sizes: [{ strips: [strip] }] });
  assert.deepEqual(strip.marks, [{ report_id: 'r', who: 'ash', kind: 'report', handle: 'ash' }, { sample_id: 's', who: 'the grey one', kind: 'sample', label: 'the grey one' }]);
});
