import { h, put } from '../parts/h.js';
import { openDialog, openForm } from '../parts/open-dialog.js';
import { sayMoment } from '../parts/dates.js';
import * as api from './api.js';
import { announce } from './shell.js';
import { sayError } from './problem.js';
import { sentence } from './plan-words.js';

/** @typedef {import('./testing.js').Desk} Desk */
/** @typedef {import('../shapes-testing.js').Application} Application */

/** Everything about one offer, and the decision on it. @param {Application} a @param {Desk} desk */
export function openApplicant(a, desk) {
  const { zone } = desk.view.settings;
  const record = desk.plan?.people.find((x) => x.person_id === a.person.id)?.record;
  const body = h('div', {}, h('p', { class: 'soft' }, 'One moment.'));
  const dialog = openDialog(a.person.handle, desk.view.gone,
    h('dl', { class: 'pairs' },
      h('dt', {}, 'Offered'), h('dd', {}, sayMoment(a.applied_at, zone)),
      h('dt', {}, 'Would make'), h('dd', {}, a.sizes.map(desk.sizeName).join(', then ')),
      record ? [h('dt', {}, 'Record'), h('dd', {}, sentence(record.sentence))] : null,
      h('dt', {}, 'Yarn'), h('dd', {}, a.yarn || '–'),
      h('dt', {}, 'Remarks'), h('dd', {}, a.remarks || '–'),
      h('dt', {}, 'Agreed'), h('dd', {}, agreed(a, zone))),
    h('h3', {}, 'Body'), body,
    a.assignment ? null : h('div', { class: 'acts' }, h('button', { type: 'button', onclick: () => { dialog.close(); decide(a, desk); } }, a.declined_at ? 'Take the decision back' : 'No size this time')));
  showBody(a, desk, body);
}

/** @param {Application} a @param {string} zone */
function agreed(a, zone) {
  if (!a.agreed) return 'not yet to what testers agree to';
  return `to wording ${a.agreed.version}, ${sayMoment(a.agreed.at, zone)}${a.agreed.present ? '' : '; the call says something else now'}`;
}

/** @param {Application} a @param {Desk} desk @param {Element} to */
async function showBody(a, desk, to) {
  try {
    /** @type {import('../shapes-recruiting.js').OwnBody} */
    const own = await api.get(`/applications/${a.id}/body`, { signal: desk.view.gone });
    put(to, own.body.length === 0 ? h('p', { class: 'soft' }, 'No measurements were given.')
      : [h('p', {}, own.body.map((b) => `${b.dimension} ${b.length.value} ${b.length.unit}`).join(', '), h('span', { class: 'soft' }, ' (only you and they see this)')),
        own.advice ? h('p', { class: own.advice.fits ? 'leaf' : 'brass' }, sentence(own.advice.why)) : null]);
  } catch (err) {
    put(to, h('p', { class: 'note bad' }, sayError(err)));
  }
}

/** @param {Application} a @param {Desk} desk */
function decide(a, desk) {
  const done = async () => {
    await desk.refresh();
    announce(a.declined_at ? `${a.person.handle} may get a size again.` : `${a.person.handle} gets no size this time; the words for it are among what is to be told.`);
  };
  if (a.declined_at) {
    api.patch(`/applications/${a.id}`, { declined: false }, { revision: a.revision }).then(done, (err) => announce(sayError(err)));
    return;
  }
  openForm({ title: `No size for ${a.person.handle} this time`, say: 'Decide', gone: desk.view.gone, done,
    save: ({ why }) => api.patch(`/applications/${a.id}`, { declined: true, declined_why: why }, { revision: a.revision }) },
  h('form-field', { name: 'why', label: 'A line for them', kind: 'area', maxlength: 1000, hint: 'It goes into the letter; it may stay empty.' }));
}
