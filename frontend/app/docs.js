// The API's own description, made readable: operations by subject, with what
// they take and answer.
import { h, put } from '../parts/h.js';
import * as api from './api.js';
import { fields, sayType } from './docs-schema.js';

export const sheets = ['docs'];

/** @param {import('../shapes.js').View} view */
export async function draw({ page, lede, gone, title }) {
  const doc = await api.get('/openapi.json', { signal: gone });
  title('API');
  put(lede, `${doc.info.description} Version ${doc.info.version}; the same as a document: `, h('a', { href: '/api/v1/openapi.json' }, 'openapi.json'), '.');
  const tags = byTag(doc);
  put(page,
    h('nav', { 'aria-label': 'Subjects' }, h('ul', { class: 'plain subjects' }, [...tags.keys()].map((tag) => h('li', {}, h('a', { href: `#${anchor(tag)}` }, tag))))),
    [...tags].map(([tag, operations]) => h('section', { 'aria-labelledby': anchor(tag) },
      h('h2', { id: anchor(tag) }, tag), operations.map((o) => operation(doc, o)))));
}

/** @param {any} doc */
function byTag(doc) {
  /** @type {Map<string, any[]>} */
  const tags = new Map();
  for (const [path, item] of Object.entries(doc.paths)) {
    for (const [method, op] of Object.entries(/** @type {any} */ (item))) {
      if (!op.operationId) continue;
      const tag = op.tags?.[0] || 'Other';
      tags.set(tag, [...(tags.get(tag) || []), { ...op, path, method: method.toUpperCase() }]);
    }
  }
  return new Map([...tags].sort(([a], [b]) => a.localeCompare(b)));
}

/** @param {any} doc @param {any} op */
function operation(doc, op) {
  const parameters = (op.parameters || []).filter((/** @type {any} */ p) => !['User-Agent'].includes(p.name));
  const body = Object.values(op.requestBody?.content || {})[0];
  return h('details', { class: 'operation' },
    h('summary', {}, h('code', {}, `${op.method} ${op.path}`), ' ', op.summary),
    op.description ? h('p', {}, op.description) : null,
    parameters.length ? h('div', {}, h('h3', {}, 'Parameters'), h('dl', {}, parameters.map((/** @type {any} */ p) => [
      h('dt', {}, h('code', {}, p.name), ` in ${p.in}${p.required ? ', needed' : ''}`), h('dd', {}, [sayType(doc, p.schema), p.description].filter(Boolean).join('. '))]))) : null,
    body ? h('div', {}, h('h3', {}, 'Body'), table(doc, /** @type {any} */ (body).schema)) : null,
    Object.entries(op.responses || {}).map(([status, r]) => answer(doc, status, r)));
}

/** @param {any} doc @param {string} status @param {any} response */
function answer(doc, status, response) {
  const schema = /** @type {any} */ (Object.values(response.content || {})[0])?.schema;
  return h('div', {}, h('h3', {}, status === 'default' ? 'Any error' : `Answer ${status}`),
    response.description ? h('p', {}, response.description) : null, schema && status !== 'default' ? table(doc, schema) : null);
}

/** @param {any} doc @param {any} schema */
function table(doc, schema) {
  const rows = fields(doc, schema);
  if (!rows.length) return h('p', {}, sayType(doc, schema));
  return h('dl', {}, rows.map((f) => [h('dt', {}, h('code', {}, f.name), f.needed ? '' : ', optional'), h('dd', {}, [f.type, f.about].filter(Boolean).join('. '))]));
}

/** @param {string} tag */
const anchor = (tag) => `subject-${tag.toLowerCase().replace(/[^a-z]+/g, '-')}`;
