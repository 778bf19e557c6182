-- Pieces made in the studio: how far each is worked, who holds it, what it measures; and the takes made with them.
-- +goose Up
CREATE TABLE samples (
    id               TEXT PRIMARY KEY,
    design_id        TEXT NOT NULL REFERENCES designs (id) ON DELETE CASCADE,
    size_id          TEXT NOT NULL REFERENCES sizes (id),
    version_id       TEXT REFERENCES versions (id),      -- the counts it was made from, when known
    label            TEXT NOT NULL,                      -- 'the grey one'
    purpose          TEXT NOT NULL CHECK (purpose IN ('swatch', 'fit', 'camera', 'photography')),
    worked_through   TEXT REFERENCES installments (id),  -- NULL: not yet through the first installment
    worked_note      TEXT NOT NULL,                      -- further than that, in words
    held_by          TEXT REFERENCES people (id),        -- NULL: nobody on file; see held_note
    held_note        TEXT NOT NULL,                      -- 'on the studio shelf'
    before_stitches  DOUBLE PRECISION,                   -- gauge before washing
    before_rows      DOUBLE PRECISION,
    before_span      DOUBLE PRECISION,
    before_unit      TEXT CHECK (before_unit IN ('cm', 'in')),
    after_stitches   DOUBLE PRECISION,                   -- gauge after washing
    after_rows       DOUBLE PRECISION,
    after_span       DOUBLE PRECISION,
    after_unit       TEXT CHECK (after_unit IN ('cm', 'in')),
    yarn_value       DOUBLE PRECISION,
    yarn_unit        TEXT CHECK (yarn_unit IN ('m', 'yd', 'g', 'oz')),
    retired_at       TIMESTAMP,
    revision         INTEGER NOT NULL,
    created_at       TIMESTAMP NOT NULL,
    updated_at       TIMESTAMP NOT NULL
);
CREATE INDEX samples_design ON samples (design_id, created_at);
CREATE INDEX samples_holder ON samples (held_by);

CREATE TABLE sample_moves (
    id             TEXT PRIMARY KEY,
    sample_id      TEXT NOT NULL REFERENCES samples (id) ON DELETE CASCADE,
    at             TIMESTAMP NOT NULL,
    by_person      TEXT REFERENCES people (id),
    worked_through TEXT REFERENCES installments (id),
    worked_note    TEXT NOT NULL,
    held_by        TEXT REFERENCES people (id),
    held_note      TEXT NOT NULL,
    ripped_back    BOOLEAN NOT NULL,       -- worked back to an earlier point, on purpose
    note           TEXT NOT NULL
);
CREATE INDEX sample_moves_sample ON sample_moves (sample_id, id);

CREATE TABLE sample_measurements (
    sample_id TEXT NOT NULL REFERENCES samples (id) ON DELETE CASCADE,
    point_id  TEXT NOT NULL REFERENCES points (id) ON DELETE CASCADE,
    value     DOUBLE PRECISION NOT NULL,
    unit      TEXT NOT NULL CHECK (unit IN ('cm', 'in')),
    cm        DOUBLE PRECISION NOT NULL,
    PRIMARY KEY (sample_id, point_id)
);

CREATE TABLE takes (
    id             TEXT PRIMARY KEY,
    installment_id TEXT NOT NULL REFERENCES installments (id) ON DELETE CASCADE,
    number         INTEGER NOT NULL,
    recorded_on    TEXT NOT NULL,
    seconds        INTEGER,                -- length of the recording
    sample_id      TEXT REFERENCES samples (id),
    version_id     TEXT REFERENCES versions (id), -- the text that was read from
    note           TEXT NOT NULL,
    accepted_at    TIMESTAMP,
    set_aside_at   TIMESTAMP,
    revision       INTEGER NOT NULL,
    created_at     TIMESTAMP NOT NULL,
    updated_at     TIMESTAMP NOT NULL,
    UNIQUE (installment_id, number)
);

CREATE TABLE slips (
    id         TEXT PRIMARY KEY,
    take_id    TEXT NOT NULL REFERENCES takes (id) ON DELETE CASCADE,
    at_ms      INTEGER NOT NULL CHECK (at_ms >= 0), -- time code in the take, milliseconds
    wrong      TEXT NOT NULL,              -- what was said or shown
    should_be  TEXT NOT NULL,
    remedy     TEXT NOT NULL CHECK (remedy IN ('on_screen_note', 'cut', 'record_again')),
    mended_at  TIMESTAMP,
    revision   INTEGER NOT NULL,
    created_at TIMESTAMP NOT NULL,
    updated_at TIMESTAMP NOT NULL
);
CREATE INDEX slips_take ON slips (take_id, at_ms);
-- +goose Down
DROP TABLE slips;
DROP TABLE takes;
DROP TABLE sample_measurements;
DROP TABLE sample_moves;
DROP TABLE samples;
