// Where something stands in a text.

/**
 * The lines around a place, cut into what is before, the place itself and what
 * follows. Start and end count characters (code points), as the server does.
 * @param {string} text @param {number} start @param {number} end
 */
export function cutText(text, start, end) {
  const all = Array.from(text);
  let from = start;
  while (from > 0 && all[from - 1] !== '\n') from -= 1;
  let to = end;
  while (to < all.length && all[to] !== '\n') to += 1;
  return { before: all.slice(from, start).join(''), marked: all.slice(start, end).join(''), after: all.slice(end, to).join('').replace(/\r$/, '') };
}
