-- A test call from its public link to the thank-you: who signed up and agreed to what, how far each tester is, what was told to whom.
-- +goose Up
ALTER TABLE test_calls ADD COLUMN sections TEXT NOT NULL DEFAULT '';          -- of the work, one a line; '' = the usual ones
ALTER TABLE test_calls ADD COLUMN answer_days INTEGER NOT NULL DEFAULT 5;     -- in which somebody who was asked answers
ALTER TABLE test_calls ADD COLUMN thanks TEXT NOT NULL DEFAULT '';            -- what testers are told when the call closes

ALTER TABLE applications ADD COLUMN yarn TEXT NOT NULL DEFAULT '';            -- what they would make it in
ALTER TABLE applications ADD COLUMN elsewhere BOOLEAN NOT NULL DEFAULT FALSE; -- accepted and finished leave out tests for this studio
ALTER TABLE applications ADD COLUMN declined_at TIMESTAMP;
ALTER TABLE applications ADD COLUMN declined_why TEXT NOT NULL DEFAULT '';

ALTER TABLE assignments ADD COLUMN answer_by TEXT;                            -- NULL: no day was set
ALTER TABLE assignments ADD COLUMN yarn_sent_on TEXT;                         -- NULL: none was sent
ALTER TABLE assignments ADD COLUMN yarn_sent_note TEXT NOT NULL DEFAULT '';

-- The public way in: whoever has the link may apply. It is kept readable, so that the designer can copy it again.
CREATE TABLE sign_ups (
    test_call_id TEXT PRIMARY KEY REFERENCES test_calls (id) ON DELETE CASCADE,
    token        TEXT NOT NULL UNIQUE,
    closes_on    TEXT,                     -- NULL: as long as the call is open
    introduction TEXT NOT NULL,
    revoked_at   TIMESTAMP,
    revision     INTEGER NOT NULL,
    created_at   TIMESTAMP NOT NULL,
    updated_at   TIMESTAMP NOT NULL
);

-- Each wording that somebody has agreed to, once.
CREATE TABLE confidentiality_texts (
    id           TEXT PRIMARY KEY,
    test_call_id TEXT NOT NULL REFERENCES test_calls (id) ON DELETE CASCADE,
    number       INTEGER NOT NULL,         -- 1 = the first wording of this call
    hash         TEXT NOT NULL,            -- SHA-256 of the body, hex
    body         TEXT NOT NULL,
    created_at   TIMESTAMP NOT NULL,
    UNIQUE (test_call_id, number),
    UNIQUE (test_call_id, hash)
);

CREATE TABLE consents (
    text_id   TEXT NOT NULL REFERENCES confidentiality_texts (id) ON DELETE CASCADE,
    person_id TEXT NOT NULL REFERENCES people (id) ON DELETE CASCADE,
    agreed_at TIMESTAMP NOT NULL,
    PRIMARY KEY (text_id, person_id)
);
CREATE INDEX consents_person ON consents (person_id);

-- An applicant's own body, for the person and the designer only. Never in an event.
CREATE TABLE application_body (
    application_id TEXT NOT NULL REFERENCES applications (id) ON DELETE CASCADE,
    dimension      TEXT NOT NULL,
    value          DOUBLE PRECISION NOT NULL,
    unit           TEXT NOT NULL CHECK (unit IN ('cm', 'in')),
    cm             DOUBLE PRECISION NOT NULL,
    PRIMARY KEY (application_id, dimension)
);

CREATE TABLE check_ins (
    id            TEXT PRIMARY KEY,
    assignment_id TEXT NOT NULL REFERENCES assignments (id) ON DELETE CASCADE,
    at            TIMESTAMP NOT NULL,
    done          INTEGER NOT NULL,        -- sections finished
    of            INTEGER NOT NULL,        -- sections there were
    section       TEXT NOT NULL,           -- the last one finished; '' before the first
    note          TEXT NOT NULL
);
CREATE INDEX check_ins_assignment ON check_ins (assignment_id, id);

CREATE TABLE extensions (
    id            TEXT PRIMARY KEY,
    assignment_id TEXT NOT NULL REFERENCES assignments (id) ON DELETE CASCADE,
    asked_at      TIMESTAMP NOT NULL,
    wanted_on     TEXT NOT NULL,
    why           TEXT NOT NULL,
    answered_at   TIMESTAMP,
    granted       BOOLEAN NOT NULL
);
-- One waits at a time.
CREATE UNIQUE INDEX extensions_waiting ON extensions (assignment_id) WHERE answered_at IS NULL;

-- What was told to whom, so that it is not due again.
CREATE TABLE told (
    id           TEXT PRIMARY KEY,
    test_call_id TEXT NOT NULL REFERENCES test_calls (id) ON DELETE CASCADE,
    person_id    TEXT NOT NULL REFERENCES people (id) ON DELETE CASCADE,
    kind         TEXT NOT NULL,
    about        TEXT NOT NULL,            -- the day or the moment that it was about
    told_at      TIMESTAMP NOT NULL,
    UNIQUE (test_call_id, person_id, kind, about)
);
-- +goose Down
DROP TABLE told;
DROP TABLE extensions;
DROP TABLE check_ins;
DROP TABLE application_body;
DROP TABLE consents;
DROP TABLE confidentiality_texts;
DROP TABLE sign_ups;
ALTER TABLE assignments DROP COLUMN yarn_sent_note;
ALTER TABLE assignments DROP COLUMN yarn_sent_on;
ALTER TABLE assignments DROP COLUMN answer_by;
ALTER TABLE applications DROP COLUMN declined_why;
ALTER TABLE applications DROP COLUMN declined_at;
ALTER TABLE applications DROP COLUMN elsewhere;
ALTER TABLE applications DROP COLUMN yarn;
ALTER TABLE test_calls DROP COLUMN thanks;
ALTER TABLE test_calls DROP COLUMN answer_days;
ALTER TABLE test_calls DROP COLUMN sections;
