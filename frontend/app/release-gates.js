// The gates: which are shut and why, which were opened by hand, by whom and for
// which reason, and the way to open one.
import { h } from '../parts/h.js';
import { sayDay, sayMoment } from '../parts/dates.js';
import { openForm } from '../parts/open-dialog.js';
import * as api from './api.js';
import { announce } from './shell.js';
import { sayError } from './problem.js';
import { openedFor, sayWentOut } from './release-words.js';

/** @typedef {import('./release.js').Outgoing} Outgoing */
/** @typedef {import('../shapes-release.js').ReleaseGate} ReleaseGate */
/** @typedef {import('../shapes-release.js').ReleaseRun} ReleaseRun */
/** @typedef {import('../shapes-release.js').GateOverride} GateOverride */

/** @param {Outgoing} out */
export function designGates(out) {
  return [h('p', { class: 'soft' }, out.release.design.released_at ? 'The text is out. Those with a star hold back every installment that is still to come.' : 'The text can be marked as out when each of these is open. Those with a star hold back every installment as well.'), gateList(out, out.release.gates, null, out.release.design.name)];
}

/** @param {Outgoing} out */
export function installmentGates(out) {
  const next = out.release.installments.find((n) => n.state !== 'aired');
  return out.release.installments.map((n) => (n.state === 'aired' ? wentOut(out, n) : h('details', { class: 'run-gates', id: `gates-${n.id}`, 'data-part': n.id, open: n.id === next?.id && n.shut.length > 0 },
    h('summary', {}, h('h3', {}, `${n.position}. ${n.title}`), h('span', { class: n.shut.length ? 'pin' : 'soft' }, sayRun(n, out.release.today))),
    gateList(out, n.gates, n.id, n.title))));
}

/**
 * An installment that is out has no gate left to open: only when it went out, and
 * what was open by hand then. @param {Outgoing} out @param {ReleaseRun} n
 */
function wentOut(out, n) {
  const hand = openedFor(n);
  return h('div', { class: 'run-gates out', id: `gates-${n.id}` },
    h('div', { class: 'out-line' }, h('h3', {}, `${n.position}. ${n.title}`), h('span', { class: 'leaf' }, sayWentOut(n, out.release.today, out.view.settings.zone))),
    hand.length ? h('ul', { class: 'plain release-gates' }, hand.map((g) => h('li', {}, h('p', {}, h('b', {}, g.name), h('span', { class: 'stands' }, 'opened by hand')), by(out, /** @type {GateOverride} */ (g.opened))))) : null);
}

/** @param {ReleaseRun} n @param {string} today */
function sayRun(n, today) {
  const day = n.air_on ? `, ${sayDay(n.air_on, today)}` : '';
  if (n.shut.length === 0) return `every gate is open${day}`;
  return `${n.shut.length} gate${n.shut.length === 1 ? '' : 's'} shut${day}`;
}

/** @param {Outgoing} out @param {ReleaseGate[]} gates @param {string | null} installment @param {string} of */
function gateList(out, gates, installment, of) {
  const told = gates.filter((g) => g.shut || g.by_hand || g.opened);
  const open = gates.filter((g) => !told.includes(g));
  return [
    told.length ? h('ul', { class: 'plain release-gates' }, told.map((g) => oneGate(out, g, installment, of))) : null,
    open.length ? h('p', { class: 'soft' }, told.length ? 'Open: ' : 'All open: ', open.map((g) => star(g, installment)).join(', '), '.') : null];
}

/** @param {ReleaseGate} g @param {string | null} installment */
const star = (g, installment) => (g.holds_installments && !installment ? `${g.name}*` : g.name);

/** @param {Outgoing} out @param {ReleaseGate} g @param {string | null} installment @param {string} of */
function oneGate(out, g, installment, of) {
  const state = g.shut ? 'shut' : g.by_hand ? 'opened by hand' : 'open';
  // The design's own override is shown with the design; here only what is this installment's.
  const own = g.opened && (g.opened.installment_id || null) === installment;
  return h('li', { class: g.shut ? 'shut' : undefined },
    h('p', {}, h('b', {}, star(g, installment)), h('span', { class: g.shut ? 'pin stands' : 'stands' }, state)),
    installment && g.holds_installments ? h('p', {}, h('a', { href: '#gates' }, 'As for the whole design, above.')) : g.why ? h('p', {}, h('a', { href: g.where }, g.why)) : null,
    g.opened ? by(out, g.opened) : null,
    g.again ? h('p', { class: 'pin' }, g.again) : null,
    h('div', { class: 'row-acts no-print' },
      out.mayOpen && g.shut ? h('button', { type: 'button', 'data-key': `open-${g.gate}-${installment}`, 'aria-label': `Open by hand: ${g.name}, ${of}`, onclick: () => openByHand(out, g, installment, of) }, 'Open by hand') : null,
      out.mayOpen && own ? h('button', { type: 'button', class: 'plain', 'data-key': `back-${g.gate}-${installment}`, 'aria-label': `Take back: ${g.name}, ${of}`, onclick: (/** @type {any} */ e) => takeBack(out, g, e.target) }, 'Take back') : null));
}

/** Who opened a gate, when and why. @param {Outgoing} out @param {GateOverride} o */
function by(out, o) {
  return h('blockquote', {}, h('p', {}, `“${o.reason}”`), h('p', { class: 'soft' }, `${o.by || 'somebody who was forgotten'}, ${sayMoment(o.at, out.view.settings.zone)}`));
}

/** @param {Outgoing} out @param {ReleaseGate} g @param {string | null} installment @param {string} of */
function openByHand(out, g, installment, of) {
  openForm({ title: `Open “${g.name}” by hand`, say: 'Open it', gone: out.view.gone,
    save: (values) => api.post(`${out.path}/gate-overrides`, { gate: g.gate, installment_id: installment || undefined, reason: values.reason, seen: g.seen }),
    done: async () => { await out.refresh(); announce(`${g.name} is open by hand for ${of}.`); } },
  h('p', {}, installment ? `For “${of}” alone. It is shut because: ` : 'It is shut because: ', h('b', {}, g.why || '')),
  h('form-field', { kind: 'area', name: 'reason', label: 'Why it may be open', hint: 'Kept with your name, and shown here and on paper. It holds for this reason only: when there is something else, the gate shuts again.', required: true }));
}

/** @param {Outgoing} out @param {ReleaseGate} g @param {HTMLElement} button */
async function takeBack(out, g, button) {
  try {
    await api.post(`/gate-overrides/${/** @type {GateOverride} */ (g.opened).id}/take-back`, {});
    await out.refresh();
    announce(`${g.name} is not open by hand any more.`);
  } catch (err) {
    button.after(h('p', { class: 'error', role: 'alert' }, sayError(err)));
  }
}

/** What was opened by hand and taken back. @param {Outgoing} out */
export function takenBack(out) {
  const { taken_back: before, installments } = out.release;
  if (before.length === 0) return null;
  return h('details', { class: 'sec no-print', 'data-part': 'taken-back' }, h('summary', {}, `Opened by hand before: ${before.length}`),
    h('ul', { class: 'plain release-gates' }, before.map((o) => h('li', {},
      h('p', {}, h('b', {}, o.name), installments.filter((n) => n.id === o.installment_id).map((n) => `, ${n.title}`)), h('p', {}, o.why), by(out, o),
      h('p', { class: 'soft' }, `Taken back ${sayMoment(o.taken_back_at, out.view.settings.zone)}${o.taken_back_by ? `, ${o.taken_back_by}` : ''}`)))));
}
