/** @typedef {Node | string | number | null | undefined | false | any[]} Child */

const SVG = 'http://www.w3.org/2000/svg';

/**
 * Builds an element. Values only ever become text, attributes or properties,
 * never markup. A key that starts with `on` is a listener; one that starts
 * with a dot sets a property; `true` and `false` switch an attribute.
 * There is no `style`: the content policy refuses style attributes.
 * @param {string} name
 * @param {Record<string, any>} [given]
 * @param {...Child} children
 * @returns {any} the element (any, so that a field's own members can be used)
 */
export function h(name, given = {}, ...children) {
  return fill(document.createElement(name), given, children);
}

/**
 * The same for SVG.
 * @param {string} name
 * @param {Record<string, any>} [given]
 * @param {...Child} children
 * @returns {SVGElement}
 */
export function s(name, given = {}, ...children) {
  return /** @type {SVGElement} */ (fill(document.createElementNS(SVG, name), given, children));
}

/** @param {Element} el @param {Record<string, any>} given @param {Child[]} children */
function fill(el, given, children) {
  for (const [key, value] of Object.entries(given)) {
    if (value === undefined || value === null || value === false) continue;
    if (key.startsWith('on')) el.addEventListener(key.slice(2), value);
    else if (key.startsWith('.')) /** @type {any} */ (el)[key.slice(1)] = value;
    else el.setAttribute(key, value === true ? '' : String(value));
  }
  add(el, children);
  return el;
}

/** @param {Node} to @param {Child} child */
function add(to, child) {
  if (child === null || child === undefined || child === false) return;
  if (Array.isArray(child)) child.forEach((c) => add(to, c));
  else to.appendChild(child instanceof Node ? child : document.createTextNode(String(child)));
}

/**
 * Replaces what an element holds.
 * @param {Element} el
 * @param {...Child} children
 */
export function put(el, ...children) {
  el.replaceChildren();
  add(el, children);
}

let serial = 0;

/** An id for label and described-by pairs. @param {string} stem */
export function freshId(stem) {
  serial += 1;
  return `${stem}-${serial}`;
}
