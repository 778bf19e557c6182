// Reads JSON schemas of the API's description into lines for a person.

/** @typedef {{name: string, type: string, needed: boolean, about: string}} Line */

const DEEPEST = 4;

/** @param {any} doc @param {any} schema */
function resolve(doc, schema) {
  const name = /^#\/components\/schemas\/(.+)$/.exec(schema?.$ref || '')?.[1];
  return name ? doc.components.schemas[name] || {} : schema || {};
}

/**
 * The fields of an object, those of objects inside it after a dot, those of
 * a list's items after [].
 * @param {any} doc @param {any} schema @param {string} [prefix] @param {number} [depth]
 * @returns {Line[]}
 */
export function fields(doc, schema, prefix = '', depth = 0) {
  const object = resolve(doc, schema);
  if (depth >= DEEPEST || !object.properties) return [];
  return Object.entries(object.properties).flatMap(([name, inner]) => {
    const line = { name: prefix + name, type: sayType(doc, inner), needed: (object.required || []).includes(name), about: /** @type {any} */ (inner).description || '' };
    const whole = resolve(doc, inner);
    const item = whole.items ? [whole.items, '[].'] : [inner, '.'];
    return [line, ...fields(doc, item[0], prefix + name + item[1], depth + 1)];
  });
}

/** A type in words. @param {any} doc @param {any} schema @returns {string} */
export function sayType(doc, schema) {
  const s = resolve(doc, schema);
  if (s.enum) return `one of ${s.enum.join(', ')}`;
  if (s.oneOf) return s.oneOf.map((/** @type {any} */ o) => sayType(doc, o)).join(' or ');
  const types = [s.type].flat().filter(Boolean);
  const words = types.map((/** @type {string} */ t) => (t === 'array' ? `list of ${sayType(doc, s.items)}` : { null: 'null', string: s.format === 'date-time' ? 'moment' : 'text', integer: 'whole number', number: 'number', boolean: 'true or false', object: 'object' }[t] || t));
  const bounds = [s.minimum !== undefined && `at least ${s.minimum}`, s.maximum !== undefined && `at most ${s.maximum}`, s.maxLength && `${s.maxLength} characters at most`, s.maxItems && `${s.maxItems} at most`].filter(Boolean);
  return [words.join(' or '), ...bounds].filter(Boolean).join(', ');
}
