-- What can be told later: who was forgotten, after how long that happens unasked, and what a version was when it was given out.
-- +goose Up
ALTER TABLE people ADD COLUMN forgotten_at TIMESTAMP;     -- nothing in the row names anybody any more
ALTER TABLE studio ADD COLUMN forget_after_months INTEGER CHECK (forget_after_months > 0); -- NULL: nobody is forgotten unasked
ALTER TABLE versions ADD COLUMN sealed_hash TEXT;         -- SHA-256 of counts and rules when it was given out, hex; NULL: before there was one
-- +goose Down
ALTER TABLE versions DROP COLUMN sealed_hash;
ALTER TABLE studio DROP COLUMN forget_after_months;
ALTER TABLE people DROP COLUMN forgotten_at;
