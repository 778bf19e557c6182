import test from 'node:test';
import assert from 'node:assert/strict';
import { fields, sayType } from './docs-schema.js';

const doc = { components: { schemas: {
  Length: { type: 'object', required: ['value'], properties: { value: { type: 'number', minimum: 0 }, unit: { type: 'string', enum: ['cm', 'in'] } } },
  Size: { type: 'object', required: ['name'], properties: { name: { type: 'string', maxLength: 24, description: 'As in the text.' }, body: { type: 'array', items: { $ref: '#/components/schemas/Length' } } } },
  Loop: { type: 'object', properties: { again: { $ref: '#/components/schemas/Loop' } } },
} } };

test('a field inside a list of objects is named after []', () => {
  const lines = fields(doc, { $ref: '#/components/schemas/Size' });
  assert.deepEqual(lines.map((l) => l.name), ['name', 'body', 'body[].value', 'body[].unit']);
  assert.deepEqual(lines[0], { name: 'name', type: 'text, 24 characters at most', needed: true, about: 'As in the text.' });
  assert.equal(lines[1].type, 'list of object');
  assert.equal(lines[2].type, 'number, at least 0');
  assert.equal(lines[3].needed, false);
});

test('a schema that contains itself comes to an end', () => {
  assert.equal(fields(doc, { $ref: '#/components/schemas/Loop' }).length, 4);
});

test('types in words', () => {
  assert.equal(sayType(doc, { type: ['string', 'null'] }), 'text or null');
  assert.equal(sayType(doc, { type: 'string', format: 'date-time' }), 'moment');
  assert.equal(sayType(doc, { oneOf: [{ type: 'integer' }, { type: 'null' }] }), 'whole number or null');
  assert.equal(sayType(doc, {}), '');
});
