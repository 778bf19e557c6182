import { h } from '../parts/h.js';
import { take } from './testing-plan-changes.js';
import { sentence } from './plan-words.js';

/** @typedef {import('./testing-plan.js').Proposal} Proposal */

/**
 * Places that came free when somebody withdrew, each with who takes it by the
 * plan. @param {Proposal} p
 */
export function freed(p) {
  const given = new Set();
  const notes = p.desk.assignments.filter((a) => a.state === 'withdrawn').map((a) => {
    const size = p.plan.sizes.find((z) => z.size_id === a.size.id);
    const back = p.person(a.person.id)?.present;
    if (!size || back || size.present >= size.wanted) return null;
    const next = p.plan.people.find((x) => x.proposed === size.size_id && x.present !== size.size_id && !given.has(x.person_id));
    if (next) given.add(next.person_id);
    const wrong = h('p', { class: 'error', role: 'alert' });
    const left = `${a.person.handle} withdrew from size ${size.name}${a.withdrawn_why ? ` (${a.withdrawn_why.replace(/[.\s]+$/, '')})` : ''}`;
    return h('div', { class: 'note' }, next
      ? [h('p', {}, `${left}. From the reserve: ${next.handle}. ${sentence(next.reason)}`),
        p.desk.may ? h('p', {}, h('button', { type: 'button', 'data-key': `freed-${a.id}`, onclick: () => take([next], p, wrong) }, `${next.present ? 'Move' : 'Ask'} ${next.handle}`)) : null, wrong]
      : h('p', {}, `${left}. Nobody in reserve listed it; ${size.recruit > 0 ? `recruit ${size.recruit}.` : 'the others are likely enough.'}`));
  }).filter(Boolean);
  return notes.length ? h('div', {}, notes) : null;
}
