-- A design, its sizes and points of measure, and the versions of its count sheet.
-- Every length is kept as it was entered (value, unit) and in centimetres.
-- +goose Up
CREATE TABLE designs (
    id             TEXT PRIMARY KEY,
    slug           TEXT NOT NULL UNIQUE,
    name           TEXT NOT NULL,
    craft          TEXT NOT NULL CHECK (craft IN ('crochet', 'knit')),
    audience       TEXT NOT NULL CHECK (audience IN ('baby', 'child', 'youth', 'woman', 'man', 'unisex')),
    terms          TEXT NOT NULL CHECK (terms IN ('us', 'uk')),
    unit           TEXT NOT NULL CHECK (unit IN ('cm', 'in')),
    gauge_stitches DOUBLE PRECISION NOT NULL CHECK (gauge_stitches > 0),
    gauge_rows     DOUBLE PRECISION NOT NULL CHECK (gauge_rows > 0),
    gauge_span     DOUBLE PRECISION NOT NULL CHECK (gauge_span > 0),
    gauge_unit     TEXT NOT NULL CHECK (gauge_unit IN ('cm', 'in')),
    yarn           TEXT NOT NULL,
    tool           TEXT NOT NULL,          -- hook or needle, in the designer's words
    tool_mm        DOUBLE PRECISION,
    grouping       TEXT NOT NULL,          -- sizes in each bracket of a printed line: '1,3,3,2'; '' = one bracket
    note           TEXT NOT NULL,
    released_on    TEXT,
    archived_at    TIMESTAMP,
    revision       INTEGER NOT NULL,       -- of the design, its sizes and its points together
    created_at     TIMESTAMP NOT NULL,
    updated_at     TIMESTAMP NOT NULL
);

CREATE TABLE sizes (
    id        TEXT PRIMARY KEY,
    design_id TEXT NOT NULL REFERENCES designs (id) ON DELETE CASCADE,
    position  INTEGER NOT NULL,            -- 1 = smallest
    name      TEXT NOT NULL,
    filmed    BOOLEAN NOT NULL             -- the size whose numbers are spoken on camera
);
CREATE INDEX sizes_design ON sizes (design_id, position);
CREATE UNIQUE INDEX sizes_name ON sizes (design_id, name);

CREATE TABLE body_measurements (
    size_id   TEXT NOT NULL REFERENCES sizes (id) ON DELETE CASCADE,
    dimension TEXT NOT NULL,               -- 'bust', 'upper arm', ...
    value     DOUBLE PRECISION NOT NULL,
    unit      TEXT NOT NULL CHECK (unit IN ('cm', 'in')),
    cm        DOUBLE PRECISION NOT NULL,
    PRIMARY KEY (size_id, dimension)
);

CREATE TABLE points (
    id               TEXT PRIMARY KEY,
    design_id        TEXT NOT NULL REFERENCES designs (id) ON DELETE CASCADE,
    position         INTEGER NOT NULL,
    name             TEXT NOT NULL,
    axis             TEXT NOT NULL CHECK (axis IN ('stitch', 'row')),
    expr             TEXT NOT NULL,        -- over the names of counts
    add_value        DOUBLE PRECISION NOT NULL, -- an edging, added to what the counts give; may be negative
    add_unit         TEXT NOT NULL CHECK (add_unit IN ('cm', 'in')),
    add_cm           DOUBLE PRECISION NOT NULL,
    tolerance_value  DOUBLE PRECISION NOT NULL CHECK (tolerance_value > 0),
    tolerance_unit   TEXT NOT NULL CHECK (tolerance_unit IN ('cm', 'in')),
    tolerance_cm     DOUBLE PRECISION NOT NULL,
    repeatability_cm DOUBLE PRECISION,     -- standard uncertainty of measuring it; NULL: the default for its length
    repeat           INTEGER NOT NULL,     -- stitch or row repeat in which the count can move
    girth            BOOLEAN NOT NULL,     -- a full circumference, usually measured flat and doubled
    how_to_measure   TEXT NOT NULL,
    body_dimension   TEXT,                 -- the body measurement that ease is counted from
    ease_low_cm      DOUBLE PRECISION,
    ease_high_cm     DOUBLE PRECISION
);
CREATE INDEX points_design ON points (design_id, position);
CREATE UNIQUE INDEX points_name ON points (design_id, name);

CREATE TABLE intended_measurements (
    point_id TEXT NOT NULL REFERENCES points (id) ON DELETE CASCADE,
    size_id  TEXT NOT NULL REFERENCES sizes (id) ON DELETE CASCADE,
    value    DOUBLE PRECISION NOT NULL,
    unit     TEXT NOT NULL CHECK (unit IN ('cm', 'in')),
    cm       DOUBLE PRECISION NOT NULL,
    PRIMARY KEY (point_id, size_id)
);
CREATE INDEX intended_measurements_size ON intended_measurements (size_id);

CREATE TABLE versions (
    id           TEXT PRIMARY KEY,
    design_id    TEXT NOT NULL REFERENCES designs (id) ON DELETE CASCADE,
    number       INTEGER NOT NULL,
    note         TEXT NOT NULL,
    given_out_at TIMESTAMP,                -- set when a tester first gets it; it never changes after that
    revision     INTEGER NOT NULL,         -- of the version with its counts and rules
    created_at   TIMESTAMP NOT NULL,
    updated_at   TIMESTAMP NOT NULL,
    UNIQUE (design_id, number)
);

CREATE TABLE counts (
    id         TEXT PRIMARY KEY,
    version_id TEXT NOT NULL REFERENCES versions (id) ON DELETE CASCADE,
    position   INTEGER NOT NULL,           -- the text's order
    name       TEXT NOT NULL,
    unit       TEXT NOT NULL CHECK (unit IN ('stitch', 'row', 'repeat', 'row_number')),
    note       TEXT NOT NULL,              -- what it is, where it stands in the text
    UNIQUE (version_id, name)
);

-- A size that skips the line has no row here.
CREATE TABLE count_values (
    count_id TEXT NOT NULL REFERENCES counts (id) ON DELETE CASCADE,
    size_id  TEXT NOT NULL REFERENCES sizes (id) ON DELETE CASCADE,
    value    DOUBLE PRECISION NOT NULL CHECK (value >= 0),
    PRIMARY KEY (count_id, size_id)
);
CREATE INDEX count_values_size ON count_values (size_id);

CREATE TABLE rules (
    id          TEXT PRIMARY KEY,
    version_id  TEXT NOT NULL REFERENCES versions (id) ON DELETE CASCADE,
    position    INTEGER NOT NULL,
    name        TEXT NOT NULL,
    kind        TEXT NOT NULL CHECK (kind IN ('holds', 'multiple')),
    expr        TEXT NOT NULL,
    multiple_of INTEGER,
    plus        INTEGER
);
CREATE INDEX rules_version ON rules (version_id, position);
-- +goose Down
DROP TABLE rules;
DROP TABLE count_values;
DROP TABLE counts;
DROP TABLE versions;
DROP TABLE intended_measurements;
DROP TABLE points;
DROP TABLE body_measurements;
DROP TABLE sizes;
DROP TABLE designs;
