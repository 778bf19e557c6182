import { h, put } from '../parts/h.js';
import { keepFocus } from '../parts/keep-focus.js';
import { sayDay, sayMoment } from '../parts/dates.js';
import '../parts/form-field.js';
import '../parts/entry-form.js';
import * as api from './api.js';
import { listen } from './live.js';
import { announce } from './shell.js';
import { reload } from './router.js';
import { forgetStudio } from './session.js';
import { sayError } from './problem.js';
import { KINDS, LETTERS, sayState, sayWritten } from './letter-words.js';
import { lookAtLetter, lookAtReminder, writeReminders } from './letter-look.js';

export const sheets = ['letters'];

/** @typedef {import('../shapes-letters.js').Letter} Letter */
/** @typedef {import('../shapes-letters.js').DueLetter} DueLetter */
/** @typedef {import('../shapes-letters.js').Post} Post */

/** What goes out by e-mail, and what became of it. @param {import('../shapes.js').View} view */
export async function draw(view) {
  const { page, lede, gone, title } = view;
  title('Letters');
  lede.textContent = 'By e-mail';
  const options = { signal: gone };
  const [standing, due, waiting, failed, gonePart, rules] = ['standing', 'due', 'waiting', 'failed', 'sent', 'rules'].map((id) => h('section', { class: 'sec', id, 'aria-labelledby': `${id}-title` }));
  put(page, standing, due, waiting, failed, gonePart, rules);
  /** @type {import('../shapes.js').Settings} */
  const settings = await api.get('/studio/settings', options);
  const at = (/** @type {string | null} */ moment) => sayMoment(moment, settings.zone);
  await refresh();
  drawRules();
  listen('/studio/live', refresh, gone);

  async function refresh() {
    /** @param {string} state @returns {Promise<Letter[]>} the newest ones */
    const lettersThat = (state) => api.get(`/letters?state=${state}&limit=50`, options).then((x) => x.items);
    /** @type {[Post, DueLetter[], Letter[], Letter[], Letter[], Letter[]]} */
    const [post, rows, on, bad, sent, back] = await Promise.all([api.get('/letters/post', options), api.get('/letters/due', options).then((x) => x.items),
      lettersThat('waiting'), lettersThat('failed'), lettersThat('sent'), lettersThat('withdrawn')]);
    if (gone.aborted) return;
    keepFocus(page, () => {
      drawStanding(post);
      drawDue(post, rows);
      drawList(waiting, 'Waiting', on, post.waiting);
      drawList(failed, 'Could not be sent', bad, post.failed);
      drawList(gonePart, 'Sent, and taken back', [...sent, ...back].sort((a, b) => String(b.ended_at).localeCompare(String(a.ended_at))), post.sent + back.length);
    });
  }

  /** @param {Post} post */
  function drawStanding(post) {
    const wrong = h('p', { class: 'error', role: 'alert' });
    put(standing, h('h2', { id: 'standing-title', class: 'unseen' }, 'How e-mail stands'),
      post.on ? h('p', {}, `Letters go out from ${post.from}.`)
        : h('p', { class: 'note' }, 'This server sends no e-mail: no mail server is set. What is due stands below as it would go out; copy the words on the testing page, or have TENTER_SMTP_HOST set.'),
      post.on ? h('div', { class: 'acts' }, h('button', { type: 'button', 'data-key': 'try', onclick: () => act(wrong, async () => { await api.post('/letters/test'); await refresh(); return 'A letter to you is on its way.'; }) }, 'Send a letter to myself')) : null, wrong);
  }

  /** @param {Post} post @param {DueLetter[]} rows */
  function drawDue(post, rows) {
    const wrong = h('p', { class: 'error', role: 'alert' });
    const mailable = rows.filter((r) => !r.by_hand_only && !r.by_itself && !r.doubtful && !r.not_sent);
    put(due, h('h2', { id: 'due-title' }, post.on ? 'Waits for me' : 'Would be sent'),
      rows.length === 0 ? h('p', { class: 'soft' }, 'Nothing is due to be told.') : null,
      post.on && mailable.length > 1 ? h('div', { class: 'acts' }, h('button', { type: 'button', 'data-key': 'send-all', onclick: () => act(wrong, () => send(mailable)) }, `Send all ${mailable.length} by e-mail`)) : null, wrong,
      h('ul', { class: 'plain letters' }, rows.map((r) => h('li', {},
        h('div', {}, h('b', {}, r.handle), `: ${KINDS[r.kind] || r.kind}`, h('span', { class: 'soft' }, `, since ${sayDay(r.due_on, settings.today)}`), h('div', { class: 'soft' }, r.subject),
          h('div', { class: r.not_sent || r.by_hand_only || r.doubtful ? 'pin' : 'soft' }, dueNote(post, r))),
        h('div', { class: 'row-acts' },
          h('button', { type: 'button', 'data-key': `look ${r.person_id} ${r.kind} ${r.about}`, 'aria-label': `Look at the letter to ${r.handle}: ${KINDS[r.kind] || r.kind}`, onclick: () => act(wrong, () => lookAtReminder(r.call_id, r, gone).then(() => '')) }, 'Look'),
          post.on && !r.by_hand_only ? h('button', { type: 'button', 'aria-label': `Send by e-mail to ${r.handle}: ${KINDS[r.kind] || r.kind}`, onclick: () => act(wrong, () => send([r])) }, 'Send by e-mail') : null)))));
  }

  /** One call after the other. @param {DueLetter[]} rows */
  async function send(rows) {
    const all = { written: 0, left_out: /** @type {any[]} */ ([]) };
    for (const call of new Set(rows.map((r) => r.call_id))) {
      const done = await writeReminders(call, rows.filter((r) => r.call_id === call));
      all.written += done.written;
      all.left_out.push(...done.left_out);
    }
    await refresh();
    return sayWritten(all);
  }

  /** @param {Element} section @param {string} name @param {Letter[]} rows @param {number} many */
  function drawList(section, name, rows, many) {
    const wrong = h('p', { class: 'error', role: 'alert' });
    put(section, h('h2', { id: `${section.id}-title` }, name, h('span', { class: 'soft' }, ` ${many}`)), wrong,
      rows.length === 0 ? h('p', { class: 'soft' }, 'None.') : h('ul', { class: 'plain letters' }, rows.map((l) => h('li', {},
        h('div', {}, h('b', {}, l.person.handle), l.person.doubtful ? h('span', { class: 'pin' }, ' (address not known to a mail server)') : null, `: ${KINDS[l.kind] || l.kind}`,
          h('div', { class: 'soft' }, l.erased_at ? 'The words were erased.' : l.subject), h('div', { class: l.state === 'failed' ? 'pin said' : 'soft said' }, sayState(l, at))),
        h('div', { class: 'row-acts' },
          l.erased_at ? null : button('Look', l, () => lookAtLetter(l, gone).then(() => '')),
          l.state !== 'sent' && !l.sending && !l.erased_at ? button(l.state === 'waiting' ? 'Try now' : 'Send again', l, () => change(l, 'again', 'It is on its way again.')) : null,
          (l.state === 'waiting' || l.state === 'failed') && !l.sending ? button(l.state === 'waiting' ? 'Take back' : 'Let it be', l, () => change(l, 'withdraw', 'It was taken back.')) : null)))));

    /** @param {string} say @param {Letter} l @param {() => Promise<string>} what */
    function button(say, l, what) {
      return h('button', { type: 'button', 'data-key': `${say} ${l.id}`, 'aria-label': `${say}: the letter to ${l.person.handle}, ${KINDS[l.kind] || l.kind}`, onclick: () => act(wrong, what) }, say);
    }
  }

  /** @param {Letter} l @param {'again' | 'withdraw'} what @param {string} said */
  async function change(l, what, said) {
    await api.post(`/letters/${l.id}/${what}`);
    await refresh();
    return said;
  }

  async function drawRules() {
    /** @type {Post} */
    const post = await api.get('/letters/post', options);
    put(rules, h('h2', { id: 'rules-title' }, 'What goes by itself'),
      h('div', { class: 'narrow' }, h('p', { class: 'soft' }, 'What is ticked goes out once it is due, to everybody who has an address and wants it; all else waits for you. Invitations go when you send them.'),
        h('entry-form', { '.save': save },
          h('check-field', { name: 'letters_by_itself', label: 'Kinds of letters', '.options': post.kinds.map((k) => [k.kind, LETTERS[k.kind] || k.kind]), '.value': post.kinds.filter((k) => k.by_itself).map((k) => k.kind) }),
          h('form-field', { name: 'letters_keep_days', label: 'Days for which the words of a letter are kept', kind: 'number', required: true, min: '1', max: '3650', step: '1', inputmode: 'numeric', value: String(settings.letters_keep_days),
            hint: 'Counted from when it went. That it went, to whom and when, stays.' }))));
  }

  /** @param {Record<string, any>} values */
  async function save(values) {
    await api.patch('/studio/settings', values, { revision: settings.revision });
    forgetStudio();
    announce('Saved.');
    reload();
  }
}

/** @param {Post} post @param {DueLetter} r */
function dueNote(post, r) {
  if (r.by_hand_only) return `Not by e-mail: ${r.handle} ${r.by_hand_only}.`;
  if (r.not_sent) return `The letter about this was not sent: ${r.not_sent}`;
  if (r.doubtful) return 'A mail server did not know this address.';
  if (r.by_itself) return post.on ? 'Goes by itself within minutes.' : 'Would go by itself.';
  return post.on ? '' : 'Would wait for you.';
}

/** @param {Element} wrong @param {() => Promise<string>} what */
async function act(wrong, what) {
  put(wrong);
  try {
    const said = await what();
    if (said) announce(said);
  } catch (err) {
    put(wrong, sayError(err));
  }
}
