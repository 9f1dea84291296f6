-- Subjects and their histories.
PRAGMA application_id = 1416589172;

CREATE TABLE subject (
    id TEXT PRIMARY KEY NOT NULL,
    kind TEXT NOT NULL,
    last BIGINT NOT NULL CHECK (last > 0),
    first_at BIGINT NOT NULL,
    last_at BIGINT NOT NULL,
    last_by TEXT NOT NULL,
    number TEXT NOT NULL,
    number_key TEXT NOT NULL,
    about TEXT NOT NULL,
    stage TEXT NOT NULL,
    live BIGINT NOT NULL CHECK (live IN (0, 1)),
    tray TEXT
);

CREATE UNIQUE INDEX subject_one_number ON subject (kind, number_key) WHERE live = 1;

CREATE TABLE entry (
    subject TEXT NOT NULL REFERENCES subject (id),
    number BIGINT NOT NULL CHECK (number > 0),
    written_at BIGINT NOT NULL,
    written_by TEXT NOT NULL,
    kind TEXT NOT NULL,
    version BIGINT NOT NULL,
    body TEXT NOT NULL,
    PRIMARY KEY (subject, number)
);

-- History only grows.
CREATE TRIGGER entry_is_never_changed BEFORE UPDATE ON entry
BEGIN SELECT RAISE(ABORT, 'history only grows: an entry is never changed'); END;

CREATE TRIGGER entry_is_never_deleted BEFORE DELETE ON entry
BEGIN SELECT RAISE(ABORT, 'history only grows: an entry is never deleted'); END;
