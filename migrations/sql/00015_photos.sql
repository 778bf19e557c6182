-- Photos of testers' pieces and of samples. The pictures themselves are files beside the database or in an object store.
-- +goose Up
CREATE TABLE photos (
    id            TEXT PRIMARY KEY,
    assignment_id TEXT REFERENCES assignments (id),
    sample_id     TEXT REFERENCES samples (id),
    added_by      TEXT REFERENCES people (id),
    caption       TEXT NOT NULL,                -- what it shows, in words; also read out in place of it
    sent_hash     TEXT NOT NULL,                -- SHA-256 of the file as it came, hex; '' once it is removed
    width         INTEGER NOT NULL,             -- pixels of the largest of its pictures
    height        INTEGER NOT NULL,
    removed_at    TIMESTAMP,                    -- its pictures are gone
    revision      INTEGER NOT NULL,
    created_at    TIMESTAMP NOT NULL,
    updated_at    TIMESTAMP NOT NULL,
    CHECK ((assignment_id IS NULL) <> (sample_id IS NULL))
);
-- The same file sent again is the same photo.
CREATE UNIQUE INDEX photos_once_of_assignment ON photos (assignment_id, sent_hash) WHERE assignment_id IS NOT NULL AND removed_at IS NULL;
CREATE UNIQUE INDEX photos_once_of_sample ON photos (sample_id, sent_hash) WHERE sample_id IS NOT NULL AND removed_at IS NULL;
CREATE INDEX photos_by_person ON photos (added_by);

CREATE TABLE photo_files (
    photo_id TEXT NOT NULL REFERENCES photos (id) ON DELETE CASCADE,
    size     TEXT NOT NULL CHECK (size IN ('thumb', 'screen', 'large')),
    hash     TEXT NOT NULL,                     -- SHA-256, hex
    bytes    INTEGER NOT NULL CHECK (bytes > 0),
    width    INTEGER NOT NULL CHECK (width > 0),
    height   INTEGER NOT NULL CHECK (height > 0),
    PRIMARY KEY (photo_id, size)
);
-- +goose Down
DROP TABLE photo_files;
DROP TABLE photos;
