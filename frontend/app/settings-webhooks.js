import { h, put } from '../parts/h.js';
import { openDialog, openForm } from '../parts/open-dialog.js';
import { keepFocus } from '../parts/keep-focus.js';
import '../parts/form-field.js';
import '../parts/data-table.js';
import * as api from './api.js';
import { announce } from './shell.js';
import { sayError } from './problem.js';
import { sayMoment } from '../parts/dates.js';
import { sayNotice } from './webhook-words.js';

/** @typedef {import('../shapes-webhooks.js').Webhook} Webhook */
/** @typedef {import('../shapes-webhooks.js').WebhookKind} WebhookKind */
/** @typedef {import('../shapes-webhooks.js').WebhookDelivery} WebhookDelivery */

/** Other programs that are told of what happens. @param {import('../shapes.js').View} view */
export function webhooksSection({ gone, settings }) {
  const list = h('div', {});
  const adding = h('button', { type: 'button', 'data-key': 'add-webhook', onclick: () => edit(null) }, 'Add a webhook …');
  const trouble = h('div', { role: 'alert' });
  /** @type {WebhookKind[]} */
  let kinds = [];
  load();
  return h('section', { class: 'sec', id: 'webhooks' }, h('h2', {}, 'Other programs'),
    h('p', {}, 'A webhook tells another program of the studio’s, at its address, that something happened: what and where, never its content and nobody’s name. Each notice is signed with a secret that only the two know.'),
    trouble, list, h('div', { class: 'acts' }, adding));

  async function load() {
    await reached(async () => {
      const [hooks, known] = await Promise.all([api.get('/webhooks', { signal: gone }), api.get('/webhook-kinds', { signal: gone })]);
      kinds = known.items;
      keepFocus(list, () => put(list, hooks.items.length ? h('ul', { class: 'plain rows' }, hooks.items.map(one)) : h('p', { class: 'soft' }, 'No program is told anything.')), () => adding);
    });
  }

  /** @param {() => Promise<void>} what */
  async function reached(what) {
    put(trouble);
    try {
      await what();
    } catch (err) {
      if (!gone.aborted) put(trouble, h('p', { class: 'note bad' }, sayError(err)));
    }
  }

  /** @param {Webhook} w */
  function one(w) {
    return h('li', {}, h('p', {}, h('b', {}, w.name), ' · ', h('span', { class: 'webhook-url' }, w.url)),
      h('p', { class: 'soft' }, `Is told of: ${w.kinds.join(', ')}.`, w.old_secret_until && w.old_secret_until > new Date().toISOString() ? ` The secret before signs as well until ${sayMoment(w.old_secret_until, settings.zone)}.` : ''),
      w.disabled_at ? h('p', { class: 'note bad' }, `Stopped on ${sayMoment(w.disabled_at, settings.zone)}: ${w.disabled_why || 'by hand'}.`)
        : w.failing_since ? h('p', { class: 'note' }, `Has not got through since ${sayMoment(w.failing_since, settings.zone)}, ${w.failures} ${w.failures === 1 ? 'try' : 'tries'} in a row. It is tried again by itself.`) : null,
      h('div', { class: 'acts' },
        h('button', { type: 'button', 'data-key': `change ${w.id}`, 'aria-label': `Change ${w.name}`, onclick: () => edit(w) }, 'Change'),
        h('button', { type: 'button', 'aria-label': `Send a trial to ${w.name}`, onclick: () => trial(w) }, 'Send a trial'),
        h('button', { type: 'button', 'data-key': `log ${w.id}`, 'aria-label': `What it was told: ${w.name}`, onclick: () => log(w) }, 'What it was told'),
        h('button', { type: 'button', 'data-key': `stop ${w.id}`, 'aria-label': w.disabled_at ? `Start again: ${w.name}` : `Stop ${w.name}`, onclick: () => change(w, { enabled: Boolean(w.disabled_at) }) }, w.disabled_at ? 'Start again' : 'Stop'),
        h('button', { type: 'button', 'data-key': `secret ${w.id}`, 'aria-label': `Another secret for ${w.name}`, onclick: () => renew(w) }, 'Another secret'),
        h('button', { type: 'button', class: 'plain', 'aria-label': `End ${w.name}`, onclick: () => end(w) }, 'End')));
  }

  /** @param {Webhook | null} w */
  function edit(w) {
    const once = new api.OnceKey();
    openForm({
      title: w ? w.name : 'Add a webhook', say: w ? 'Save' : 'Add', gone,
      save: async (values) => (w ? api.patch(`/webhooks/${w.id}`, values, { revision: w.revision }) : api.post('/webhooks', values, { key: once.for(values) })),
      done: async (saved) => { await load(); if (saved.secret) show(saved); },
    },
    h('form-field', { name: 'name', label: 'Name', required: true, maxlength: 120, autocomplete: 'off', value: w?.name }),
    h('form-field', { name: 'url', label: 'Address', required: true, maxlength: 1000, autocapitalize: 'off', spellcheck: 'false', autocomplete: 'off', hint: 'Begins with https://.', value: w?.url }),
    h('check-field', { name: 'kinds', label: 'Of what it is told', required: true, '.options': kinds.map((k) => [k.name, k.says]), '.value': w?.kinds || [] }));
  }

  /** @param {Webhook} w */
  function show(w) {
    openDialog(`The secret of ${w.name}`, gone,
      h('p', {}, 'Give this to the other program now: it is not shown again.'),
      h('p', {}, h('code', { class: 'webhook-secret' }, w.secret)),
      h('p', { class: 'soft' }, 'It is the key of an HMAC-SHA256 over the header Tenter-Delivery, a full stop, the header Tenter-Timestamp, a full stop, and the body as it came; in hex, it stands in Tenter-Signature behind hmac-sha256=. Refuse a notice whose moment is more than a few minutes off.'));
  }

  /** @param {Webhook} w @param {Record<string, any>} values */
  function change(w, values) {
    return reached(async () => {
      await api.patch(`/webhooks/${w.id}`, values, { revision: w.revision });
      await load();
    });
  }

  /** @param {Webhook} w */
  function trial(w) {
    return reached(async () => {
      await api.post(`/webhooks/${w.id}/trial`);
      announce('The trial is on its way; see what came of it under What it was told.');
    });
  }

  /** @param {Webhook} w */
  function renew(w) {
    openForm({ title: `Another secret for ${w.name}`, say: 'Make it', gone, save: () => api.post(`/webhooks/${w.id}/secret`, {}, { revision: w.revision }), done: async (saved) => { await load(); show(saved); } },
      h('p', {}, 'For a day both secrets sign, so that the other program can be changed in peace.'));
  }

  /** @param {Webhook} w */
  function end(w) {
    openForm({ title: `End ${w.name}`, say: 'End it', gone, save: () => api.remove(`/webhooks/${w.id}`, { revision: w.revision }), done: load },
      h('p', {}, 'It is told nothing any more, and its secret is forgotten.'));
  }

  /** @param {Webhook} w */
  async function log(w) {
    await reached(async () => {
      const inside = h('div', {});
      const fill = async () => { put(inside, deliveries(await api.get(`/webhooks/${w.id}/deliveries`, { signal: gone }), again)); };
      /** @param {WebhookDelivery} d */
      const again = (d) => api.post(`/webhook-deliveries/${d.id}/again`).then(fill, (err) => put(inside, h('p', { class: 'note bad' }, sayError(err))));
      await fill();
      openDialog(`What ${w.name} was told`, gone, h('div', { class: 'acts' }, h('button', { type: 'button', onclick: fill }, 'Look again')), inside);
    });
  }

  /** @param {{items: WebhookDelivery[]}} found @param {(d: WebhookDelivery) => void} again */
  function deliveries(found, again) {
    return h('data-table', { empty: 'Nothing yet.', '.rows': found.items, '.columns': [
      { label: 'When', head: true, cell: (/** @type {WebhookDelivery} */ d) => sayMoment(d.at, settings.zone) },
      { label: 'Of', cell: (/** @type {WebhookDelivery} */ d) => h('details', {}, h('summary', {}, sayNotice(d.kind, kinds)), h('code', {}, d.body)) },
      { label: 'What came of it', cell: (/** @type {WebhookDelivery} */ d) => came(d) },
      { label: '', cell: (/** @type {WebhookDelivery} */ d) => h('button', { type: 'button', 'aria-label': `Send again the notice of ${sayMoment(d.at, settings.zone)}`, onclick: () => again(d) }, 'Send again') }] });
  }

  /** @param {WebhookDelivery} d */
  function came(d) {
    if (d.delivered_at) return `Got through, answered ${d.status}.`;
    if (d.given_up_at) return `Given up after ${d.tries} ${d.tries === 1 ? 'try' : 'tries'}: ${d.problem}.`;
    return d.tries ? `${d.problem}; tried again at ${sayMoment(d.due_at || d.at, settings.zone)}.` : 'On its way.';
  }
}
