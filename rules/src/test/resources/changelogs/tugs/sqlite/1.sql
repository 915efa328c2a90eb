--liquibase formatted sql
--changeset tugs:1
PRAGMA foreign_keys = ON;
CREATE TABLE IF NOT EXISTS "tug" (
  "id" INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL,
  [name] TEXT NOT NULL COLLATE NOCASE UNIQUE ON CONFLICT IGNORE,
  `power` INT DEFAULT (1 + 1),
  call_sign VARCHAR(8),
  built DATE DEFAULT CURRENT_DATE,
  fuel REAL GENERATED ALWAYS AS (power * 2) VIRTUAL,
  CONSTRAINT sign UNIQUE (call_sign, built)
);
CREATE TABLE job (
  no TEXT PRIMARY KEY,
  tug_id INTEGER REFERENCES tug (id) ON DELETE CASCADE DEFERRABLE INITIALLY DEFERRED,
  vessel, from_at,
  UNIQUE (vessel, from_at)
) WITHOUT ROWID;
CREATE INDEX IF NOT EXISTS job_tug_ix ON job (tug_id, from_at DESC) WHERE vessel IS NOT NULL;
CREATE UNIQUE INDEX job_lower_ux ON job (vessel DESC);
CREATE INDEX main.tug_power_ix ON tug (power COLLATE BINARY ASC);
--changeset tugs:2 endDelimiter:\n@@
CREATE TRIGGER job_ai AFTER INSERT ON job BEGIN
  UPDATE tug SET power = power + 1 WHERE id = new.tug_id;
END
@@
CREATE VIEW busy AS SELECT tug_id, count(*) AS n FROM job GROUP BY tug_id
@@
--changeset tugs:3
ALTER TABLE job ADD COLUMN pilot TEXT DEFAULT 'none';
CREATE INDEX job_pilot_ix ON job (pilot);
ALTER TABLE tug RENAME COLUMN power TO horse_power;
DROP VIEW busy;
ALTER TABLE tug RENAME TO tug_boat;
DROP INDEX IF EXISTS job_pilot_ix;
ALTER TABLE job DROP COLUMN pilot;
--changeset tugs:4
DROP TRIGGER job_ai;
CREATE TABLE tug_new (id INTEGER PRIMARY KEY, name TEXT, note TEXT UNIQUE);
INSERT INTO tug_new (id, name) SELECT id, name FROM tug_boat;
CREATE INDEX tug_new_name ON tug_new (name);
DROP TABLE tug_boat;
ALTER TABLE tug_new RENAME TO tug;
CREATE TABLE copied AS SELECT * FROM tug;
CREATE TEMP TABLE t (x int);
REINDEX;
ANALYZE;
