-- What a garment has that a caution may be about, and who has read the cautions.
-- +goose Up
-- That the features were told at all: none of them is an answer too.
CREATE TABLE feature_lists (
    design_id TEXT PRIMARY KEY REFERENCES designs (id) ON DELETE CASCADE,
    told_by   TEXT REFERENCES people (id),
    told_at   TIMESTAMP NOT NULL
);

CREATE TABLE design_features (
    design_id TEXT NOT NULL REFERENCES designs (id) ON DELETE CASCADE,
    feature   TEXT NOT NULL,               -- 'hood', 'ties', ...
    PRIMARY KEY (design_id, feature)
);

CREATE TABLE caution_acknowledgements (
    id              TEXT PRIMARY KEY,
    design_id       TEXT NOT NULL REFERENCES designs (id) ON DELETE CASCADE,
    caution         TEXT NOT NULL,
    statement       TEXT NOT NULL,         -- what was read: a caution whose words change has to be read again
    note            TEXT NOT NULL,
    acknowledged_by TEXT REFERENCES people (id),
    acknowledged_at TIMESTAMP NOT NULL,
    taken_back_at   TIMESTAMP
);
CREATE UNIQUE INDEX caution_acknowledgements_standing ON caution_acknowledgements (design_id, caution) WHERE taken_back_at IS NULL;
CREATE INDEX caution_acknowledgements_design ON caution_acknowledgements (design_id, id);
-- +goose Down
DROP TABLE caution_acknowledgements;
DROP TABLE design_features;
DROP TABLE feature_lists;
