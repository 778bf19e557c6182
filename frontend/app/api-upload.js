// Sends a file and tells how far it is: fetch can't tell that yet.
import { BASE, refresh } from './api.js';
import { Problem } from './problem.js';

/**
 * @param {string} path @param {Blob} file @param {{signal: AbortSignal, onshare?: (share: number) => void}} options
 * share goes from 0 to 1. @returns {Promise<any>}
 */
export async function upload(path, file, options) {
  let answer = await send(path, file, options);
  if (answer.status === 401 && await refresh()) answer = await send(path, file, options);
  let body = {};
  try {
    body = JSON.parse(answer.text) || {};
  } catch {
    // A proxy in between may answer with a page of its own.
  }
  if (answer.status >= 200 && answer.status < 300) return body;
  throw new Problem(answer.status, body);
}

/**
 * @param {string} path @param {Blob} file @param {{signal: AbortSignal, onshare?: (share: number) => void}} options
 * @returns {Promise<{status: number, text: string}>} status 0 when the server was not reached
 */
function send(path, file, { signal, onshare }) {
  return new Promise((resolve) => {
    const request = new XMLHttpRequest();
    const end = () => {
      signal.removeEventListener('abort', stop);
      resolve({ status: request.status, text: request.status ? request.responseText : '' });
    };
    const stop = () => request.abort();
    request.upload.addEventListener('progress', (e) => { if (e.lengthComputable && onshare) onshare(e.loaded / e.total); });
    for (const name of ['load', 'error', 'abort', 'timeout']) request.addEventListener(name, end);
    signal.addEventListener('abort', stop);
    request.open('POST', BASE + path);
    request.setRequestHeader('Accept', 'application/json, application/problem+json');
    request.setRequestHeader('Content-Type', file.type || 'application/octet-stream');
    request.send(file);
  });
}
