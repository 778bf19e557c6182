/** @type {Record<number, string>} what a failed page is called */
const TITLES = { 0: 'No answer', 401: 'Not signed in', 403: 'Not yours to open', 404: 'Nothing here', 412: 'Changed meanwhile', 429: 'Too many tries', 503: 'Not available just now' };

/**
 * A refusal by the server (RFC 9457 problem document), or no answer at all
 * (status 0).
 */
export class Problem extends Error {
  /**
   * @param {number} status
   * @param {{title?: string, detail?: string, errors?: {message: string, location?: string}[]}} body
   */
  constructor(status, body) {
    super(body.detail || body.title || `The server answered ${status}.`);
    this.status = status;
    this.title = TITLES[status] || body.title || '';
    /** Where → what, with `body.` taken off: `gauge.span` → `is not positive`. @type {Map<string, string>} */
    this.fields = new Map();
    for (const e of body.errors || []) {
      this.fields.set((e.location || '').replace(/^body\.?/, ''), e.message);
    }
  }
}

/** What to say when something else than a Problem went wrong. @param {unknown} err */
export function sayError(err) {
  return err instanceof Error ? err.message : String(err);
}
