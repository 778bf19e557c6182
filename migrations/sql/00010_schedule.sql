-- When people work, how long things take, and each person's calendar link.
-- +goose Up
CREATE TABLE person_work (
    person_id         TEXT PRIMARY KEY REFERENCES people (id) ON DELETE CASCADE,
    days              TEXT NOT NULL,       -- 'mon,tue,thu'
    hours_per_day     DOUBLE PRECISION NOT NULL,
    stitches_per_hour DOUBLE PRECISION     -- as stated; NULL: learned from logged hours
);

CREATE TABLE person_away (
    person_id TEXT NOT NULL REFERENCES people (id) ON DELETE CASCADE,
    from_on   TEXT NOT NULL,
    until_on  TEXT NOT NULL,               -- the last day away
    PRIMARY KEY (person_id, from_on)
);

-- What the designer says that a kind of work takes, in place of the studio's own figures.
CREATE TABLE estimates (
    design_id TEXT NOT NULL REFERENCES designs (id) ON DELETE CASCADE,
    kind      TEXT NOT NULL,               -- 'film', 'edit', ...
    low       DOUBLE PRECISION NOT NULL,
    likely    DOUBLE PRECISION NOT NULL,
    high      DOUBLE PRECISION NOT NULL,
    PRIMARY KEY (design_id, kind)
);

CREATE TABLE calendar_links (
    id         TEXT PRIMARY KEY,
    person_id  TEXT NOT NULL REFERENCES people (id) ON DELETE CASCADE,
    token_hash TEXT NOT NULL UNIQUE,       -- SHA-256, hex
    created_at TIMESTAMP NOT NULL,
    revoked_at TIMESTAMP
);
CREATE INDEX calendar_links_person ON calendar_links (person_id);
-- +goose Down
DROP TABLE calendar_links;
DROP TABLE estimates;
DROP TABLE person_away;
DROP TABLE person_work;
