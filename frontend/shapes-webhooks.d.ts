export interface Webhook {
  id: string;
  name: string;
  url: string;
  kinds: string[];
  failures: number;
  failing_since: string | null;
  disabled_at: string | null;
  disabled_why?: string;
  old_secret_until: string | null;
  secret?: string;
  revision: number;
}

export interface WebhookKind {
  name: string;
  says: string;
}

export interface WebhookDelivery {
  id: string;
  kind: string;
  body: string;
  at: string;
  tries: number;
  tried_at: string | null;
  status: number | null;
  problem?: string;
  due_at: string | null;
  delivered_at: string | null;
  given_up_at: string | null;
}
