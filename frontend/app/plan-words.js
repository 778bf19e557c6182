// What the proposal says in words.

/** @typedef {import('../shapes-recruiting.js').Plan} Plan */
/** @typedef {import('../shapes-recruiting.js').PlanPerson} PlanPerson */
/** @typedef {import('../shapes-recruiting.js').PlanSize} PlanSize */

/** `one tester`, `3 testers`. @param {number} n @param {string} noun */
const many = (n, noun) => `${n === 1 ? 'one' : n} ${noun}${n === 1 ? '' : 's'}`;

/** Those for whom something changes, in the order asked, moved, released. @param {PlanPerson[]} people */
export function changesOf(people) {
  const order = ['ask', 'move', 'release'];
  return people.filter((p) => order.includes(p.change)).sort((a, b) => order.indexOf(a.change) - order.indexOf(b.change) || a.handle.localeCompare(b.handle));
}

/** The plan in one sentence. @param {Plan} plan */
export function sayPlan(plan) {
  const count = (/** @type {string} */ c) => plan.people.filter((p) => p.change === c).length;
  const parts = [count('ask') && `asks ${many(count('ask'), 'tester')}`, count('move') && `moves ${many(count('move'), 'tester')}`,
    count('release') && `releases ${many(count('release'), 'tester')}`].filter(Boolean);
  const does = parts.length ? `The plan ${listed(parts)}` : 'The plan changes nothing';
  const { short, below_wanted: below } = plan.objective;
  const then = short ? `then the sizes together lack ${many(short, 'tester')} of the fewest`
    : below ? `then every size has its fewest and ${many(below, 'wanted place')} ${below === 1 ? 'stays' : 'stay'} empty` : 'then every size has as many as wanted';
  return `${does}; ${then}.`;
}

/** @param {(string|number|false)[]} parts */
function listed(parts) {
  return parts.length < 2 ? String(parts[0]) : `${parts.slice(0, -1).join(', ')} and ${parts.at(-1)}`;
}

/** What taking the given changes does, as a button says it. @param {PlanPerson[]} taken */
export function sayTake(taken) {
  const count = (/** @type {string} */ c) => taken.filter((p) => p.change === c).length;
  const parts = [count('ask') && `ask ${count('ask')}`, count('move') && `move ${count('move')}`, count('release') && `release ${count('release')}`].filter(Boolean);
  const words = listed(parts);
  return parts.length ? words[0].toUpperCase() + words.slice(1) : 'Nothing ticked';
}

/** @param {number} p */
export function sayChance(p) {
  if (p > 0.995) return p === 1 ? 'certain' : 'over 99 %';
  if (p > 0 && p < 0.005) return 'under 1 %';
  return `${Math.round(p * 100)} %`;
}

/** How a size stands under the plan. @param {PlanSize} size @param {number} asked */
export function saySize(size, asked) {
  if (size.fewest === 0) return 'no report needed';
  const enough = size.fewest === 1 ? 'at least one report' : `at least ${size.fewest} reports`;
  const recruit = size.recruit > 0 ? `; ${many(size.recruit, 'newcomer')} more would make it ${sayChance(asked)}` : '';
  return `${sayChance(size.then.probability)} for ${enough}${size.now.probability === size.then.probability ? '' : `, ${sayChance(size.now.probability)} as it is now`}${recruit}`;
}

/** The sizes to recruit for, '' when there are none. @param {PlanSize[]} sizes */
export function sayRecruit(sizes) {
  const need = sizes.filter((z) => z.recruit > 0);
  if (need.length === 0) return '';
  return `To recruit: ${listed(need.map((z) => `${z.recruit} for size ${z.name}`))}.`;
}

/** First letter large, stop at the end. @param {string} text */
export const sentence = (text) => text && `${text[0].toUpperCase()}${text.slice(1)}${/[.!?]$/.test(text) ? '' : '.'}`;
