/** @typedef {import('../shapes-photos.js').PhotoLimits} PhotoLimits */

/** @type {Record<string, string>} */
const KINDS = { 'image/jpeg': 'JPEG', 'image/png': 'PNG', 'image/webp': 'WebP', 'image/gif': 'GIF' };

/** What photos may be, and what becomes of them. @param {PhotoLimits} l */
export function sayLimits(l) {
  const kinds = l.kinds.map((k) => KINDS[k] || k);
  return `Up to ${l.most} photos: ${kinds.slice(0, -1).join(', ')} or ${kinds.at(-1)}, each of at most ${Math.floor(l.most_bytes / 2 ** 20)} MiB and ${Math.floor(l.most_pixels / 1e6)} million pixels. Place, time and device are taken out of them.`;
}
