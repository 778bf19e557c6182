// The list to work through: each announced day, what goes out on it, and who
// ticked it off when.
import { h, put } from '../parts/h.js';
import { sayMoment } from '../parts/dates.js';
import * as api from './api.js';
import { announce } from './shell.js';
import { sayError } from './problem.js';
import { askEarly, wantsEarly } from './release-early.js';
import { sayReleaseDay, sayStanding, videoMark } from './release-words.js';

/** @typedef {import('./release.js').Outgoing} Outgoing */
/** @typedef {import('../shapes-release.js').ReleaseDay} ReleaseDay */
/** @typedef {import('../shapes-release.js').ReleasePart} ReleasePart */
/** @typedef {import('../shapes-release.js').ReleaseItem} ReleaseItem */

/** @param {Outgoing} out */
export function drawDays(out) {
  const { days } = out.release;
  const todo = days.filter((d) => d.standing !== 'done');
  const done = days.filter((d) => d.standing === 'done');
  if (days.length === 0) return h('p', {}, 'No installment is planned and no day is announced. Plan the run under ', h('a', { href: `/d/${out.release.design.slug}/filming` }, 'Filming'), '; the day of the text is announced in its ', h('a', { href: `/d/${out.release.design.slug}/setup` }, 'set-up'), '.');
  return [
    todo.length ? todo.map((d) => oneDay(out, d)) : h('p', { class: 'leaf' }, 'Everything that was announced is out.'),
    done.length ? h('details', { 'data-part': 'done' }, h('summary', { 'data-key': 'done' }, `Done: ${done.length} day${done.length === 1 ? '' : 's'}`), done.map((d) => oneDay(out, d))) : null];
}

/** @param {Outgoing} out @param {ReleaseDay} day */
function oneDay(out, day) {
  const standing = sayStanding(day);
  return h('article', { class: `release-day ${day.standing}` },
    h('h3', {}, sayReleaseDay(day, out.release.today), standing ? h('span', { class: day.standing === 'overdue' ? 'pin stands' : 'stands' }, standing) : null),
    day.parts.map((p) => onePart(out, p, day.on)));
}

/** @param {Outgoing} out @param {ReleasePart} part @param {string | null} on its announced day */
function onePart(out, part, on) {
  const run = out.release.installments.find((n) => n.id === part.installment_id);
  const wrong = h('p', { class: 'error', role: 'alert' });
  const name = run ? `${run.position}. ${run.title}` : 'The whole text';
  return h('section', { class: 'release-part', 'aria-label': name }, h('h4', {}, name),
    part.shut.length ? h('p', { class: 'note bad' }, 'Held back by ', h('a', { href: run ? `#gates-${run.id}` : '#gates' }, part.shut.join(', ')), '.') : null,
    h('ul', { class: 'plain ticks-off' }, part.items.map((i) => oneItem(out, part, i, { name, on }, wrong))), wrong);
}

/** @param {Outgoing} out @param {ReleasePart} part @param {ReleaseItem} item @param {{name: string, on: string | null}} of @param {Element} wrong */
function oneItem(out, part, item, of, wrong) {
  const may = item.item === 'released' ? out.mayOpen : out.mayTick;
  return h('li', { class: item.done ? 'done' : undefined },
    h('span', { class: 'what' }, h('span', { class: 'unseen' }, item.done ? 'Done: ' : 'To do: '), item.where ? h('a', { href: item.where }, item.says) : item.says,
      item.link ? [' ', h('a', { href: item.link, rel: 'noreferrer', target: '_blank' }, item.link.replace(/^https?:\/\//, ''))] : null,
      item.again ? h('span', { class: 'pin again' }, ` ${item.again}`) : null),
    item.done && item.at ? h('span', { class: 'soft when' }, sayMoment(item.at, out.view.settings.zone), item.by ? `, ${item.by}` : null) : null,
    may && !item.where ? h('button', { type: 'button', class: item.done ? 'plain no-print' : 'no-print', 'data-key': `${item.item}-${part.installment_id}`,
      'aria-label': `${item.done ? 'Take back' : 'Tick'}: ${item.says}, ${of.name}`, onclick: tick }, item.done ? 'Take back' : 'Tick') : null);

  async function tick() {
    put(wrong);
    try {
      await mark(out, part, item, {});
      await said();
    } catch (err) {
      if (of.on && wantsEarly(err)) {
        askEarly({ what: of.name, on: of.on, today: out.release.today, gone: out.view.gone, save: () => mark(out, part, item, { before_its_day: true }), done: said });
        return;
      }
      put(wrong, sayError(err));
    }
  }

  async function said() {
    await out.refresh();
    announce(`${item.says}: ${item.done ? 'taken back' : 'ticked'}.`);
  }
}

/**
 * That the video or the text is out is the installment's and the design's own
 * mark; everything else is a tick. @param {Outgoing} out @param {ReleasePart} part @param {ReleaseItem} item
 * @param {{before_its_day?: true}} early
 */
function mark(out, part, item, early) {
  const { design, installments } = out.release;
  const run = installments.find((n) => n.id === part.installment_id);
  if (item.item === 'video' && run) return api.patch(`/installments/${run.id}`, { ...videoMark(run, !item.done), ...early }, { revision: run.revision });
  if (item.item === 'released') return api.patch(out.path, { released: !item.done, ...early }, { revision: design.revision });
  return api.put(`${out.path}/release/ticks`, { item: item.item, installment_id: part.installment_id || undefined, version: item.version, done: !item.done, ...early });
}
