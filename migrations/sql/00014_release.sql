-- What goes out and when: the version, gates opened by hand, and what was done on which day.
-- +goose Up
ALTER TABLE designs ADD COLUMN out_version INTEGER;      -- number of the version that goes out; NULL: the latest
ALTER TABLE designs ADD COLUMN released_at TIMESTAMP;    -- when the text went out; released_on is the day announced for it
ALTER TABLE designs ADD COLUMN released_by TEXT REFERENCES people (id);
ALTER TABLE installments ADD COLUMN out_version INTEGER; -- of the text that went out with it; NULL: it has not aired
ALTER TABLE installments ADD COLUMN aired_by TEXT REFERENCES people (id);

-- Until now a text was out when its day had come, and the latest version went out.
UPDATE designs SET released_at = updated_at WHERE released_on <= CAST(CURRENT_DATE AS TEXT);
UPDATE installments SET out_version = (SELECT max(v.number) FROM versions v
    WHERE v.design_id = installments.design_id AND v.created_at <= installments.aired_at) WHERE aired_at IS NOT NULL;

CREATE TABLE gate_overrides (
    id             TEXT PRIMARY KEY,
    design_id      TEXT NOT NULL REFERENCES designs (id) ON DELETE CASCADE,
    installment_id TEXT REFERENCES installments (id) ON DELETE CASCADE, -- NULL: a gate of the design
    gate           TEXT NOT NULL,           -- 'counts', 'cautions', ...
    reason         TEXT NOT NULL,
    why            TEXT NOT NULL,           -- what the gate said
    facts          TEXT NOT NULL,           -- JSON: what it was shut for; it holds for these and no others
    opened_by      TEXT REFERENCES people (id),
    opened_at      TIMESTAMP NOT NULL,
    taken_back_by  TEXT REFERENCES people (id),
    taken_back_at  TIMESTAMP
);
CREATE UNIQUE INDEX gate_overrides_standing ON gate_overrides (design_id, COALESCE(installment_id, ''), gate) WHERE taken_back_at IS NULL;

CREATE TABLE release_ticks (
    id             TEXT PRIMARY KEY,
    design_id      TEXT NOT NULL REFERENCES designs (id) ON DELETE CASCADE,
    installment_id TEXT REFERENCES installments (id) ON DELETE CASCADE, -- NULL: of the day of the design itself
    item           TEXT NOT NULL CHECK (item IN ('text', 'captions', 'testers', 'thanks', 'corrections')),
    version        INTEGER,                 -- of the text, where the item is about one
    ticked_by      TEXT REFERENCES people (id),
    ticked_at      TIMESTAMP NOT NULL,
    taken_back_by  TEXT REFERENCES people (id),
    taken_back_at  TIMESTAMP
);
CREATE UNIQUE INDEX release_ticks_standing ON release_ticks (design_id, COALESCE(installment_id, ''), item) WHERE taken_back_at IS NULL;
-- +goose Down
DROP TABLE release_ticks;
DROP TABLE gate_overrides;
ALTER TABLE installments DROP COLUMN aired_by;
ALTER TABLE installments DROP COLUMN out_version;
ALTER TABLE designs DROP COLUMN released_by;
ALTER TABLE designs DROP COLUMN released_at;
ALTER TABLE designs DROP COLUMN out_version;
