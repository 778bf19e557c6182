const NOTICED = 8; // px; less is not worth drawing anew

const watcher = new ResizeObserver((entries) => {
  for (const e of entries) /** @type {FittedElement} */ (e.target).fit(e.contentRect.width);
});

/**
 * An element that draws itself for the width that it has, and again when that
 * changes. `draw()` is the child's; `fitted(usual)` is the width to draw at.
 */
export class FittedElement extends HTMLElement {
  #width = 0;

  connectedCallback() {
    watcher.observe(this);
    this.draw();
  }

  disconnectedCallback() { watcher.unobserve(this); }

  /** @param {number} width px that there are */
  fit(width) {
    if (Math.abs(width - this.#width) < NOTICED || width === 0) return;
    this.#width = width;
    this.draw();
  }

  /** @param {number} usual px, until the width is known */
  fitted(usual) { return this.#width || usual; }

  draw() { throw new Error('draw() is the child\'s'); }
}
