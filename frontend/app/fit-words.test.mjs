import { test } from 'node:test';
import assert from 'node:assert/strict';
import { capital, figures, growthSentence, sayMissing, sayOffset, sayPercent, saySure, sayWait, sorted } from './fit-words.js';

/** @param {any} more */
const finding = (more) => ({ key: 'k', kind: 'cell', verdict: 'fault', asks: true, waits: true, message: '', decision: null, size: '6', point: 'cuff', numbers: { verdict: 'fault' }, ...more });

test('a percentage has its sign, a real minus, and no needless zeros', () => {
  assert.equal(sayPercent(-7.63), '−7.6 %');
  assert.equal(sayPercent(3), '+3 %');
  assert.equal(sayPercent(-0.01), '0 %');
});

test('nobody is a hundred percent sure', () => {
  assert.equal(saySure(0.9999), 'more than 99 %');
  assert.equal(saySure(0.874), '87 %');
  assert.equal(saySure(0.001), 'less than 1 %');
});

test('the figures say how far, how sure, from how many', () => {
  const f = finding({ numbers: { verdict: 'fault', estimate_pct: -7.6, lo_pct: -9.3, hi_pct: -5.8, p: 0.99, reports: 3, as_count: { unit: 'stitches', count: 64, estimate: -4.9, lo: -6, hi: -3.7 } } });
  assert.deepEqual(figures(f), [['How far', '−7.6 %, between −9.3 % and −5.8 %'], ['In the text', 'as if 5 stitches fewer than 64 (4 to 6)'], ['How sure', '99 %'], ['From', '3 reports']]);
});

test('an offset whose interval reaches over nothing begins at 0', () => {
  assert.equal(sayOffset({ unit: 'rows', count: 40, estimate: 2, lo: -1, hi: 5 }), 'as if 2 rows more than 40 (0 to 5)');
});

test('waiting says for how many and of which size, or that it is no use', () => {
  assert.equal(sayWait(finding({ more_reports: 1 })), 'Wait for 1 more report of size 6: that should settle it.');
  assert.equal(sayWait(finding({ more_reports: 0 })), 'More reports of size 6 alone would not settle it.');
  assert.equal(sayWait(finding({})), '');
});

test('the text says which way the fabric goes', () => {
  assert.match(growthSentence(finding({ verdict: 'grows', axis: 'row', numbers: { estimate_pct: 2.8 } })), /about 3 % longer/);
  assert.match(growthSentence(finding({ verdict: 'shrinks', axis: 'stitch', numbers: { estimate_pct: -4 } })), /about 4 % narrower/);
});

test('findings fall into what waits, what is decided, what is nobody’s fault, what can’t be told', () => {
  const all = [finding({ key: 'a' }), finding({ key: 'b', waits: false }), finding({ key: 'c', asks: false, waits: false, verdict: 'off' }), finding({ key: 'd', asks: false, waits: false, verdict: 'cannot_tell' })];
  const parts = sorted(all);
  assert.deepEqual([parts.waiting, parts.decided, parts.nothing, parts.untold].map((p) => p.map((f) => f.key)), [['a'], ['b'], ['c'], ['d']]);
});

test('what is missing is said once for each size and number', () => {
  const untold = [finding({ size: '2', point: 'cuff', more_reports: 1 }), finding({ size: '2', point: 'yoke', more_reports: 1 }), finding({ size: '5', point: 'bust', more_reports: 0 }), finding({ kind: 'fabric' })];
  assert.deepEqual(sayMissing(untold), ['1 more report of size 2 should tell about cuff, yoke.', 'More reports of size 5 alone won’t tell about bust.']);
});

test('a sentence begins with a capital', () => assert.equal(capital('neck width: off'), 'Neck width: off'));
