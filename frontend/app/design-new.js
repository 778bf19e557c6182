import { h, put } from '../parts/h.js';
import '../parts/entry-form.js';
import * as api from './api.js';
import { go } from './router.js';
import { designFields, designBody } from './design-fields.js';
import { designHints } from './design-hints.js';

/** @param {import('../shapes.js').View} view */
export function draw({ page, lede, me, gone, title }) {
  title('New design');
  lede.textContent = 'First what it is; its sizes and points of measure come next.';
  const once = new api.OnceKey();
  const form = h('entry-form', { class: 'narrow', say: 'Add the design', '.save': save }, designFields(null));
  put(page, form, designHints(form, gone));
  for (const f of form.fields) {
    if (f.name === 'unit') f.value = me.unit;
    if (f.name === 'terms') f.value = me.terms;
  }

  /** @param {Record<string, any>} values */
  async function save(values) {
    const body = designBody(values, true);
    const made = await api.post('/designs', body, { key: once.for(body) });
    go(`/d/${encodeURIComponent(made.slug)}/setup#sizes`);
  }
}
