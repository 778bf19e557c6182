import { h, put } from '../parts/h.js';
import { openForm } from '../parts/open-dialog.js';
import '../parts/form-field.js';
import '../parts/length-field.js';
import '../parts/entry-form.js';
import * as api from './api.js';
import { announce } from './shell.js';
import { sayError } from './problem.js';

/** @typedef {import('./filming.js').Shoot} Shoot */
/** @typedef {import('../shapes-filming.js').Installment} Installment */
/** @typedef {import('../shapes-shots.js').Shot} Shot */

/** The shots of an installment, ticked when recorded. @param {Installment} n @param {Shoot} shoot */
export function shots(n, shoot) {
  const sheet = `/d/${encodeURIComponent(shoot.design.slug)}/filming/${n.id}/sheet`;
  const done = n.shots.filter((x) => x.recorded).length;
  return [
    n.shots.length ? h('details', { 'data-part': `shots-${n.id}`, '.open': n.state === 'unrecorded' },
      h('summary', { 'data-key': `shots-${n.id}` }, `${done} of ${n.shots.length} shot${n.shots.length === 1 ? '' : 's'} recorded`),
      h('ol', { class: 'shot-list' }, n.shots.map((x) => h('li', {},
        h('span', { class: x.recorded ? 'leaf' : undefined }, x.recorded ? '✓ ' : '', x.title, h('span', { class: 'unseen' }, x.recorded ? ', recorded' : ', not recorded')),
        shoot.mayFilm ? h('button', { type: 'button', class: 'plain', 'data-key': `shot-${x.id}`, 'aria-label': `Change the shot ${x.title}`, onclick: () => openShot(shoot, n, x.id) }, 'Change') : null)))) : null,
    h('div', { class: 'acts no-print' },
      h('a', { class: 'button', href: sheet, 'aria-label': `Shoot sheet of ${n.title}` }, 'Shoot sheet'),
      shoot.mayFilm ? h('button', { type: 'button', 'data-key': `add-shot-${n.id}`, 'aria-label': `Add a shot to ${n.title}`, onclick: () => editShot(shoot, n, null) }, 'Add a shot') : null)];
}

/** @param {Shoot} shoot @param {Installment} n @param {string} id */
async function openShot(shoot, n, id) {
  try {
    editShot(shoot, n, await api.get(`/shots/${id}`, { signal: shoot.view.gone }));
  } catch (err) {
    announce(sayError(err));
  }
}

/** @param {Shoot} shoot @param {Installment} n @param {Shot | null} shot */
export function editShot(shoot, n, shot) {
  const once = new api.OnceKey();
  const { states } = shoot.plan;
  const at = shoot.run.indexOf(n);
  const begins = at > 0 ? shoot.run[at - 1].id : '';
  const options = states.map((x) => [x.state_id || '', x.words]);
  const tails = [...(shot?.tails || []), null].slice(0, 10).map((t, i) => tailRow(t, i, shoot));
  const dialog = openForm({ title: shot ? `Shot ${shot.position} of ${n.title}` : `A shot of ${n.title}`, say: shot ? 'Save' : 'Add', gone: shoot.view.gone, save, done },
    h('form-field', { name: 'title', label: 'What is shown', required: true, maxlength: 120, autocomplete: 'off', value: shot?.title }),
    h('div', { class: 'side' },
      h('form-field', { name: 'from_state', label: 'With a sample worked to', kind: 'select', quiet: true, '.options': options, value: shot ? shot.from_state || '' : begins }),
      h('form-field', { name: 'to_state', label: 'which it leaves at', kind: 'select', quiet: true, '.options': options, value: shot ? shot.to_state || '' : begins }),
      shot && n.shots.length > 1 ? h('form-field', { name: 'position', label: 'Place', kind: 'select', quiet: true, '.options': n.shots.map((_, i) => [String(i + 1), String(i + 1)]), value: String(shot.position) }) : null),
    h('form-field', { 'data-at': 'numbers', 'data-part': 'numbers', label: 'Counts to say', kind: 'area', rows: 3, maxlength: 3000, spellcheck: 'false', hint: 'One on each line, with words after a colon: body: stitches after the join', value: (shot?.numbers || []).map((x) => (x.words ? `${x.count}: ${x.words}` : x.count)).join('\n') }),
    h('form-field', { name: 'differs', label: 'Where groups of sizes differ', kind: 'area', maxlength: 2000, value: shot?.differs }),
    h('div', { class: 'side' },
      h('form-field', { name: 'attached', label: 'Stays attached', maxlength: 500, autocomplete: 'off', value: shot?.attached }),
      h('form-field', { name: 'marked', label: 'Marked', maxlength: 500, autocomplete: 'off', value: shot?.marked }),
      h('form-field', { name: 'live', label: 'Left live', maxlength: 500, autocomplete: 'off', value: shot?.live })),
    h('fieldset', {}, h('legend', {}, 'Tails left long for seams'), h('p', { class: 'hint' }, 'The tail is shown by a rule of thumb: three to four times the seam and a bit.'), tails.map((t) => t.row)),
    h('form-field', { name: 'note', label: 'Note', kind: 'area', maxlength: 2000, value: shot?.note }),
    shot ? removal(shot) : null);

  /** @param {Record<string, any>} values */
  async function save(values) {
    const numbers = dialog.querySelector('[data-part="numbers"]');
    /** @type {Record<string, any>} */
    const body = { ...values, from_state: values.from_state || null, to_state: values.to_state || null, numbers: readNumbers(/** @type {any} */ (numbers).value), tails: tails.map((t) => t.read()).filter(Boolean) };
    if (shot) {
      if (body.position) body.position = Number(body.position);
      return api.patch(`/shots/${shot.id}`, body, { revision: shot.revision });
    }
    const made = Object.fromEntries(Object.entries(body).filter(([, v]) => v !== null && v !== ''));
    return api.post(`/installments/${n.id}/shots`, made, { key: once.for(made) });
  }

  /** @param {Shot} now */
  async function done(now) {
    await shoot.refresh();
    announce(shot ? `“${now.title}” is changed.` : `“${now.title}” is added to ${n.title}.`);
  }

  /** @param {Shot} gone */
  function removal(gone) {
    const wrong = h('p', { class: 'error', role: 'alert' });
    return h('p', {}, h('button', { type: 'button', class: 'grave', onclick: async () => {
      try {
        await api.remove(`/shots/${gone.id}`, { revision: gone.revision });
        dialog.close();
        await shoot.refresh();
        announce(`“${gone.title}” is taken out.`);
      } catch (err) {
        put(wrong, sayError(err));
      }
    } }, 'Take this shot out'), wrong);
  }
}

/** `body: stitches after the join` → `{count, words}`, one a line. @param {string} text */
export function readNumbers(text) {
  return text.split('\n').map((line) => line.trim()).filter(Boolean).map((line) => {
    const [count, ...rest] = line.split(':');
    const words = rest.join(':').trim();
    return words ? { count: count.trim(), words } : { count: count.trim() };
  });
}

/** @param {import('../shapes-shots.js').Tail | null} tail @param {number} i @param {Shoot} shoot */
function tailRow(tail, i, shoot) {
  const seam = h('form-field', { 'data-at': `tails[${i}].seam`, label: 'Seam', maxlength: 120, autocomplete: 'off', value: tail?.seam });
  const length = h('length-field', { 'data-at': `tails[${i}]`, label: 'Its length in the filmed size', unit: shoot.view.me.unit, '.value': tail?.length ?? null });
  return {
    row: h('div', { class: 'side' }, seam, length),
    read: () => (seam.value.trim() === '' && !length.value ? null : { seam: seam.value, ...(length.value || { value: 0, unit: shoot.view.me.unit }) }),
  };
}
