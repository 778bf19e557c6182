import { h } from '../parts/h.js';

/** @typedef {import('../shapes.js').BoardPoint} BoardPoint */

const AT_FIRST = 4;

/** Points with most findings first, then in the design's order. @param {BoardPoint[]} points */
export function findingsFirst(points) {
  return points.map((p, i) => ({ p, i })).sort((a, b) => b.p.outside - a.p.outside || a.i - b.i).map(({ p }) => p);
}

/**
 * Which points to show before anybody has chosen: all with findings, filled up
 * to four with the others, in the design's order.
 * @param {BoardPoint[]} points
 */
export function shownAtFirst(points) {
  const ranked = findingsFirst(points);
  const most = Math.max(AT_FIRST, ranked.filter((p) => p.outside > 0).length);
  const chosen = new Set(ranked.slice(0, Math.min(most, 6)));
  return points.filter((p) => chosen.has(p));
}

/** The choice of points, kept in this browser for each design. */
export class PointChoice {
  #key;
  #open = false;
  /** @param {string} designId @param {() => void} changed */
  constructor(designId, changed) {
    this.#key = `board-points-${designId}`;
    this.changed = changed;
  }

  /** @returns {string[] | null} */
  #kept() {
    try {
      return JSON.parse(localStorage.getItem(this.#key) || 'null');
    } catch {
      return null;
    }
  }

  /** @param {BoardPoint[]} points */
  shown(points) {
    const kept = this.#kept();
    const chosen = kept ? points.filter((p) => kept.includes(p.id)) : [];
    return chosen.length ? chosen : shownAtFirst(points);
  }

  /** The control. @param {BoardPoint[]} points @param {BoardPoint[]} shown */
  draw(points, shown) {
    const boxes = findingsFirst(points).map((p) => h('label', { class: 'tick', 'data-key': `point-${p.id}` },
      h('input', { type: 'checkbox', value: p.id, '.checked': shown.includes(p), onchange: () => this.#keep(form) }),
      h('span', {}, p.name, p.outside ? h('span', { class: 'pin' }, ` ${p.outside} outside`) : null)));
    const form = h('fieldset', {}, h('legend', { class: 'unseen' }, 'Points to show'), h('div', { class: 'ticks' }, boxes));
    return h('details', { class: 'no-print', '.open': this.#open, 'data-key': 'points', ontoggle: (/** @type {any} */ e) => { this.#open = e.target.open; } },
      h('summary', {}, `Points shown: ${shown.length} of ${points.length}`), form);
  }

  /** @param {HTMLElement} form */
  #keep(form) {
    const ids = [...form.querySelectorAll('input:checked')].map((e) => /** @type {HTMLInputElement} */ (e).value);
    try {
      localStorage.setItem(this.#key, JSON.stringify(ids));
    } catch {
      // A browser that keeps nothing still shows the points chosen by default.
    }
    this.changed();
  }
}
