import test from 'node:test';
import assert from 'node:assert/strict';
import { match, ROUTES } from './routes.js';

const few = ['/', '/people', '/d/:slug', '/d/:slug/counts'].map((path) => ({ path }));

const rows = [
  ['the studio', '/', '/', {}],
  ['a closing slash changes nothing', '/people/', '/people', {}],
  ['a board', '/d/saltmarsh', '/d/:slug', { slug: 'saltmarsh' }],
  ['a part of a design', '/d/saltmarsh/counts', '/d/:slug/counts', { slug: 'saltmarsh' }],
  ['an escaped slug', '/d/salt%20marsh', '/d/:slug', { slug: 'salt marsh' }],
];
for (const [name, path, want, params] of rows) {
  test(`match: ${name}`, () => {
    const found = match(path, few);
    assert.equal(found?.route.path, want);
    assert.deepEqual(found?.params, params);
  });
}
for (const [name, path] of [['an address of nothing', '/nowhere'], ['an empty slug', '/d//counts'], ['a broken escape', '/d/%zz']]) {
  test(`match: ${name} matches nothing`, () => assert.equal(match(path, few), null));
}
test('routes: no two have the same address', () => {
  assert.equal(new Set(ROUTES.map((r) => r.path)).size, ROUTES.length);
});
