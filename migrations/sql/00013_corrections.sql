-- Changes to a text that went out: what they are, for which sizes, and how far each is.
-- +goose Up
CREATE TABLE corrections (
    id             TEXT PRIMARY KEY,
    design_id      TEXT NOT NULL REFERENCES designs (id) ON DELETE CASCADE,
    number         INTEGER NOT NULL,       -- within the design, from 1
    place          TEXT NOT NULL,          -- where in the text
    was            TEXT NOT NULL,
    is_now         TEXT NOT NULL,          -- '' = not known yet
    why            TEXT NOT NULL,          -- for the studio; never published
    count_name     TEXT NOT NULL,          -- in the count sheet; '' = it is about no count
    since_version  TEXT NOT NULL REFERENCES versions (id), -- the first one at fault
    mended_version TEXT REFERENCES versions (id),          -- NULL: in none yet
    found_by       TEXT REFERENCES people (id),            -- NULL: not told, somebody without a handle, or forgotten
    found_words    TEXT NOT NULL,          -- who found it, where it is no person here
    finding_key    TEXT NOT NULL,          -- of the fit finding that it came from; '' = of none
    remark_id      TEXT REFERENCES remarks (id),           -- that it came from; NULL: from none
    in_text_at     TIMESTAMP,
    announced_at   TIMESTAMP,
    withdrawn_at   TIMESTAMP,
    withdrawn_why  TEXT NOT NULL,
    revision       INTEGER NOT NULL,
    created_at     TIMESTAMP NOT NULL,
    updated_at     TIMESTAMP NOT NULL,
    UNIQUE (design_id, number),
    CHECK ((in_text_at IS NULL) = (mended_version IS NULL)),
    CHECK (announced_at IS NULL OR in_text_at IS NOT NULL)
);
CREATE INDEX corrections_found_by ON corrections (found_by);

-- For which sizes a correction is; none means all.
CREATE TABLE correction_sizes (
    correction_id TEXT NOT NULL REFERENCES corrections (id) ON DELETE CASCADE,
    size_id       TEXT NOT NULL REFERENCES sizes (id),
    PRIMARY KEY (correction_id, size_id)
);
CREATE INDEX correction_sizes_size ON correction_sizes (size_id);
-- +goose Down
DROP TABLE correction_sizes;
DROP TABLE corrections;
