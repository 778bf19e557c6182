import { s } from './h.js';

/**
 * A small line drawing of how a point is measured: along the piece (a length),
 * across it (a width), or across and doubled (a girth). The words beside it say
 * the same, so it is not read aloud.
 * @param {{axis: string, girth: boolean}} point
 * @returns {SVGElement}
 */
export function measureDrawing(point) {
  const kind = point.girth ? 'girth' : point.axis === 'row' ? 'length' : 'width';
  return s('svg', { viewBox: '0 0 56 56', width: 56, height: 56, class: 'measure-drawing', 'aria-hidden': 'true', focusable: 'false' },
    s('path', { d: 'M12 8H44V48H12z', class: 'piece' }),
    s('path', { d: 'M12 16h32M12 24h32M12 32h32M12 40h32', class: 'piece-rows' }),
    DRAWN[kind]());
}

/** How the drawing reads in words. @param {{axis: string, girth: boolean}} point */
export function measureWords(point) {
  if (point.girth) return 'All the way round: measure flat from side to side and double it.';
  return point.axis === 'row' ? 'A length: lay it flat and measure along the rows.' : 'A width: lay it flat and measure straight across.';
}

/** @type {Record<string, () => SVGElement[]>} */
const DRAWN = {
  width: () => [tape('M6 28H50'), ends('M6 22V34M50 22V34')],
  length: () => [tape('M28 3V53'), ends('M22 3H34M22 53H34')],
  girth: () => [
    s('path', { d: 'M50 31C47 40 9 40 6 31', class: 'tape-round' }), tape('M6 25H50'), ends('M6 19V31M50 19V31'),
    s('text', { x: 28, y: 20, class: 'twice', 'text-anchor': 'middle' }, '× 2')],
};

/** @param {string} d */
const tape = (d) => s('path', { d, class: 'tape-line' });
/** @param {string} d */
const ends = (d) => s('path', { d, class: 'tape-ends' });
