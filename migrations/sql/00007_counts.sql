-- A tech editor's word on a version, and the studio's own body tables.
-- +goose Up
CREATE TABLE sign_offs (
    id            TEXT PRIMARY KEY,
    design_id     TEXT NOT NULL REFERENCES designs (id) ON DELETE CASCADE,
    version_id    TEXT NOT NULL REFERENCES versions (id) ON DELETE CASCADE,
    revision      INTEGER NOT NULL,        -- of the version when it was signed
    note          TEXT NOT NULL,
    signed_by     TEXT REFERENCES people (id),
    signed_at     TIMESTAMP NOT NULL,
    withdrawn_by  TEXT REFERENCES people (id),
    withdrawn_at  TIMESTAMP,
    withdrawn_why TEXT NOT NULL
);
-- One stands at a time.
CREATE UNIQUE INDEX sign_offs_standing ON sign_offs (version_id) WHERE withdrawn_at IS NULL;
CREATE INDEX sign_offs_version ON sign_offs (version_id, id);
CREATE INDEX sign_offs_design ON sign_offs (design_id);

-- What failed when it was signed, and why it may stand.
CREATE TABLE sign_off_answers (
    sign_off_id TEXT NOT NULL REFERENCES sign_offs (id) ON DELETE CASCADE,
    position    INTEGER NOT NULL,
    kind        TEXT NOT NULL,
    name        TEXT NOT NULL,
    size        TEXT NOT NULL,             -- '' where it is about no one size
    message     TEXT NOT NULL,
    answer      TEXT NOT NULL,
    PRIMARY KEY (sign_off_id, position)
);

CREATE TABLE body_tables (
    id         TEXT PRIMARY KEY,
    name       TEXT NOT NULL UNIQUE,
    source     TEXT NOT NULL,              -- where its numbers come from, shown wherever they are used
    retired_at TIMESTAMP,
    revision   INTEGER NOT NULL,
    created_at TIMESTAMP NOT NULL,
    updated_at TIMESTAMP NOT NULL
);

CREATE TABLE body_table_cells (
    table_id           TEXT NOT NULL REFERENCES body_tables (id) ON DELETE CASCADE,
    size_position      INTEGER NOT NULL,   -- 1 = smallest
    dimension_position INTEGER NOT NULL,
    size               TEXT NOT NULL,
    dimension          TEXT NOT NULL,
    value              DOUBLE PRECISION NOT NULL,
    unit               TEXT NOT NULL CHECK (unit IN ('cm', 'in')),
    cm                 DOUBLE PRECISION NOT NULL,
    PRIMARY KEY (table_id, size_position, dimension_position)
);
-- +goose Down
DROP TABLE body_table_cells;
DROP TABLE body_tables;
DROP TABLE sign_off_answers;
DROP TABLE sign_offs;
