// What a webhook is told of, in words.

/**
 * What a notice was about, as the list of kinds says it.
 * @param {string} kind @param {import('../shapes-webhooks.js').WebhookKind[]} kinds
 */
export function sayNotice(kind, kinds) {
  if (kind === 'trial') return 'A trial, to see whether it arrives.';
  return kinds.find((k) => k.name === kind)?.says || kind;
}
