import { h, put } from '../parts/h.js';
import { sayMoment } from '../parts/dates.js';
import { announce } from './shell.js';
import { hasRole } from './session.js';
import { about, capital, figures, growthSentence, sayVerdict, sayWait } from './fit-words.js';
import { picture } from './fit-picture.js';
import { askDecision, askToMeasure, correctIt } from './fit-act.js';
import { sayError } from './problem.js';
import { sayState } from './corrections-words.js';

/** @typedef {import('../shapes-fit.js').Finding} Finding */
/** @typedef {import('../shapes-fit.js').Bench} Bench */

/** One finding whole: the sentence, its numbers, its picture, what to do next, the decision. @param {Finding} f @param {Bench} bench */
export function finding(f, bench) {
  return h('article', { class: `finding ${f.waits ? 'waits' : ''}`, id: f.key, 'aria-labelledby': `${f.key}-title` },
    h('h3', { id: `${f.key}-title` }, h('span', { class: f.waits ? 'pin' : 'soft' }, capital(sayVerdict(f.verdict))), ' ', h('span', {}, about(f))),
    h('p', { class: 'sentence' }, capital(f.message)),
    h('dl', { class: 'fit-numbers' }, figures(f).map(([name, value]) => h('div', {}, h('dt', {}, name), h('dd', {}, value)))),
    picture(f, bench.fit, bench.unit),
    next(f, bench), decision(f, bench));
}

/** One finding in a line, its picture on request. @param {Finding} f @param {Bench} bench */
export function brief(f, bench) {
  const more = h('div');
  return h('li', { id: f.key }, h('p', {}, capital(f.message)),
    h('details', { ontoggle: (/** @type {any} */ e) => { if (e.target.open && !more.firstChild) put(more, picture(f, bench.fit, bench.unit), next(f, bench)); } },
      h('summary', {}, 'Its picture'), more));
}

/** What to do next. @param {Finding} f @param {Bench} bench */
function next(f, bench) {
  const steps = remedies(f, bench).filter(Boolean);
  return steps.length ? h('div', { class: 'next' }, h('h4', {}, 'What to do next'), h('ul', {}, steps.map((s) => h('li', {}, s)))) : null;
}

/** @param {Finding} f @param {Bench} bench @returns {import('../parts/h.js').Child[]} */
function remedies(f, bench) {
  const wait = sayWait(f);
  switch (f.kind) {
    case 'cell': {
      const again = f.verdict === 'fault' ? null : askAll(f, bench);
      return [again, wait ? [wait, ' ', h('a', { href: `/d/${bench.slug}/testing` }, 'Testing')] : null, f.verdict === 'cannot_tell' ? null : toCount(f, bench), f.verdict === 'fault' ? askAll(f, bench) : null];
    }
    case 'odd_value':
    case 'readings':
      return [askOne(f, bench), h('a', { href: `/d/${bench.slug}/reports/${f.report_id}` }, `Look at ${f.who}’s report`)];
    case 'tester':
      return f.verdict === 'gauge_wrong' ? [asked(f.assignment_id || '', null, f.who || '', 'the swatch', bench), h('a', { href: `/d/${bench.slug}/reports/${f.report_id}` }, `Look at ${f.who}’s report`)] : [];
    case 'point':
      return [toCount(f, bench), h('a', { href: `/d/${bench.slug}/setup#points` }, 'Look at how it is measured')];
    case 'grading':
      return [toCount(f, bench)];
    default:
      return f.verdict === 'cannot_tell' ? [] : [stateIt(f), h('a', { href: `/d/${bench.slug}/counts` }, `Or change the counts of ${f.axis === 'row' ? 'rows' : 'stitches'}`)];
  }
}

/** The count sheet at the cell. @param {Finding} f @param {Bench} bench */
function toCount(f, bench) {
  const size = f.size || f.numbers.sizes?.[0];
  const names = f.counts || [];
  if (names.length === 0) return null;
  return ['Correct the count: ', names.map((name, i) => [i ? ', ' : '', h('a', { href: `/d/${bench.slug}/counts?at=${encodeURIComponent(name)}${size ? `&size=${encodeURIComponent(size)}` : ''}` }, size ? `${name}, size ${size}` : name)]),
    f.kind === 'cell' ? '. First compare this line of the text with the sheet: where they differ, the text is wrong.' : '.'];
}

/** Everybody of the size. @param {Finding} f @param {Bench} bench */
function askAll(f, bench) {
  const here = bench.fit.lines.filter((l) => l.point === f.point && l.size_id === f.size_id);
  return here.map((l) => asked(l.assignment_id, l.point_id, l.who, l.point, bench));
}

/** @param {Finding} f @param {Bench} bench */
const askOne = (f, bench) => asked(f.assignment_id || '', f.point_id || null, f.who || '', f.point || '', bench);

/** A button, or what came of it. @param {string} assignmentId @param {string | null} pointId @param {string} who @param {string} what @param {Bench} bench */
function asked(assignmentId, pointId, who, what, bench) {
  const open = bench.fit.requests.find((r) => r.assignment_id === assignmentId && r.point_id === pointId && !r.answered_at && !r.withdrawn_at);
  const last = bench.fit.requests.filter((r) => r.assignment_id === assignmentId && r.point_id === pointId && r.answered_at).at(-1);
  const zone = bench.view.settings.zone;
  const said = last ? h('span', { class: 'soft' }, ` ${who} has measured it again on ${sayMoment(last.answered_at, zone)}${last.same ? ' and found the same: it was made so. Ask which count they worked.' : '.'}`) : null;
  if (open) return h('span', {}, `${who} was asked on ${sayMoment(open.asked_at, zone)} to measure ${what} again and has not answered yet.`);
  if (!bench.may) return said;
  return [h('button', { type: 'button', 'data-key': `ask-${assignmentId}-${pointId}`, onclick: () => askToMeasure(bench, { assignmentId, pointId, who, what }) }, `Ask ${who} to measure ${what} again`), said];
}

/** What the text may say, to copy. @param {Finding} f */
function stateIt(f) {
  const text = growthSentence(f);
  return ['State it in the text: ', h('q', {}, text), ' ', h('button', { type: 'button', class: 'no-print', onclick: copy }, 'Copy the sentence')];

  async function copy() {
    try {
      await navigator.clipboard.writeText(text);
      announce('The sentence is copied.');
    } catch {
      announce('This browser does not let a page copy; mark the sentence and copy it.');
    }
  }
}

/** @param {Finding} f @param {Bench} bench */
function decision(f, bench) {
  if (!f.asks) return null;
  const d = f.decision;
  const say = { accepted: 'Accepted', rejected: 'Rejected', left: 'Left for later' };
  const stands = d ? h('p', { class: f.reopened ? 'note' : undefined }, f.reopened ? h('b', {}, `Open again: ${f.reopened}. `) : null,
    h('span', { class: f.reopened || d.choice === 'left' ? 'soft' : 'leaf' }, `${say[d.choice]} by ${d.who || 'somebody'} on ${sayMoment(d.decided_at, bench.view.settings.zone)}`), d.reason ? `: ${d.reason}` : '.') : null;
  /** @type {('accepted'|'rejected'|'left')[]} */
  const choices = ['accepted', 'rejected', 'left'];
  const words = { accepted: 'Accept', rejected: 'Reject…', left: 'Leave for later' };
  return h('div', { class: 'decision' }, stands, bench.may && hasRole(bench.view.me, 'designer') ? h('div', { class: 'acts' }, choices.filter((c) => f.waits ? c !== 'left' || d?.choice !== 'left' : c !== d?.choice)
    .map((c) => h('button', { type: 'button', class: c === 'accepted' && f.waits ? 'main' : undefined, 'data-key': `${c}-${f.key}`, onclick: () => askDecision(bench, f, c) }, words[c])), correct(f, bench)) : null);
}

/** A fault that was accepted may have gone out: a correction starts here. @param {Finding} f @param {Bench} bench */
function correct(f, bench) {
  if (f.waits || f.decision?.choice !== 'accepted' || !['cell', 'point', 'grading', 'fabric'].includes(f.kind)) return null;
  const known = bench.corrections.find((c) => c.finding_key === f.key && c.state !== 'withdrawn');
  if (known) return h('a', { href: `/d/${bench.slug}/corrections#correction-${known.number}` }, `Correction ${known.number}: ${sayState(known)}`);
  return h('button', { type: 'button', class: 'main', 'data-key': `correct-${f.key}`, onclick: () => correctIt(bench, f).catch((err) => announce(sayError(err))) }, 'Write a correction');
}
