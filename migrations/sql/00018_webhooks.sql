-- Which other programs are told of what happens, and each time that one was told.
-- +goose Up
CREATE TABLE webhooks (
    id             TEXT PRIMARY KEY,
    name           TEXT NOT NULL,
    url            TEXT NOT NULL,
    secret         TEXT NOT NULL,          -- signs; '' once it has ended
    was_secret     TEXT NOT NULL,          -- the one before, which signs as well for a while; '' for none
    was_until      TIMESTAMP,
    kinds          TEXT NOT NULL,          -- of what it is told, one a line
    failures       INTEGER NOT NULL,       -- in a row
    failing_since  TIMESTAMP,              -- NULL: the last one went through
    disabled_at    TIMESTAMP,
    disabled_why   TEXT NOT NULL,
    ended_at       TIMESTAMP,
    revision       INTEGER NOT NULL,
    created_at     TIMESTAMP NOT NULL,
    updated_at     TIMESTAMP NOT NULL
);

-- Written in the transaction of the change that it tells of.
CREATE TABLE webhook_deliveries (
    id           TEXT PRIMARY KEY,
    webhook_id   TEXT NOT NULL REFERENCES webhooks (id) ON DELETE CASCADE,
    event_id     TEXT,                     -- NULL: a trial
    kind         TEXT NOT NULL,
    body         TEXT NOT NULL,            -- the same bytes at every try
    tries        INTEGER NOT NULL,
    due_at       TIMESTAMP,                -- NULL: nothing more to do
    leased_until TIMESTAMP,                -- a server is at it until then
    lease        TEXT NOT NULL,            -- of that server's turn; '' for none
    tried_at     TIMESTAMP,
    status       INTEGER,                  -- of the last answer; NULL: there was none
    problem      TEXT NOT NULL,            -- what went wrong at the last try
    delivered_at TIMESTAMP,
    given_up_at  TIMESTAMP,
    created_at   TIMESTAMP NOT NULL,
    UNIQUE (webhook_id, event_id)
);
CREATE INDEX webhook_deliveries_due ON webhook_deliveries (due_at) WHERE due_at IS NOT NULL;
CREATE INDEX webhook_deliveries_of ON webhook_deliveries (webhook_id, id);
-- +goose Down
DROP TABLE webhook_deliveries;
DROP TABLE webhooks;
