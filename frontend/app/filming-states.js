import { h, put } from '../parts/h.js';
import { openDialog } from '../parts/open-dialog.js';
import '../parts/form-field.js';
import '../parts/entry-form.js';
import * as api from './api.js';
import { announce } from './shell.js';

/** @typedef {import('./filming.js').Shoot} Shoot */
/** @typedef {import('../shapes-shots.js').DesignState} DesignState */

/**
 * The states of the text, installment by installment: the points within it that
 * are shown, and what is made up to each.
 * @param {Shoot} shoot
 */
export async function editStates(shoot) {
  const { states, revision } = await api.get(`${shoot.path}/states`, { signal: shoot.view.gone });
  /** @type {{state: DesignState, row: HTMLElement}[]} */
  const rows = [];
  const parts = shoot.run.map((n) => {
    const list = h('div', {});
    /** @param {DesignState} state @param {boolean} [focus] */
    const addRow = (state, focus) => {
      const row = stateRow(state, n.title, () => { rows.splice(rows.findIndex((r) => r.row === row), 1); row.remove(); renumber(); });
      const end = rows.find((r) => r.state.id === n.id);
      if (end && !state.end) {
        rows.splice(rows.indexOf(end), 0, { state, row });
        end.row.before(row);
      } else {
        rows.push({ state, row });
        list.append(row);
      }
      renumber();
      if (focus) /** @type {any} */ (row.querySelector('form-field')).focus();
    };
    for (const state of states.filter((/** @type {DesignState} */ x) => x.installment_id === n.id)) addRow(state);
    return h('fieldset', {}, h('legend', {}, `${n.position}. ${n.title}`), list,
      h('button', { type: 'button', onclick: () => addRow({ id: '', installment_id: n.id, name: '', words: '', end: false, stitches: '', hours: null }, true) }, 'Add a point within it'));
  });
  const dialog = openDialog('States of the text', shoot.view.gone,
    h('p', { class: 'soft' }, 'A sample is worked from one state to the next. Say what is made on the way: stitches as a sum over the counts (body * yoke_rows), or hours where the stitches don’t tell.'),
    h('entry-form', { say: 'Save', '.save': save }, parts));

  function renumber() {
    rows.forEach(({ row }, i) => { for (const f of row.querySelectorAll('form-field')) f.setAttribute('name', `states[${i}].${f.getAttribute('data-part')}`); });
  }

  async function save() {
    const body = rows.map(({ state, row }) => {
      /** @type {Record<string, any>} */
      const out = { installment_id: state.installment_id };
      if (state.id) out.id = state.id;
      for (const f of /** @type {NodeListOf<any>} */ (row.querySelectorAll('form-field'))) if (f.value !== '' && f.value !== null) out[f.getAttribute('data-part')] = f.value;
      return out;
    });
    await api.put(`${shoot.path}/states`, { states: body }, { revision });
    dialog.close();
    await shoot.refresh();
    announce('The states are saved.');
  }
}

/** @param {DesignState} state @param {string} title @param {() => void} remove */
function stateRow(state, title, remove) {
  const row = h('div', { class: 'state-row' });
  put(row,
    state.end ? h('p', { class: 'strong' }, `The end of ${title}`)
      : h('form-field', { 'data-part': 'name', label: 'Point', required: true, maxlength: 120, autocomplete: 'off', value: state.name }),
    h('div', { class: 'side' },
      h('form-field', { 'data-part': 'stitches', label: 'Stitches made up to it', maxlength: 500, autocomplete: 'off', spellcheck: 'false', autocapitalize: 'off', value: state.stitches }),
      h('form-field', { 'data-part': 'hours', label: 'or hours', kind: 'number', min: '0.01', step: 'any', inputmode: 'decimal', value: state.hours === null ? undefined : String(state.hours) })),
    state.end ? null : h('button', { type: 'button', class: 'plain', onclick: remove }, `Take “${state.name || 'this point'}” out`));
  return row;
}
