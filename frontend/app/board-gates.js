import { h, put } from '../parts/h.js';

/** @typedef {import('../shapes.js').Board} Board */

/**
 * The gates still shut, each with its reason and the way to the place where it
 * is opened. @param {Element} section @param {Board} board
 */
export function drawGates(section, board) {
  const shut = board.gates.filter((g) => g.shut);
  const open = board.gates.filter((g) => !g.shut);
  put(section, h('h2', { id: 'gates-title' }, shut.length === 0 ? 'Every gate is open' : `Gates to release: ${shut.length} shut`),
    h('ul', { class: 'plain gates' },
      shut.map((g) => h('li', {}, h('b', {}, g.name), g.where ? h('a', { href: g.where }, g.why) : h('span', {}, g.why)))),
    open.length ? h('p', { class: 'soft' }, 'Open: ', open.map((g) => (g.by_hand ? `${g.name} (by hand)` : g.name)).join(', '), '.') : null,
    h('p', { class: 'no-print' }, h('a', { href: `/d/${encodeURIComponent(board.design.slug)}/release` }, 'The gates of each installment, and what goes out when')));
}

/**
 * The four tracks in one line each, and what the reports say about the gauge.
 * @param {Element} section @param {Board} board
 */
export function drawTracks(section, board) {
  put(section, h('h2', { id: 'tracks-title', class: 'unseen' }, 'Tracks'),
    h('dl', { class: 'track-row' }, board.tracks.map((t) => h('div', {},
      h('dt', {}, t.name, t.of ? h('span', { class: 'figure' }, `${t.done}/${t.of}`) : null), h('dd', {}, t.sentence)))),
    board.gauge?.sentence ? h('p', { class: board.gauge.state === 'not_borne_out' ? 'note' : 'soft' }, board.gauge.sentence) : null);
}
