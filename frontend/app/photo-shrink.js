// Makes a photo small enough for a phone's network before it is sent. Place
// and device stay on the phone: what is drawn anew has neither.

const QUALITY = 0.86;

/**
 * The size at which the longest edge is at most `edge`.
 * @param {number} width @param {number} height @param {number} edge
 * @returns {[number, number]}
 */
export function fit(width, height, edge) {
  const long = Math.max(width, height);
  if (long <= edge) return [width, height];
  return [Math.max(1, Math.round(width * edge / long)), Math.max(1, Math.round(height * edge / long))];
}

/**
 * @param {Blob} file @param {number} edge pixels
 * @returns {Promise<Blob>} a JPEG; the file itself where this browser can't read it: the server may
 */
export async function shrink(file, edge) {
  try {
    const picture = await createImageBitmap(file, { imageOrientation: 'from-image' });
    const canvas = document.createElement('canvas');
    [canvas.width, canvas.height] = fit(picture.width, picture.height, edge);
    const pen = /** @type {CanvasRenderingContext2D} */ (canvas.getContext('2d'));
    pen.imageSmoothingQuality = 'high';
    pen.fillStyle = 'white'; // where one can see through it
    pen.fillRect(0, 0, canvas.width, canvas.height);
    pen.drawImage(picture, 0, 0, canvas.width, canvas.height);
    picture.close();
    return await new Promise((resolve) => { canvas.toBlob((small) => resolve(small || file), 'image/jpeg', QUALITY); });
  } catch {
    return file;
  }
}
