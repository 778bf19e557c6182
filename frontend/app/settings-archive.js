import { h } from '../parts/h.js';
import { fetchFile, takeOut } from './take-out.js';

/** The whole studio as one file, and its tables. */
export function archiveSection() {
  return h('section', { class: 'sec narrow', id: 'archive' }, h('h2', {}, 'Taking everything along'),
    h('p', {}, 'One zip archive of the whole studio, with the photos, from which ', h('code', {}, 'tenter archive in'), ' makes a studio on another server. It holds people’s addresses and body measurements: keep it safe. Passwords are not in it; everybody chooses a new one by an invitation.'),
    h('div', { class: 'acts' }, h('button', { type: 'button', onclick: () => fetchFile('/studio/archive') }, 'Download the archive')),
    h('p', {}, 'Or a table by itself:'),
    takeOut('/tables/designs', 'the designs'), takeOut('/tables/people', 'the people'), takeOut('/tables/body-tables', 'body tables'), takeOut('/tables/events', 'every change'));
}
