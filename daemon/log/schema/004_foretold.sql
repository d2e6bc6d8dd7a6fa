-- What a warning foretold: when the air would leave its band, and the earlier warning that came true
-- with this one.
ALTER TABLE warning ADD COLUMN breach_at_ms INTEGER;
ALTER TABLE warning ADD COLUMN follows INTEGER;
