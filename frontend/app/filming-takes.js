import { h, put } from '../parts/h.js';
import { sayDay } from '../parts/dates.js';
import { sayLasting } from '../parts/time-code.js';
import * as api from './api.js';
import { announce } from './shell.js';
import { sayError } from './problem.js';
import { REMEDIES } from './filming-steps.js';
import { editTake, editSlip } from './filming-take-forms.js';
import { sayTake } from './filming-words.js';

/** @typedef {import('./filming.js').Shoot} Shoot */
/** @typedef {import('../shapes-filming.js').Installment} Installment */
/** @typedef {import('../shapes-filming.js').Take} Take */
/** @typedef {import('../shapes-filming.js').Slip} Slip */

/** The takes of an installment with their slips. @param {Installment} n @param {Shoot} shoot */
export function takes(n, shoot) {
  const add = shoot.mayFilm ? h('button', { type: 'button', 'data-key': `take-${n.id}`, 'aria-label': `Note a take of ${n.title}`, onclick: () => editTake(shoot, n, null) }, 'Note a take') : null;
  if (n.takes.length === 0) return add ? h('div', { class: 'acts' }, add) : null;
  const open = n.state !== 'aired';
  return h('details', { '.open': open, 'data-part': `takes-${n.id}`, class: 'takes' },
    h('summary', { 'data-key': `takes-${n.id}` }, n.takes.length === 1 ? 'One take' : `${n.takes.length} takes`),
    h('ul', { class: 'plain rows' }, [...n.takes].sort((a, b) => b.number - a.number).map((t) => take(t, n, shoot))), add ? h('div', { class: 'acts' }, add) : null);
}

/** @param {Take} t @param {Installment} n @param {Shoot} shoot */
function take(t, n, shoot) {
  const used = !t.set_aside_at && (Boolean(t.accepted_at) || (t.shots.length > 0 && t.shots.every((s) => s.accepted)));
  const name = `take ${t.number} of ${n.title}`;
  const wrong = h('p', { class: 'error', role: 'alert' });
  /** @param {string} key @param {string} words @param {() => void} act */
  const button = (key, words, act) => h('button', { type: 'button', 'data-key': `${key}-${t.id}`, 'aria-label': `${words}: ${name}`, onclick: act }, words);
  return h('li', { class: t.set_aside_at ? 'aside' : undefined },
    h('p', {}, h('b', {}, `Take ${t.number}`), ` ${sayDay(t.recorded_on, shoot.view.settings.today)}`, t.seconds ? `, ${sayLasting(t.seconds)}` : '', t.sample ? `, with ${t.sample.label}` : '',
      ' · ', h('span', { class: used ? 'leaf' : t.set_aside_at ? 'soft' : 'brass' }, sayTake(t))),
    t.note ? h('p', { class: 'soft' }, t.note) : null,
    t.slips.length ? h('ul', { class: 'plain slips' }, [...t.slips].sort((a, b) => a.at_ms - b.at_ms).map((s) => slip(s, t, shoot))) : null,
    shoot.mayFilm ? h('div', { class: 'row-acts' },
      used ? null : button('accept', 'Accept', () => change({ accepted: true }, 'is accepted')),
      t.set_aside_at ? null : button('aside', 'Set aside', () => change({ set_aside: true }, 'is set aside')),
      button('slip', 'Note a slip', () => editSlip(shoot, t, null)),
      button('edit', 'Change', () => editTake(shoot, n, t)), wrong) : null);

  /** @param {Record<string, boolean>} body @param {string} words */
  async function change(body, words) {
    try {
      await api.patch(`/takes/${t.id}`, body, { revision: t.revision });
      await shoot.refresh();
      announce(`Take ${t.number} ${words}.`);
    } catch (err) {
      put(wrong, sayError(err));
    }
  }
}

/** @param {Slip} s @param {Take} t @param {Shoot} shoot */
function slip(s, t, shoot) {
  const wrong = h('p', { class: 'error', role: 'alert' });
  return h('li', { class: s.mended_at ? 'mended' : undefined },
    h('span', { class: 'at mono' }, s.at),
    h('div', {}, h('p', {}, h('span', { class: s.mended_at ? 'soft' : undefined }, s.wrong), s.should_be ? [h('span', { class: 'soft' }, ' should be '), h('b', {}, s.should_be)] : null),
      h('p', {}, h('span', { class: 'tag' }, REMEDIES[s.remedy]), ' ', s.mended_at ? h('span', { class: 'leaf' }, 'mended') : h('span', { class: 'brass' }, 'to mend')),
      shoot.mayFilm ? h('div', { class: 'row-acts' },
        h('button', { type: 'button', 'data-key': `mend-${s.id}`, 'aria-label': `${s.mended_at ? 'Not mended after all' : 'Mended'}: slip at ${s.at}`, onclick: mend }, s.mended_at ? 'Not mended after all' : 'Mended'),
        h('button', { type: 'button', 'data-key': `slip-${s.id}`, 'aria-label': `Change the slip at ${s.at}`, onclick: () => editSlip(shoot, t, s) }, 'Change'), wrong) : null));

  async function mend() {
    try {
      await api.patch(`/slips/${s.id}`, { mended: !s.mended_at }, { revision: s.revision });
      await shoot.refresh();
      announce(s.mended_at ? `The slip at ${s.at} is open again.` : `The slip at ${s.at} is mended.`);
    } catch (err) {
      put(wrong, sayError(err));
    }
  }
}
