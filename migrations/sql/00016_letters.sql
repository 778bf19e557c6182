-- Letters on their way out, and what people want to get by e-mail.
-- +goose Up
CREATE TABLE letters (
    id            TEXT PRIMARY KEY,           -- also the left half of its Message-ID
    person_id     TEXT NOT NULL REFERENCES people (id) ON DELETE CASCADE,  -- the address is theirs at the moment of sending
    kind          TEXT NOT NULL,
    test_call_id  TEXT REFERENCES test_calls (id) ON DELETE CASCADE,       -- NULL: about no call
    design_id     TEXT REFERENCES designs (id) ON DELETE CASCADE,
    about         TEXT NOT NULL,              -- as in told
    subject       TEXT NOT NULL,
    body          TEXT NOT NULL,              -- the words, without links
    link          TEXT NOT NULL CHECK (link IN ('', 'page', 'join')),      -- what is put below the words
    secret        TEXT NOT NULL,              -- from which the letter's own links are made; '' once it needs none any more
    stop_hash     TEXT UNIQUE,                -- SHA-256 of what ends letters of this kind, hex; NULL: it can't be ended
    state         TEXT NOT NULL CHECK (state IN ('waiting', 'sent', 'failed', 'withdrawn')),
    tries         INTEGER NOT NULL,
    next_try_at   TIMESTAMP NOT NULL,
    give_up_at    TIMESTAMP NOT NULL,
    lease         TEXT,                       -- of the server process that is sending it
    leased_until  TIMESTAMP,
    said          TEXT NOT NULL,              -- why it was not sent, in the mail server's words
    ended_at      TIMESTAMP,                  -- when it was sent, failed or was withdrawn
    erased_at     TIMESTAMP,                  -- when its words were
    created_at    TIMESTAMP NOT NULL
);
-- The same is not written to the same person twice.
CREATE UNIQUE INDEX letters_once ON letters (test_call_id, person_id, kind, about) WHERE state IN ('waiting', 'sent');
CREATE INDEX letters_next ON letters (next_try_at) WHERE state = 'waiting';
CREATE INDEX letters_state ON letters (state, id);
CREATE INDEX letters_person ON letters (person_id);

-- The groups of letters that somebody does not want.
CREATE TABLE letter_refusals (
    person_id    TEXT NOT NULL REFERENCES people (id) ON DELETE CASCADE,
    letter_group TEXT NOT NULL,
    refused_at   TIMESTAMP NOT NULL,
    PRIMARY KEY (person_id, letter_group)
);

ALTER TABLE people ADD COLUMN email_doubtful_at TIMESTAMP;                          -- since when a mail server doesn't know the address
ALTER TABLE studio ADD COLUMN letters_by_itself TEXT NOT NULL DEFAULT '';           -- kinds that go out unasked, one a line
ALTER TABLE studio ADD COLUMN letters_keep_days INTEGER NOT NULL DEFAULT 90 CHECK (letters_keep_days > 0);
-- +goose Down
ALTER TABLE studio DROP COLUMN letters_keep_days;
ALTER TABLE studio DROP COLUMN letters_by_itself;
ALTER TABLE people DROP COLUMN email_doubtful_at;
DROP TABLE letter_refusals;
DROP TABLE letters;
