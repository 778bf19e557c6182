import { h, put } from '../parts/h.js';
import { sayLength, sayCM } from '../parts/lengths.js';
import { sayDay } from '../parts/dates.js';
import { readTimeCode } from '../parts/time-code.js';
import { announce } from './shell.js';
import { sayError } from './problem.js';
import { unlogged } from './filming-unlogged.js';
import { sayHours, sayPiece } from './filming-words.js';

/** @typedef {import('./filming-sheet.js').Desk} Desk */
/** @typedef {import('../shapes-shots.js').SheetShot} SheetShot */
/** @typedef {import('../shapes-shots.js').ShotTake} ShotTake */

/** @param {SheetShot} shot @param {Desk} desk */
export function shotCard(shot, desk) {
  const unit = desk.view.me.unit;
  return h('li', { class: 'sheet-shot', id: shot.id },
    h('div', { class: 'sec-head' },
      h('h2', {}, h('span', { class: 'box', 'aria-hidden': 'true' }, shot.recorded ? '✓' : ''), `${shot.position}. ${shot.title}`, h('span', { class: 'unseen' }, shot.recorded ? ', recorded' : ', not recorded')),
      desk.recorder.stampButton(shot)),
    sample(shot, desk),
    facts(shot),
    shot.said.length ? h('ul', { class: 'plain say' }, shot.said.map((x) => h('li', {},
      h('span', { class: 'demo' }, x.demo === null ? '–' : x.demo), h('span', {}, x.words || x.count), x.line ? h('span', { class: 'line mono' }, x.line) : h('span', { class: 'pin' }, 'not in the text any more')))) : null,
    shot.skips.map((x) => h('p', { class: 'brass' }, x)),
    shot.differs ? h('p', {}, h('b', {}, 'Sizes differ: '), shot.differs) : null,
    shot.tails.map((t) => h('p', {}, h('b', {}, `Tail for the ${t.seam}: `), `about ${sayCM(t.low_cm, unit)} to ${sayCM(t.high_cm, unit)}`, h('span', { class: 'soft' }, `, a rule of thumb: three to four times the seam (${sayLength(t.length)}) and a bit`))),
    shot.note ? h('p', { class: 'soft' }, shot.note) : null,
    shot.flags.map((f) => h('p', { class: 'note bad' }, f)),
    shot.recorded ? null : h('p', { class: 'by-hand', 'aria-hidden': 'true' }, 'Began at', h('i'), 'Slips', h('i')),
    shot.takes.length ? h('ul', { class: 'plain shot-takes' }, shot.takes.map((k) => takeLine(k, shot, desk))) : null,
    unlogged(desk.sheet.unlogged.filter((u) => u.shot_id === shot.id), { gone: desk.view.gone, may: desk.mayFilm, refresh: desk.refresh }));
}

/** @param {SheetShot} shot @param {Desk} desk */
function sample(shot, desk) {
  if (shot.recorded) return h('p', { class: 'leaf' }, `recorded in take ${shot.recorded.number}`);
  const where = h('b', {}, shot.from_words);
  const p = shot.plan;
  if (!p) return h('p', {}, 'Sample at ', where, ', when a day is set.');
  if (p.message) return h('p', { class: 'note bad' }, 'Sample at ', where, ': none. ', p.message);
  const ready = shot.here === shot.from_words;
  return h('p', {}, 'With ', h('span', { class: 'tag dashed' }, p.sample), sayPiece(p), ', worked to ', where,
    ready ? h('span', { class: 'leaf' }, ', where it is') : p.work_hours ? h('span', { class: 'brass' }, `, ${sayHours(p.work_hours)} of making before ${sayDay(p.on, desk.sheet.today)}`) : null,
    shot.to_words !== shot.from_words ? `; worked on camera to ${shot.to_words}` : '', '.');
}

/** What has to be in place. @param {SheetShot} shot */
function facts(shot) {
  const rows = [['Attached', shot.attached], ['Marked', shot.marked], ['Live', shot.live]].filter(([, text]) => text);
  return rows.length ? h('dl', { class: 'pairs' }, rows.map(([name, text]) => [h('dt', {}, name), h('dd', {}, text)])) : null;
}

/** @param {ShotTake} k @param {SheetShot} shot @param {Desk} desk */
function takeLine(k, shot, desk) {
  const wrong = h('p', { class: 'error', role: 'alert' });
  const state = k.set_aside ? 'set aside' : k.again ? 'to be recorded again' : k.accepted ? 'accepted' : 'not looked at yet';
  const name = `${shot.title} in take ${k.number}`;
  const code = h('input', { class: 'code mono', value: k.at || '', 'aria-label': `Time code of ${name}`, placeholder: '0:00', autocomplete: 'off', 'data-key': `code-${shot.id}-${k.take_id}`, onchange: typed });
  return h('li', { class: k.set_aside ? 'aside' : undefined },
    h('b', {}, `Take ${k.number}`), desk.mayFilm && !k.set_aside ? code : h('span', { class: 'mono' }, k.at || 'not stamped'),
    k.until ? h('span', { class: 'soft mono' }, `– ${k.until}`) : null,
    h('span', { class: k.accepted && !k.again ? 'leaf' : k.set_aside ? 'soft' : 'brass' }, state),
    desk.mayFilm && !k.set_aside ? [
      h('button', { type: 'button', 'data-key': `ok-${shot.id}-${k.take_id}`, 'aria-label': k.accepted ? `Not after all: ${name}` : `Accept: ${name}`, onclick: () => change({ accepted: !k.accepted }) }, k.accepted ? 'Not after all' : 'Accept'),
      h('button', { type: 'button', class: 'plain', 'data-key': `out-${shot.id}-${k.take_id}`, 'aria-label': `Not in it: ${name}`, onclick: () => change(null) }, 'Not in it')] : null,
    k.said.length ? h('span', { class: 'soft small' }, `said ${k.said.map((x) => `${x.said} (${x.count})`).join(', ')}`) : null,
    k.flags.length && !shot.recorded ? h('span', { class: 'pin' }, k.flags.join('; ')) : null, wrong);

  function typed() {
    const text = code.value.trim().replace(',', '.');
    if (text && readTimeCode(text) === null) {
      put(wrong, 'This is not a time code. Write it like 12:04.');
      code.setAttribute('aria-invalid', 'true');
      return;
    }
    code.removeAttribute('aria-invalid');
    change({ at: text || undefined });
  }

  /** @param {Record<string, any> | null} what */
  async function change(what) {
    try {
      await desk.recorder.put(k.take_id, shot.id, what);
      announce(`${name}: noted.`);
    } catch (err) {
      put(wrong, sayError(err));
    }
  }
}
