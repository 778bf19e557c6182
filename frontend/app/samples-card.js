import { h, put } from '../parts/h.js';
import { sayGauge, sayLength, sayCM, sayNumber } from '../parts/lengths.js';
import { sayMoment } from '../parts/dates.js';
import '../parts/data-table.js';
import * as api from './api.js';
import { announce } from './shell.js';
import { sayError } from './problem.js';
import { word } from './words.js';
import { sayDifference, sayShare } from './report-words.js';
import { PURPOSES, sayHolder, sayPlace } from './samples-words.js';
import { sayHours } from './filming-words.js';
import { editSample, editMeasurements } from './samples-edit.js';
import { moveSample } from './samples-move.js';
import { photoRow } from './photo-view.js';
import { openPhotos } from './samples-photos.js';

/** @typedef {import('./samples.js').Shelf} Shelf */
/** @typedef {import('../shapes-filming.js').Sample} Sample */

/** @param {Sample} s @param {Shelf} shelf */
export function sampleCard(s, shelf) {
  const version = shelf.design.versions.find((v) => v.id === s.version_id);
  return h('article', { class: 'sec sample', id: s.id, 'aria-labelledby': `label-${s.id}` },
    h('div', { class: 'sec-head' },
      h('h2', { id: `label-${s.id}` }, s.label, h('span', { class: 'tag' }, `size ${shelf.sizeName(s.size_id)}`), h('span', { class: 'tag dashed' }, word(PURPOSES, s.purpose))),
      acts(s, shelf)),
    shelf.plan.holds.filter((x) => x.sample_id === s.id).map((x) => h('p', { class: `note ${x.at_it ? 'bad' : ''}` }, x.sentence)),
    h('div', { class: 'sample-parts' },
      h('dl', { class: 'pairs' },
        h('dt', {}, 'How far'), h('dd', { class: 'strong' }, sayPlace(s, shelf)),
        h('dt', {}, 'Where'), h('dd', {}, sayHolder(s)),
        version ? [h('dt', {}, 'Made from'), h('dd', {}, `version ${version.number}`)] : null,
        s.yarn ? [h('dt', {}, 'Yarn used'), h('dd', {}, `${sayNumber(s.yarn.value)} ${s.yarn.unit}`)] : null,
        h('dt', {}, 'Before washing'), h('dd', {}, s.before ? sayGauge(s.before) : h('span', { class: 'soft' }, 'not counted')),
        h('dt', {}, 'After washing'), h('dd', {}, s.after ? sayGauge(s.after) : h('span', { class: 'soft' }, 'not counted'))),
      h('div', {}, s.comparison.sentence ? h('p', {}, s.comparison.sentence) : null, measured(s, shelf.view.me.unit))),
    photoRow(s.photos, shelf.view.gone, s.id), history(s, shelf));
}

/** @param {Sample} s @param {Shelf} shelf */
function acts(s, shelf) {
  if (!shelf.mayWork) return null;
  const wrong = h('p', { class: 'error', role: 'alert' });
  const named = (/** @type {string} */ words) => `${words}: ${s.label}`;
  return h('div', { class: 'row-acts' },
    s.retired ? null : [
      h('button', { type: 'button', 'data-key': `move-${s.id}`, 'aria-label': named('Work on or hand over'), onclick: () => { moveSample(shelf, s).catch((err) => put(wrong, sayError(err))); } }, 'Work on or hand over'),
      h('button', { type: 'button', 'data-key': `measure-${s.id}`, 'aria-label': named('Measure'), onclick: () => editMeasurements(shelf, s) }, 'Measure'),
      h('button', { type: 'button', 'data-key': `edit-${s.id}`, 'aria-label': named('Gauge and details'), onclick: () => editSample(shelf, s) }, 'Gauge and details'),
      h('button', { type: 'button', 'data-key': `photos-${s.id}`, 'aria-label': named('Photos'), onclick: () => openPhotos(shelf, s) }, 'Photos')],
    shelf.mayMake ? h('button', { type: 'button', 'data-key': `away-${s.id}`, 'aria-label': named(s.retired ? 'Take out again' : 'Put away'), onclick: putAway }, s.retired ? 'Take out again' : 'Put away') : null, wrong);

  async function putAway() {
    try {
      await api.patch(`/samples/${s.id}`, { retired: !s.retired }, { revision: s.revision });
      await shelf.refresh();
      announce(s.retired ? `${s.label} is out again.` : `${s.label} is put away.`);
    } catch (err) {
      put(wrong, sayError(err));
    }
  }
}

/** @param {Sample} s @param {'cm'|'in'} unit */
function measured(s, unit) {
  if (s.comparison.points.length === 0) return h('p', { class: 'soft' }, 'Not measured yet.');
  const table = h('data-table', {});
  table.columns = [
    { label: 'Point', head: true, cell: (/** @type {any} */ c) => c.point },
    { label: 'Measured', num: true, cell: (/** @type {any} */ c) => sayLength(c.measured) },
    { label: 'At the design’s gauge', num: true, cell: (/** @type {any} */ c) => sayCM(c.expected_cm, unit) },
    { label: 'At its own', num: true, cell: (/** @type {any} */ c) => sayCM(c.expected_own_cm, unit) },
    { label: 'Difference', num: true, cell: (/** @type {any} */ c) => sayDifference(c.difference_cm, unit) },
    { label: 'In words', cell: (/** @type {any} */ c) => h('span', { class: c.within === false && (c.share_percent ?? 0) < 50 ? 'brass' : undefined }, sayShare(c, unit)) },
  ];
  table.rows = s.comparison.points;
  return table;
}

/** @param {Sample} s @param {Shelf} shelf */
function history(s, shelf) {
  if (s.moves.length === 0) return null;
  const { zone } = shelf.view.settings;
  return h('details', { 'data-part': `moves-${s.id}` }, h('summary', { 'data-key': `moves-${s.id}` }, s.moves.length === 1 ? 'One move' : `${s.moves.length} moves`),
    h('ol', { class: 'plain rows moves' }, [...s.moves].reverse().map((m) => h('li', {},
      h('span', { class: 'soft' }, sayMoment(m.at, zone)),
      h('div', {}, m.ripped_back ? h('p', { class: 'brass' }, 'ripped back') : null,
        h('p', {}, `${sayPlace(m, shelf)}; ${sayHolder(m)}`, m.hours ? h('span', { class: 'soft' }, `, ${sayHours(m.hours)} of making`) : null),
        m.note ? h('p', {}, m.note) : null, m.by ? h('p', { class: 'soft' }, `noted by ${m.by.handle}`) : null)))));
}
