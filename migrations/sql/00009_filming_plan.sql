-- The points of a text that are worked to and shown, the shots that show them, and which take holds which shot.
-- +goose Up
CREATE TABLE design_states (
    id             TEXT PRIMARY KEY,       -- the end of an installment has the installment's own id
    design_id      TEXT NOT NULL REFERENCES designs (id) ON DELETE CASCADE,
    installment_id TEXT NOT NULL REFERENCES installments (id) ON DELETE CASCADE,
    position       INTEGER NOT NULL,       -- within the installment, from 1; 0 for its end
    name           TEXT NOT NULL,          -- '' for the end of an installment
    stitches       TEXT NOT NULL,          -- made since the state before: an expression over counts; '' not known
    hours          DOUBLE PRECISION        -- the same as hours of making, where the stitches don't tell; NULL: not said
);
CREATE INDEX design_states_design ON design_states (design_id);
CREATE INDEX design_states_installment ON design_states (installment_id);
INSERT INTO design_states (id, design_id, installment_id, position, name, stitches)
    SELECT id, design_id, id, 0, '', '' FROM installments;

ALTER TABLE installments ADD COLUMN shoot_on TEXT; -- the day on which it is to be recorded; NULL: by record_by
ALTER TABLE samples ADD COLUMN state_id TEXT;      -- a point within the installment after worked_through; NULL: at its end
ALTER TABLE sample_moves ADD COLUMN state_id TEXT;
ALTER TABLE sample_moves ADD COLUMN hours DOUBLE PRECISION;    -- of making, as logged
ALTER TABLE sample_moves ADD COLUMN stitches DOUBLE PRECISION; -- made in them, by the counts of that day

CREATE TABLE shots (
    id             TEXT PRIMARY KEY,
    installment_id TEXT NOT NULL REFERENCES installments (id) ON DELETE CASCADE,
    position       INTEGER NOT NULL,
    title          TEXT NOT NULL,          -- what is shown
    from_state     TEXT REFERENCES design_states (id), -- NULL: the beginning, nothing made
    to_state       TEXT REFERENCES design_states (id),
    attached       TEXT NOT NULL,          -- yarn that stays attached
    marked         TEXT NOT NULL,          -- stitches that are marked
    live           TEXT NOT NULL,          -- stitches left live
    differs        TEXT NOT NULL,          -- where groups of sizes differ
    note           TEXT NOT NULL,
    chapter_ms     INTEGER CHECK (chapter_ms >= 0), -- its place in the finished video; NULL: reckoned from the takes
    revision       INTEGER NOT NULL,
    created_at     TIMESTAMP NOT NULL,
    updated_at     TIMESTAMP NOT NULL
);
CREATE INDEX shots_installment ON shots (installment_id, position);
CREATE INDEX shots_from ON shots (from_state);
CREATE INDEX shots_to ON shots (to_state);

-- The counts that are said in a shot, by their names in the count sheet.
CREATE TABLE shot_numbers (
    shot_id    TEXT NOT NULL REFERENCES shots (id) ON DELETE CASCADE,
    position   INTEGER NOT NULL,
    count_name TEXT NOT NULL,
    words      TEXT NOT NULL,              -- said around it: 'stitches at the end of the round'
    PRIMARY KEY (shot_id, position)
);

-- Tails left long for a seam.
CREATE TABLE shot_tails (
    shot_id  TEXT NOT NULL REFERENCES shots (id) ON DELETE CASCADE,
    position INTEGER NOT NULL,
    seam     TEXT NOT NULL,
    value    DOUBLE PRECISION NOT NULL,    -- length of the seam in the filmed size
    unit     TEXT NOT NULL CHECK (unit IN ('cm', 'in')),
    cm       DOUBLE PRECISION NOT NULL,
    PRIMARY KEY (shot_id, position)
);

CREATE TABLE take_shots (
    take_id     TEXT NOT NULL REFERENCES takes (id) ON DELETE CASCADE,
    shot_id     TEXT NOT NULL REFERENCES shots (id) ON DELETE CASCADE,
    at_ms       INTEGER CHECK (at_ms >= 0),    -- where it begins in the take; NULL: not stamped
    until_ms    INTEGER CHECK (until_ms >= 0), -- NULL: to the next shot or the take's end
    accepted_at TIMESTAMP,
    PRIMARY KEY (take_id, shot_id)
);
CREATE INDEX take_shots_shot ON take_shots (shot_id);

-- What was said for the filmed size, to be held against the text later.
CREATE TABLE take_numbers (
    take_id    TEXT NOT NULL REFERENCES takes (id) ON DELETE CASCADE,
    shot_id    TEXT NOT NULL REFERENCES shots (id) ON DELETE CASCADE,
    count_name TEXT NOT NULL,
    said       DOUBLE PRECISION NOT NULL,
    PRIMARY KEY (take_id, shot_id, count_name)
);
-- +goose Down
DROP TABLE take_numbers;
DROP TABLE take_shots;
DROP TABLE shot_tails;
DROP TABLE shot_numbers;
DROP TABLE shots;
ALTER TABLE sample_moves DROP COLUMN stitches;
ALTER TABLE sample_moves DROP COLUMN hours;
ALTER TABLE sample_moves DROP COLUMN state_id;
ALTER TABLE samples DROP COLUMN state_id;
ALTER TABLE installments DROP COLUMN shoot_on;
DROP TABLE design_states;
