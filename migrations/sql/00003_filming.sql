-- The run of installments, what was recorded, and what was said wrong.
-- +goose Up
CREATE TABLE installments (
    id           TEXT PRIMARY KEY,
    design_id    TEXT NOT NULL REFERENCES designs (id) ON DELETE CASCADE,
    position     INTEGER NOT NULL,
    title        TEXT NOT NULL,
    covers       TEXT NOT NULL,
    air_on       TEXT,                     -- NULL: no day announced yet
    record_by    TEXT,                     -- NULL: the air date less the studio's lead days
    edited_at    TIMESTAMP,
    captioned_at TIMESTAMP,
    scheduled_at TIMESTAMP,
    aired_at     TIMESTAMP,
    link         TEXT NOT NULL,
    revision     INTEGER NOT NULL,
    created_at   TIMESTAMP NOT NULL,
    updated_at   TIMESTAMP NOT NULL
);
CREATE INDEX installments_design ON installments (design_id, position);
CREATE INDEX installments_air ON installments (air_on);
-- +goose Down
DROP TABLE installments;
