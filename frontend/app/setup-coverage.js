// Whom the sizes serve: which share of the people of a survey lies within half
// a step of some size. Who was measured is said with every number.
import { h, put } from '../parts/h.js';
import { sayCM } from '../parts/lengths.js';
import * as api from './api.js';
import { sayError } from './problem.js';
import { bodiesOf, usualStep, surveyDimension } from './size-steps.js';

/** @typedef {import('../shapes-counts.js').Covered} Covered */
/** @typedef {import('../shapes-counts.js').Survey} Survey */

export class CoveragePanel {
  root = h('div', {});

  /** @param {import('../shapes.js').Design} design @param {{gone: AbortSignal, unit: 'cm'|'in'}} given */
  constructor(design, given) {
    this.design = design;
    this.given = given;
    this.draw();
  }

  /** @param {import('../shapes.js').Design} design */
  take(design) {
    this.design = design;
    this.draw();
  }

  draw() {
    const dimensions = [...new Set(this.design.sizes.flatMap((s) => s.body.map((b) => b.dimension)))].filter(surveyDimension);
    if (dimensions.length === 0) {
      put(this.root, h('p', { class: 'soft' }, 'Give the sizes a bust or chest, waist, hip, height or head measurement, and this tells which share of some measured people they serve.'));
      return;
    }
    const child = ['baby', 'child', 'youth'].includes(this.design.audience);
    const dimension = select('Body measurement', dimensions.map((d) => [d, d]));
    const survey = select('Measured people', [['service_2012', 'adults in US military service, 2012'], ['children_1977', 'US children, 1975–1977']]);
    survey.value = child ? 'children_1977' : 'service_2012';
    const out = h('div', { 'aria-live': 'polite' });
    put(this.root, h('div', { class: 'acts' }, dimension, survey, h('button', { type: 'button', onclick: () => this.#ask(dimension.value, survey.value, out) }, 'Count them')), out);
  }

  /** @param {string} dimension @param {string} survey @param {HTMLElement} out */
  async #ask(dimension, survey, out) {
    const bodies = bodiesOf(this.design.sizes, dimension);
    const step = usualStep(bodies);
    if (step === null) {
      put(out, h('p', { class: 'brass' }, 'Two sizes or more need this measurement, each larger than the one before.'));
      return;
    }
    const query = new URLSearchParams({ survey, dimension: /** @type {string} */ (surveyDimension(dimension)), sizes_cm: bodies.join(','), step_cm: String(step) });
    try {
      put(out, this.#answer(await api.get(`/standards/coverage?${query}`, { signal: this.given.gone })));
    } catch (err) {
      if (!this.given.gone.aborted) put(out, h('p', { class: 'pin', role: 'alert' }, sayError(err)));
    }
  }

  /** @param {Covered} c */
  #answer(c) {
    const percent = (/** @type {number} */ n, /** @type {number} */ of) => `${((100 * n) / of).toFixed(1)} %`;
    return [h('p', {}, c.message),
      h('div', { class: 'wide', tabindex: '0', role: 'group', 'aria-label': 'Whom the sizes serve' }, h('table', {}, h('caption', {}, `${c.who}; served means within half a step (${sayCM(c.step_cm / 2, this.given.unit)}) of some size`),
        h('thead', {}, h('tr', {}, ['', 'Measured', 'Served', 'Below every size', 'Above every size', 'Between two sizes'].map((w) => (w ? h('th', { scope: 'col', class: 'num' }, w) : h('td'))))),
        h('tbody', {}, c.groups.map((g) => h('tr', {}, h('th', { scope: 'row' }, g.sex),
          [String(g.people), percent(g.within, g.people), percent(g.smaller, g.people), percent(g.larger, g.people), percent(g.between, g.people)].map((t) => h('td', { class: 'num' }, t))))))),
      h('p', { class: 'brass' }, c.caveat), h('p', { class: 'soft' }, `Source: ${c.source.citation} (${c.source.standing}).`)];
  }
}

/** @param {string} label @param {[string, string][]} options */
const select = (label, options) => h('select', { 'aria-label': label }, options.map(([v, words]) => h('option', { value: v }, words)));
