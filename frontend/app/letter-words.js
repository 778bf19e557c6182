// What letters are about, in words.

/** What is to be said of somebody. @type {Record<string, string>} */
export const KINDS = { asked: 'is to be asked', declined: 'has no size this time', answer: 'has not answered', yarn: 'yarn is on its way', 'check-in': 'was not heard of for two weeks',
  'more time': 'wish for more time is answered', 'due soon': 'report is due soon', overdue: 'report is overdue', 'measure again': 'is to measure again', thanks: 'thank you', correction: 'is to know what was corrected',
  invitation: 'invitation', test: 'a try' };

/** What kind of letter it is. @type {Record<string, string>} */
export const LETTERS = { asked: 'You are asked to make a size', declined: 'There is no size for you', answer: 'Your answer is due', yarn: 'Yarn is on its way', 'check-in': 'How far are you?',
  'more time': 'Your wish for more time', 'due soon': 'Your report is due soon', overdue: 'Your report is overdue', 'measure again': 'Please measure again', thanks: 'Thank you', correction: 'The text was corrected' };

/** @param {import('../shapes-letters.js').Written} done */
export function sayWritten(done) {
  const letters = done.written === 1 ? '1 letter is on its way.' : `${done.written} letters are on their way.`;
  if (done.left_out.length === 0) return letters;
  const reasons = [...new Set(done.left_out.map((l) => l.why))].join('; ');
  return `${letters} ${done.left_out.length} left out: ${reasons}.`;
}

/** How a letter stands, in one sentence. @param {import('../shapes-letters.js').Letter} l @param {(moment: string | null) => string} at */
export function sayState(l, at) {
  const tries = l.tries === 1 ? 'tried once' : `tried ${l.tries} times`;
  switch (l.state) {
    case 'sent': return `sent ${at(l.ended_at)}`;
    case 'failed': return `not sent, ${at(l.ended_at)}: ${l.said}`;
    case 'withdrawn': return `withdrawn ${at(l.ended_at)}${l.said ? `: ${l.said}` : ''}`;
  }
  if (l.sending) return 'is with the mail server now';
  if (l.tries === 0) return `waits since ${at(l.created_at)}`;
  return `${tries}, next at ${at(l.next_try_at)}${l.said ? `: ${l.said}` : ''}`;
}
