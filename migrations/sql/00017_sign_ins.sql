-- Sign-ins as people see them, the optional second step, and one key that signs.
-- +goose Up
CREATE TABLE sign_ins (
    id          TEXT PRIMARY KEY,          -- the family of its refresh tokens
    person_id   TEXT NOT NULL REFERENCES people (id) ON DELETE CASCADE,
    agent       TEXT NOT NULL,             -- the browser's own words; its address is not kept
    second_step BOOLEAN NOT NULL,          -- a code was given besides the password
    begun_at    TIMESTAMP NOT NULL,
    used_at     TIMESTAMP NOT NULL,        -- last gone on with, which a browser in use does every few minutes
    ended_at    TIMESTAMP
);
CREATE INDEX sign_ins_person ON sign_ins (person_id);
INSERT INTO sign_ins (id, person_id, agent, second_step, begun_at, used_at, ended_at)
    SELECT family_id, person_id, max(agent), FALSE, min(created_at), max(created_at),
        CASE WHEN count(*) = count(revoked_at) THEN max(revoked_at) END
    FROM refresh_tokens GROUP BY family_id, person_id;

CREATE TABLE second_factors (
    person_id    TEXT PRIMARY KEY REFERENCES people (id) ON DELETE CASCADE,
    sealed       BLOB NOT NULL,            -- the shared secret (RFC 6238), encrypted
    key_name     TEXT NOT NULL,            -- of the key that it is encrypted with
    confirmed_at TIMESTAMP,                -- NULL: being set up
    last_step    BIGINT NOT NULL,          -- time step of the last code that was taken: no code is taken twice
    wrong_tries  INTEGER NOT NULL,         -- since the last right one
    wrong_at     TIMESTAMP,
    created_at   TIMESTAMP NOT NULL
);

CREATE TABLE recovery_codes (
    person_id TEXT NOT NULL REFERENCES people (id) ON DELETE CASCADE,
    code_hash TEXT NOT NULL,               -- SHA-256 of 120 random bits, hex
    used_at   TIMESTAMP,
    PRIMARY KEY (person_id, code_hash)
);

-- The password was right, and the code is waited for.
CREATE TABLE half_sign_ins (
    token_hash TEXT PRIMARY KEY,           -- SHA-256, hex
    person_id  TEXT NOT NULL REFERENCES people (id) ON DELETE CASCADE,
    expires_at TIMESTAMP NOT NULL
);
CREATE INDEX half_sign_ins_person ON half_sign_ins (person_id);

ALTER TABLE studio ADD COLUMN staff_second_step BOOLEAN NOT NULL DEFAULT FALSE; -- the studio's own people need the second step

-- Two servers that started together on an empty database each made a key. The
-- older ones still check what they signed.
UPDATE signing_keys SET retired_at = created_at
    WHERE retired_at IS NULL AND id <> (SELECT max(id) FROM signing_keys WHERE retired_at IS NULL);
CREATE UNIQUE INDEX signing_keys_one ON signing_keys ((retired_at IS NULL)) WHERE retired_at IS NULL;
-- +goose Down
DROP INDEX signing_keys_one;
ALTER TABLE studio DROP COLUMN staff_second_step;
DROP TABLE half_sign_ins;
DROP TABLE recovery_codes;
DROP TABLE second_factors;
DROP TABLE sign_ins;
