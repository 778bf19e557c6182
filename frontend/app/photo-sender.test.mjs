import test from 'node:test';
import assert from 'node:assert/strict';
import { PhotoSender, mayPass, sayRefusal } from './photo-sender.js';
import { Problem } from './problem.js';
import { fit } from './photo-shrink.js';
import { sayLimits } from './photo-words.js';

const photo = (id) => ({ id, person: 'me', path: '/p', blob: null, caption: '', at: '' });

/** A sender whose sends answer from a list. */
function sending(answers, writes = []) {
  const [sent, arrived, courses, pauses, told] = [[], [], [], [], []];
  const gone = new AbortController();
  const sender = new PhotoSender({
    gone: gone.signal,
    send: async (w, onshare) => {
      sent.push(w.id);
      onshare(0.5);
      const answer = answers.shift();
      if (answer instanceof Error) throw answer;
      return { id: answer };
    },
    arrived: async (w, p) => {
      const wrong = writes.shift();
      if (wrong) throw wrong;
      arrived.push([w.id, p.id]);
    },
    course: (w, c) => { courses.push(`${w.id} ${c.state}`); told.push(c); },
    pause: async (seconds) => { pauses.push(seconds); },
  });
  return { sender, sent, arrived, courses, pauses, told, gone };
}
const settle = () => new Promise((resolve) => { setImmediate(resolve); });

test('each is sent by itself, in the order in which it was chosen', async () => {
  const s = sending(['1', '2']);
  s.sender.add(photo('a'));
  s.sender.add(photo('b'));
  await settle();
  assert.deepEqual(s.arrived, [['a', '1'], ['b', '2']]);
  assert.deepEqual(s.courses, ['a waiting', 'a sending', 'a sending', 'b waiting', 'b sending', 'b sending']);
});
test('where the network fails it is tried again, later and later', async () => {
  const s = sending([new Problem(0, {}), new Problem(503, {}), new Problem(429, {}), '1']);
  s.sender.add(photo('a'));
  await settle();
  assert.deepEqual(s.sent, ['a', 'a', 'a', 'a']);
  assert.deepEqual(s.pauses, [2, 5, 15]);
  assert.deepEqual(s.arrived, [['a', '1']]);
});
test('what is refused is not tried again, and the next one goes on', async () => {
  const s = sending([new Problem(422, { detail: 'no', errors: [{ location: 'body.photo', message: 'is no picture' }] }), '2']);
  s.sender.add(photo('a'));
  s.sender.add(photo('b'));
  await settle();
  assert.deepEqual(s.sent, ['a', 'b']);
  assert.deepEqual(s.arrived, [['b', '2']]);
});
test('words that are refused after the photo has arrived are said, and tried again without sending it twice', async () => {
  const s = sending(['1', '2'], [new Problem(422, { detail: 'no', errors: [{ location: 'body.caption', message: 'is too long' }] })]);
  s.sender.add(photo('a'));
  s.sender.add(photo('b'));
  await settle();
  assert.deepEqual(s.arrived, [['b', '2']]);
  const refused = s.told.find((c) => c.state === 'refused');
  assert.deepEqual([refused.arrived, refused.says], [true, 'The photo has arrived, but not what it shows. That is too long.']);
  s.sender.again('a');
  await settle();
  assert.deepEqual(s.sent, ['a', 'b']);
  assert.deepEqual(s.arrived, [['b', '2'], ['a', '1']]);
});
test('words that the network lost are written when it is back', async () => {
  const s = sending(['1'], [new Problem(0, {}), new Problem(503, {})]);
  s.sender.add(photo('a'));
  await settle();
  assert.deepEqual([s.sent, s.arrived, s.pauses], [['a'], [['a', '1']], [2, 5]]);
  assert.match(s.told.find((c) => c.state === 'resting').says, /^has arrived; what it shows is kept here and written/);
});
test('one that is taken out is not tried again', async () => {
  const s = sending([new Problem(0, {}), '1']);
  s.sender.of.pause = async () => s.sender.drop('a');
  s.sender.add(photo('a'));
  await settle();
  assert.deepEqual(s.sent, ['a']);
});
test('a page that was left sends nothing more', async () => {
  const s = sending(['1', '2']);
  s.gone.abort();
  s.sender.add(photo('a'));
  await settle();
  assert.deepEqual(s.sent, []);
});
for (const [status, again] of [[0, true], [401, true], [429, true], [500, true], [503, true], [507, true], [404, false], [409, false], [413, false], [422, false]]) {
  test(`${status} ${again ? 'may pass' : 'stays'}`, () => assert.equal(mayPass(new Problem(status, {})), again));
}
test('a refusal names what is wrong with the file', () => {
  assert.equal(sayRefusal(new Problem(422, { detail: 'x', errors: [{ location: 'body.photo', message: 'is empty' }] })), 'This file is empty.');
  assert.equal(sayRefusal(new Problem(413, { detail: 'A photo may have 16 MiB at most.' })), 'A photo may have 16 MiB at most.');
});
test('fit', () => {
  assert.deepEqual(fit(4032, 3024, 2560), [2560, 1920]);
  assert.deepEqual(fit(3024, 4032, 2560), [1920, 2560]);
  assert.deepEqual(fit(800, 600, 2560), [800, 600]);
  assert.deepEqual(fit(20000, 1, 2560), [2560, 1]);
});
test('limits in words', () => assert.equal(sayLimits({ most: 12, most_bytes: 16777216, most_pixels: 40000000, longest_edge: 20000, large: 2560, kinds: ['image/jpeg', 'image/png'], caption: 300 }),
  'Up to 12 photos: JPEG or PNG, each of at most 16 MiB and 40 million pixels. Place, time and device are taken out of them.'));
