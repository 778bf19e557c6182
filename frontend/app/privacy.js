import { h, put } from '../parts/h.js';
import '../parts/data-table.js';
import * as api from './api.js';
import { ROLES, word } from './words.js';
import { whoSees } from './privacy-words.js';

export const sheets = ['data-table', 'keeping'];

/** @typedef {import('../shapes-keeping.js').PrivacyFact} Fact */

/** What each role can see of a tester, on one page. @param {import('../shapes.js').View} view */
export async function draw({ page, lede, settings, gone, title }) {
  title('Who sees what of a tester');
  lede.textContent = settings.name;
  /** @type {import('../shapes-keeping.js').Privacy} */
  const privacy = await api.get('/privacy', { signal: gone });
  const table = h('data-table', {});
  table.columns = [
    { label: 'What', head: true, cell: (/** @type {Fact} */ f) => f.what },
    { label: 'Who sees it', cell: (/** @type {Fact} */ f) => whoSees(f.seen_by, (r) => word(ROLES, r)) },
    { label: 'What for', cell: (/** @type {Fact} */ f) => f.why },
  ];
  table.rows = privacy.facts;
  put(page, h('p', {}, 'You are the tester. Other testers see nothing of you, and neither does anybody who is not signed in.'), table,
    h('section', { class: 'sec narrow keeping' }, h('h2', {}, 'How long it is kept'),
      h('p', {}, privacy.forget_after_months
        ? `Until you ask for it to be erased, or until you have not taken part for ${privacy.forget_after_months} months.`
        : 'Until you ask for it to be erased.'),
      h('p', {}, 'Erasing takes your name, handle, e-mail address, password, body measurements and everything that you wrote. What you measured stays, as the work of nobody. The studio’s safety copies keep you until they are replaced.'),
      h('p', {}, 'See it, download it or have it erased on ', h('a', { href: '/me' }, 'your own page'), ', or ask the designer.')));
}
