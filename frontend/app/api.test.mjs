import assert from 'node:assert/strict';
import { test } from 'node:test';
import { get, refresh } from './api.js';

/** @param {Record<string, [number, object]>} answers by path */
function serve(answers) {
  globalThis.fetch = async (path) => {
    const [status, body] = answers[String(path).replace('/api/v1', '')];
    return new Response(JSON.stringify(body), { status });
  };
}

const unsigned = /** @type {[number, object]} */ ([401, { detail: 'Sign in first.' }]);

test('a sign-in that is over reads as that', async () => {
  serve({ '/me': unsigned, '/auth/refresh': unsigned });
  assert.equal(await refresh(), false);
  await assert.rejects(get('/me'), { status: 401 });
});

for (const status of [500, 503, 507]) {
  test(`a server that fails with ${status} while a sign-in goes on signs nobody out`, async () => {
    serve({ '/me': unsigned, '/auth/refresh': [status, { detail: 'Not now.' }] });
    await assert.rejects(get('/me'), { status, message: 'Not now.' });
  });
}

test('a server that is not reached meanwhile signs nobody out', async () => {
  globalThis.fetch = async (path) => {
    if (String(path).endsWith('/me')) return new Response('{}', { status: 401 });
    throw new TypeError('no network');
  };
  await assert.rejects(get('/me'), { status: 0 });
});
