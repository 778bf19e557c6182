// Samples that were worked on camera and whose state nobody has noted since:
// said plainly, with the one step that notes it.
import { h } from '../parts/h.js';
import { openForm } from '../parts/open-dialog.js';
import '../parts/entry-form.js';
import '../parts/form-field.js';
import * as api from './api.js';
import { announce } from './shell.js';

/** @typedef {import('../shapes-shots.js').Unlogged} Unlogged */
/** @typedef {{gone: AbortSignal, may: boolean, refresh: () => Promise<void>}} Logger */

/** @param {Unlogged[]} list @param {Logger} by */
export function unlogged(list, by) {
  return list.map((u) => h('div', { class: 'note unlogged' }, h('p', {}, u.sentence),
    by.may ? h('div', { class: 'row-acts no-print' }, h('button', { type: 'button', 'data-key': `log-${u.sample_id}`, 'aria-label': `Log how far it is: ${u.label}`, onclick: () => log(u, by) }, 'Log how far it is')) : null));
}

/** Asked for by a person with the sample before them; nothing is logged by itself. @param {Unlogged} u @param {Logger} by */
export function log(u, by) {
  const once = new api.OnceKey();
  openForm({ title: u.label, say: `It is at ${u.state}`, gone: by.gone, save, done },
    h('p', {}, u.sentence),
    h('p', {}, `Look at the sample: is it worked to ${u.state}? If it is somewhere else, close this and say so under Samples.`),
    h('form-field', { name: 'hours', label: 'Hours of making on camera', kind: 'number', min: '0.01', step: 'any', inputmode: 'decimal', hint: 'May stay empty: talking and showing is slower than making.' }));

  /** @param {Record<string, any>} values */
  async function save(values) {
    const now = await api.get(`/samples/${u.sample_id}`);
    const body = { state: u.state_id, note: 'worked on camera', ...(values.hours ? { hours: values.hours } : {}) };
    return api.post(`/samples/${u.sample_id}/moves`, body, { revision: now.revision, key: once.for(body) });
  }

  /** @param {{warnings?: string[]}} moved */
  async function done(moved) {
    await by.refresh();
    announce([`${u.label} is noted at ${u.state}.`, ...(moved.warnings || [])].join(' '));
  }
}
