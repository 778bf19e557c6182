import { h, s } from './h.js';

/** What the signs of a tape strip mean, drawn with the same signs. */
export function tapeKey() {
  return h('ul', { class: 'plain tape-key', 'aria-label': 'Signs of the strips' },
    sign('long mark: intended', s('path', { d: 'M9 1V15', class: 'tape-intended' }), s('path', { d: 'M1 12H17', class: 'tape-base' })),
    sign('shaded: tolerance', s('rect', { x: 2, y: 2, width: 14, height: 11, class: 'tape-band' }), s('path', { d: 'M1 13H17', class: 'tape-base' })),
    sign('dashed: what the counts give', s('path', { d: 'M9 2V15', class: 'tape-expected' }), s('path', { d: 'M1 12H17', class: 'tape-base' })),
    sign('arrow: the fabric’s growth, which moves both', s('path', { d: 'M3 8H14m-4 -3l4 3l-4 3', class: 'tape-growth' })),
    sign('a report, at the tester’s own gauge', s('path', { d: 'M5 4h9l-4.500 9z', class: 'tape-mark within' })),
    sign('a report outside tolerance', s('path', { d: 'M9 2l5 6l-5 6l-5 -6z', class: 'tape-mark outside' })),
    sign('a report that is likely a slip', s('path', { d: 'M5 4l8 8M13 4l-8 8', class: 'tape-mark slip' })),
    sign('a sample (crossed when outside)', s('path', { d: 'M5 4h8v8h-8z', class: 'tape-sample within' })));
}

/** @param {string} words @param {...SVGElement} drawn */
function sign(words, ...drawn) {
  return h('li', {}, s('svg', { viewBox: '0 0 18 16', width: 18, height: 16, 'aria-hidden': 'true' }, drawn), words);
}
