-- People, how they sign in, and what every later table hangs on.
-- Ids are UUIDv7 as text. TIMESTAMP is UTC, to the microsecond. Dates are text, YYYY-MM-DD.
-- +goose Up
CREATE TABLE studio (
    id          INTEGER PRIMARY KEY CHECK (id = 1), -- one studio a server
    name        TEXT NOT NULL,
    zone        TEXT NOT NULL,             -- IANA zone in which dates are read
    lead_days   INTEGER NOT NULL,          -- days between recording and air date that editing and captions take
    demo        BOOLEAN NOT NULL,          -- invented data; the pages say so
    revision    INTEGER NOT NULL,
    created_at  TIMESTAMP NOT NULL,
    updated_at  TIMESTAMP NOT NULL
);

CREATE TABLE people (
    id            TEXT PRIMARY KEY,
    handle        TEXT NOT NULL,
    name          TEXT NOT NULL,
    email         TEXT,                    -- NULL: none given
    unit          TEXT NOT NULL CHECK (unit IN ('cm', 'in')),   -- in which this person measures
    terms         TEXT NOT NULL CHECK (terms IN ('us', 'uk')),  -- stitch names this person reads
    password_hash TEXT,                    -- NULL: never signed in yet
    disabled_at   TIMESTAMP,
    revision      INTEGER NOT NULL,
    created_at    TIMESTAMP NOT NULL,
    updated_at    TIMESTAMP NOT NULL
);
CREATE UNIQUE INDEX people_handle ON people (lower(handle));
CREATE UNIQUE INDEX people_email ON people (lower(email)) WHERE email IS NOT NULL;

CREATE TABLE person_roles (
    person_id TEXT NOT NULL REFERENCES people (id) ON DELETE CASCADE,
    role      TEXT NOT NULL CHECK (role IN ('designer', 'tech_editor', 'maker', 'filmer', 'tester')),
    PRIMARY KEY (person_id, role)
);

CREATE TABLE signing_keys (
    id         TEXT PRIMARY KEY,
    secret     BLOB NOT NULL,
    created_at TIMESTAMP NOT NULL,
    retired_at TIMESTAMP                   -- still checks, no longer signs
);

-- One row a refresh token. A used token that comes back revokes its whole family.
CREATE TABLE refresh_tokens (
    id         TEXT PRIMARY KEY,
    family_id  TEXT NOT NULL,
    person_id  TEXT NOT NULL REFERENCES people (id) ON DELETE CASCADE,
    token_hash TEXT NOT NULL UNIQUE,       -- SHA-256, hex
    agent      TEXT NOT NULL,
    created_at TIMESTAMP NOT NULL,
    expires_at TIMESTAMP NOT NULL,
    used_at    TIMESTAMP,
    revoked_at TIMESTAMP
);
CREATE INDEX refresh_tokens_family ON refresh_tokens (family_id);
CREATE INDEX refresh_tokens_person ON refresh_tokens (person_id);

CREATE TABLE idempotency_keys (
    person_id    TEXT NOT NULL REFERENCES people (id) ON DELETE CASCADE,
    key          TEXT NOT NULL,
    request_hash TEXT NOT NULL,            -- SHA-256 of method, path and body, hex
    status       INTEGER NOT NULL,
    headers      TEXT NOT NULL,            -- JSON: Location, ETag, Content-Type
    body         BLOB NOT NULL,
    created_at   TIMESTAMP NOT NULL,
    PRIMARY KEY (person_id, key)
);
CREATE INDEX idempotency_keys_created ON idempotency_keys (created_at);

-- Append-only. Written in the transaction of the change that it tells of.
CREATE TABLE events (
    id         TEXT PRIMARY KEY,
    at         TIMESTAMP NOT NULL,
    actor_id   TEXT,                       -- NULL: the server itself, or a person who was forgotten
    request_id TEXT NOT NULL,
    design_id  TEXT,
    entity     TEXT NOT NULL,
    entity_id  TEXT NOT NULL,
    action     TEXT NOT NULL,
    before     TEXT,                       -- JSON
    after      TEXT                        -- JSON
);
CREATE INDEX events_design ON events (design_id, id);
CREATE INDEX events_entity ON events (entity, entity_id, id);
-- +goose Down
DROP TABLE events;
DROP TABLE idempotency_keys;
DROP TABLE refresh_tokens;
DROP TABLE signing_keys;
DROP TABLE person_roles;
DROP TABLE people;
DROP TABLE studio;
