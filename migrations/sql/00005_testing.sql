-- A test call: who offered, who makes which size of which version, and what they measured.
-- +goose Up
CREATE TABLE test_calls (
    id              TEXT PRIMARY KEY,
    design_id       TEXT NOT NULL REFERENCES designs (id) ON DELETE CASCADE,
    version_id      TEXT NOT NULL REFERENCES versions (id),
    title           TEXT NOT NULL,
    opens_on        TEXT NOT NULL,
    due_on          TEXT NOT NULL,
    confidentiality TEXT NOT NULL,         -- what testers agree to until release
    closed_at       TIMESTAMP,
    revision        INTEGER NOT NULL,
    created_at      TIMESTAMP NOT NULL,
    updated_at      TIMESTAMP NOT NULL
);
CREATE INDEX test_calls_design ON test_calls (design_id, id);

CREATE TABLE slots (
    test_call_id TEXT NOT NULL REFERENCES test_calls (id) ON DELETE CASCADE,
    size_id      TEXT NOT NULL REFERENCES sizes (id),
    fewest       INTEGER NOT NULL CHECK (fewest >= 0),
    wanted       INTEGER NOT NULL,
    most         INTEGER NOT NULL,
    PRIMARY KEY (test_call_id, size_id),
    CHECK (fewest <= wanted AND wanted <= most)
);
CREATE INDEX slots_size ON slots (size_id);

CREATE TABLE applications (
    id           TEXT PRIMARY KEY,
    test_call_id TEXT NOT NULL REFERENCES test_calls (id) ON DELETE CASCADE,
    person_id    TEXT NOT NULL REFERENCES people (id),
    applied_at   TIMESTAMP NOT NULL,
    accepted     INTEGER NOT NULL,         -- tests taken on so far, as told
    finished     INTEGER NOT NULL,
    remarks      TEXT NOT NULL,
    revision     INTEGER NOT NULL,
    created_at   TIMESTAMP NOT NULL,
    updated_at   TIMESTAMP NOT NULL,
    UNIQUE (test_call_id, person_id)
);
CREATE INDEX applications_person ON applications (person_id);

CREATE TABLE application_sizes (
    application_id TEXT NOT NULL REFERENCES applications (id) ON DELETE CASCADE,
    place          INTEGER NOT NULL,       -- 1 = would like best
    size_id        TEXT NOT NULL REFERENCES sizes (id),
    PRIMARY KEY (application_id, place),
    UNIQUE (application_id, size_id)
);

CREATE TABLE assignments (
    id            TEXT PRIMARY KEY,
    test_call_id  TEXT NOT NULL REFERENCES test_calls (id),
    design_id     TEXT NOT NULL REFERENCES designs (id),
    person_id     TEXT NOT NULL REFERENCES people (id),
    size_id       TEXT NOT NULL REFERENCES sizes (id),
    version_id    TEXT NOT NULL REFERENCES versions (id),
    due_on        TEXT NOT NULL,
    assigned_at   TIMESTAMP NOT NULL,
    accepted_at   TIMESTAMP,
    withdrawn_at  TIMESTAMP,
    withdrawn_why TEXT NOT NULL,
    revision      INTEGER NOT NULL,
    created_at    TIMESTAMP NOT NULL,
    updated_at    TIMESTAMP NOT NULL
);
-- A person makes one size in a call; after withdrawing they may be asked again.
CREATE UNIQUE INDEX assignments_one ON assignments (test_call_id, person_id) WHERE withdrawn_at IS NULL;
CREATE INDEX assignments_design ON assignments (design_id, size_id);
CREATE INDEX assignments_person ON assignments (person_id, id);
CREATE INDEX assignments_version ON assignments (version_id);

CREATE TABLE invitations (
    id            TEXT PRIMARY KEY,
    person_id     TEXT NOT NULL REFERENCES people (id) ON DELETE CASCADE,
    assignment_id TEXT REFERENCES assignments (id) ON DELETE CASCADE,
    token_hash    TEXT NOT NULL UNIQUE,    -- SHA-256, hex
    created_by    TEXT REFERENCES people (id),
    created_at    TIMESTAMP NOT NULL,
    expires_at    TIMESTAMP NOT NULL,
    used_at       TIMESTAMP,
    revoked_at    TIMESTAMP
);
CREATE INDEX invitations_person ON invitations (person_id);
CREATE INDEX invitations_assignment ON invitations (assignment_id);

-- Each sending is a new row; the one that nothing supersedes is what counts. The others are its history.
CREATE TABLE reports (
    id             TEXT PRIMARY KEY,
    assignment_id  TEXT NOT NULL REFERENCES assignments (id),
    number         INTEGER NOT NULL,
    sent_at        TIMESTAMP NOT NULL,
    sent_by        TEXT REFERENCES people (id),
    source         TEXT NOT NULL CHECK (source IN ('tester', 'import')),
    swatch_stitches DOUBLE PRECISION,      -- NULL: not told
    swatch_rows    DOUBLE PRECISION,
    swatch_span    DOUBLE PRECISION,
    swatch_unit    TEXT CHECK (swatch_unit IN ('cm', 'in')),
    yarn_value     DOUBLE PRECISION,
    yarn_unit      TEXT CHECK (yarn_unit IN ('m', 'yd', 'g', 'oz')),
    hours          DOUBLE PRECISION,
    note           TEXT NOT NULL,
    superseded_at  TIMESTAMP,
    approved_at    TIMESTAMP,
    approved_by    TEXT REFERENCES people (id),
    revision       INTEGER NOT NULL,
    created_at     TIMESTAMP NOT NULL,
    updated_at     TIMESTAMP NOT NULL,
    UNIQUE (assignment_id, number)
);
CREATE UNIQUE INDEX reports_current ON reports (assignment_id) WHERE superseded_at IS NULL;

CREATE TABLE measurements (
    report_id TEXT NOT NULL REFERENCES reports (id) ON DELETE CASCADE,
    point_id  TEXT NOT NULL REFERENCES points (id),
    reading   INTEGER NOT NULL,            -- 1, 2, ...: the same point measured again
    value     DOUBLE PRECISION NOT NULL,
    unit      TEXT NOT NULL CHECK (unit IN ('cm', 'in')),
    cm        DOUBLE PRECISION NOT NULL,
    PRIMARY KEY (report_id, point_id, reading)
);
CREATE INDEX measurements_point ON measurements (point_id);

CREATE TABLE remarks (
    id            TEXT PRIMARY KEY,
    design_id     TEXT NOT NULL REFERENCES designs (id) ON DELETE CASCADE,
    version_id    TEXT NOT NULL REFERENCES versions (id),
    assignment_id TEXT REFERENCES assignments (id),
    person_id     TEXT REFERENCES people (id),
    place         TEXT NOT NULL,           -- where in the text
    body          TEXT NOT NULL,
    answer        TEXT NOT NULL,
    settled_at    TIMESTAMP,
    revision      INTEGER NOT NULL,
    created_at    TIMESTAMP NOT NULL,
    updated_at    TIMESTAMP NOT NULL
);
CREATE INDEX remarks_design ON remarks (design_id, id);
CREATE INDEX remarks_assignment ON remarks (assignment_id);
-- +goose Down
DROP TABLE remarks;
DROP TABLE measurements;
DROP TABLE reports;
DROP TABLE invitations;
DROP TABLE assignments;
DROP TABLE application_sizes;
DROP TABLE applications;
DROP TABLE slots;
DROP TABLE test_calls;
