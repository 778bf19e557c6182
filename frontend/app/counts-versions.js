// The versions of a design: who makes which, and what differs between two.
import { h, put } from '../parts/h.js';
import { sayMoment } from '../parts/dates.js';
import * as api from './api.js';
import { sayError } from './problem.js';
import { word, COUNT_UNITS } from './words.js';

/** @typedef {import('../shapes-counts.js').MadeVersion} MadeVersion */
/** @typedef {import('../shapes-counts.js').VersionMaker} VersionMaker */
/** @typedef {import('../shapes-counts.js').Comparison} Comparison */

/**
 * @param {import('../shapes.js').Design} design @param {{id: string, number: number}} shown
 * @param {AbortSignal} gone @param {string} zone
 */
export function drawVersions(design, shown, gone, zone) {
  const body = h('div', {}, h('p', { class: 'soft' }, 'One moment.'));
  load();
  return h('section', { class: 'sec', id: 'versions', 'aria-labelledby': 'versions-title' }, h('h2', { id: 'versions-title' }, 'Versions and who makes them'), body);

  async function load() {
    try {
      /** @type {MadeVersion[]} */
      const list = await api.all(`/designs/${encodeURIComponent(design.slug)}/versions`, { signal: gone });
      list.sort((a, b) => b.number - a.number);
      put(body, h('ul', { class: 'plain rows' }, list.map((v) => item(v, design.slug, shown.id, zone))), list.length > 1 ? compare(list, shown, design, gone) : null);
    } catch (err) {
      if (!gone.aborted) put(body, h('p', { class: 'pin', role: 'alert' }, sayError(err)));
    }
  }
}

/** @param {MadeVersion} v @param {string} slug @param {string} shownID @param {string} zone */
function item(v, slug, shownID, zone) {
  return h('li', {},
    h('a', { href: `/d/${encodeURIComponent(slug)}/counts?v=${v.number}`, 'aria-current': v.id === shownID ? 'page' : undefined }, `Version ${v.number}`), v.note ? ` ${v.note}` : '',
    h('span', { class: 'soft' }, v.given_out_at ? ` · given out on ${sayMoment(v.given_out_at, zone)}` : ' · not given out', v.sign_off ? ` · signed off by ${v.sign_off.name || 'somebody'}` : ''),
    v.testers.length ? h('p', { class: 'small makers' }, v.testers.map((m) => `${m.handle} (size ${m.size}, ${m.state})`).join(', ')) : null);
}

/** @param {MadeVersion[]} list @param {{id: string, number: number}} shown @param {import('../shapes.js').Design} design @param {AbortSignal} gone */
function compare(list, shown, design, gone) {
  const [to, from] = [list.find((v) => v.id === shown.id) || list[0], list.find((v) => v.number < shown.number) || list[list.length - 1]];
  const pick = (/** @type {string} */ label, /** @type {MadeVersion} */ chosen) => {
    const select = h('select', { 'aria-label': label }, list.map((v) => h('option', { value: v.id }, `version ${v.number}`)));
    select.value = chosen.id;
    return select;
  };
  const [left, right] = [pick('Earlier version', from), pick('Later version', to)];
  const out = h('div', { 'aria-live': 'polite' });
  const run = async () => {
    try {
      put(out, differences(await api.get(`/versions/${right.value}/changes?since=${left.value}`, { signal: gone }), design));
    } catch (err) {
      if (!gone.aborted) put(out, h('p', { class: 'pin' }, sayError(err)));
    }
  };
  return h('div', {}, h('h3', {}, 'What differs'), h('div', { class: 'acts' }, 'From', left, 'to', right, h('button', { type: 'button', onclick: run }, 'Compare')), out);
}

/** @param {Comparison} c @param {import('../shapes.js').Design} design */
function differences(c, design) {
  if (c.changes.length + c.rules.length === 0) return h('p', {}, 'Nothing differs.');
  const say = (/** @type {number | null | undefined} */ v) => (v === null || v === undefined ? '–' : String(v));
  /** @param {Comparison['changes'][number]} d */
  const words = (d) => {
    switch (d.kind) {
      case 'line_added': return 'new line';
      case 'line_removed': return 'line taken out';
      case 'unit_changed': return `${word(COUNT_UNITS, d.unit_before || '')} → ${word(COUNT_UNITS, d.unit_after || '')}`;
      case 'size_added': return 'new size';
      case 'size_removed': return 'size taken out';
      default: return `${say(d.before)} → ${say(d.after)}`;
    }
  };
  const rule = (/** @type {import('../shapes.js').Rule | null} */ r) => (r ? `${r.expr}${r.kind === 'multiple' ? `, a multiple of ${r.of} + ${r.plus || 0}` : ''}` : 'none');
  return [
    c.changes.length ? h('div', { class: 'wide', tabindex: '0', role: 'group', 'aria-label': 'What differs' }, h('table', { class: 'changes' },
      h('thead', {}, h('tr', {}, ['Count', 'Size', 'Change', `Made version ${c.from.number}`].map((w) => h('th', { scope: 'col' }, w)))),
      h('tbody', {}, c.changes.map((d) => h('tr', {}, h('th', { scope: 'row' }, d.line || '–'), h('td', {}, d.size || 'all'), h('td', { class: 'mono' }, words(d)),
        h('td', {}, d.testers.length ? d.testers.map((m) => m.handle).join(', ') : h('span', { class: 'soft' }, 'nobody'))))))) : null,
    c.rules.length ? h('ul', {}, c.rules.map((r) => h('li', {}, `Rule “${r.name}”: ${rule(r.before)} → ${rule(r.after)}`))) : null,
    c.changes.some((d) => d.testers.length) ? h('p', { class: 'soft' }, `Those testers see on their own page what is otherwise in their size. `, h('a', { href: `/d/${encodeURIComponent(design.slug)}/testing` }, 'Testing')) : null,
  ];
}
