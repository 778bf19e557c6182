/** @type {Map<string, Promise<void>>} */
const loading = new Map();

/**
 * Fetches the style sheets of a screen before it is drawn, each once.
 * @param {string[]} names `board` is /styles/board.css
 */
export async function loadSheets(names) {
  await Promise.all(names.map((name) => {
    if (!loading.has(name)) loading.set(name, load(`/styles/${name}.css`));
    return loading.get(name);
  }));
}

/** @param {string} href @returns {Promise<void>} resolved in any case: an unstyled page still works */
function load(href) {
  return new Promise((done) => {
    const link = document.createElement('link');
    link.rel = 'stylesheet';
    link.addEventListener('load', () => done());
    link.addEventListener('error', () => done());
    link.href = href;
    document.head.append(link);
  });
}
