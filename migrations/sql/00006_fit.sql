-- What was decided about the diagnosis' findings, what testers are asked to measure again, and the yarn that is stated.
-- +goose Up
CREATE TABLE finding_decisions (
    id            TEXT PRIMARY KEY,
    design_id     TEXT NOT NULL REFERENCES designs (id) ON DELETE CASCADE,
    key           TEXT NOT NULL,           -- the same for the same kind, size, point, version, tester and axis
    kind          TEXT NOT NULL,
    choice        TEXT NOT NULL CHECK (choice IN ('accepted', 'rejected', 'left')),
    reason        TEXT NOT NULL,
    message       TEXT NOT NULL,           -- the finding as it was read
    numbers       TEXT NOT NULL,           -- JSON: what it was decided on
    decided_by    TEXT REFERENCES people (id),
    decided_at    TIMESTAMP NOT NULL,
    revision      INTEGER NOT NULL,
    created_at    TIMESTAMP NOT NULL,
    updated_at    TIMESTAMP NOT NULL,
    UNIQUE (design_id, key)
);

-- A tester is asked to measure a point again, or their swatch; the next report that measures it answers.
CREATE TABLE measure_requests (
    id            TEXT PRIMARY KEY,
    design_id     TEXT NOT NULL REFERENCES designs (id) ON DELETE CASCADE,
    assignment_id TEXT NOT NULL REFERENCES assignments (id) ON DELETE CASCADE,
    point_id      TEXT REFERENCES points (id), -- NULL: the swatch
    why           TEXT NOT NULL,           -- in words to the tester
    asked_by      TEXT REFERENCES people (id),
    asked_at      TIMESTAMP NOT NULL,
    was_value     DOUBLE PRECISION,        -- what the report said when it was asked; NULL: nothing
    was_unit      TEXT CHECK (was_unit IN ('cm', 'in')),
    was_cm        DOUBLE PRECISION,
    answered_at   TIMESTAMP,
    report_id     TEXT REFERENCES reports (id), -- that answered
    now_value     DOUBLE PRECISION,
    now_unit      TEXT CHECK (now_unit IN ('cm', 'in')),
    now_cm        DOUBLE PRECISION,
    withdrawn_at  TIMESTAMP,
    revision      INTEGER NOT NULL,
    created_at    TIMESTAMP NOT NULL,
    updated_at    TIMESTAMP NOT NULL
);
CREATE INDEX measure_requests_design ON measure_requests (design_id, id);
CREATE INDEX measure_requests_assignment ON measure_requests (assignment_id);
CREATE UNIQUE INDEX measure_requests_open ON measure_requests (assignment_id, coalesce(point_id, '')) WHERE answered_at IS NULL AND withdrawn_at IS NULL;

-- One row a design: the ball as it is sold, how many makers it should last, and what a size's stitches are.
CREATE TABLE yarn_plans (
    design_id    TEXT PRIMARY KEY REFERENCES designs (id) ON DELETE CASCADE,
    length_value DOUBLE PRECISION,         -- of a ball; NULL: not told
    length_unit  TEXT CHECK (length_unit IN ('m', 'yd')),
    weight_value DOUBLE PRECISION,
    weight_unit  TEXT CHECK (weight_unit IN ('g', 'oz')),
    share        DOUBLE PRECISION NOT NULL, -- of makers for whom it should last
    stitches     TEXT NOT NULL,            -- all stitches of a size, over the names of counts; '' = taken from two points
    revision     INTEGER NOT NULL,
    created_at   TIMESTAMP NOT NULL,
    updated_at   TIMESTAMP NOT NULL
);

CREATE TABLE stated_yarns (
    design_id TEXT NOT NULL REFERENCES designs (id) ON DELETE CASCADE,
    size_id   TEXT NOT NULL REFERENCES sizes (id) ON DELETE CASCADE,
    value     DOUBLE PRECISION NOT NULL CHECK (value > 0),
    unit      TEXT NOT NULL CHECK (unit IN ('m', 'yd')),
    metres    DOUBLE PRECISION NOT NULL,
    PRIMARY KEY (design_id, size_id)
);
-- +goose Down
DROP TABLE stated_yarns;
DROP TABLE yarn_plans;
DROP TABLE measure_requests;
DROP TABLE finding_decisions;
