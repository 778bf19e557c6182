import { h } from '../parts/h.js';
import '../parts/form-field.js';
import '../parts/entry-form.js';
import * as api from './api.js';
import { DAYS } from './schedule-words.js';

const MOST_AWAY = 20; // spells that the API takes

/**
 * The form of somebody's working days, hours, days away and speed of making.
 * @param {string} personID
 * @param {AbortSignal} gone
 * @param {(revision: number) => void} saved gets the person's new revision
 */
export async function workForm(personID, gone, saved) {
  const path = `/people/${personID}/work`;
  /** @type {import('../shapes-schedule.js').Work} */
  const work = await api.get(path, { signal: gone });
  const away = [...work.away, null].slice(0, MOST_AWAY).map((a, i) => ({
    from: h('form-field', { 'data-at': `away[${i}].from`, label: 'Away from', kind: 'date', value: a?.from }),
    until: h('form-field', { 'data-at': `away[${i}].until`, label: 'until, the last day', kind: 'date', value: a?.until }),
  }));
  const days = h('check-field', { name: 'days', label: 'Working days', '.options': DAYS });
  days.value = work.days;
  return h('entry-form', { '.save': save }, days,
    h('div', { class: 'side' },
      h('form-field', { name: 'hours_per_day', label: 'Hours on each', kind: 'number', quiet: true, min: '0.25', max: '24', step: 'any', inputmode: 'decimal', value: String(work.hours_per_day) }),
      h('form-field', { name: 'stitches_per_hour', label: 'Stitches an hour', kind: 'number', min: '10', max: '10000', step: 'any', inputmode: 'decimal', hint: 'Left empty: learned from the hours logged.', value: work.stitches_per_hour === null ? undefined : String(work.stitches_per_hour) })),
    away.map((a) => h('div', { class: 'side' }, a.from, a.until)));

  /** @param {Record<string, any>} values */
  async function save(values) {
    /** @type {Record<string, any>} */
    const body = { days: values.days, hours_per_day: values.hours_per_day ?? 0, away: away.filter((a) => a.from.value || a.until.value).map((a) => ({ from: a.from.value, until: a.until.value || a.from.value })) };
    if (values.stitches_per_hour !== null) body.stitches_per_hour = values.stitches_per_hour;
    const now = await api.put(path, body, { revision: (await api.get(path)).revision });
    saved(now.revision);
  }
}
