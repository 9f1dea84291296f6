-- Subjects and their histories. Keys are ordered by their bytes, as everywhere in the program.
CREATE TABLE subject (
    id TEXT COLLATE "C" PRIMARY KEY NOT NULL,
    kind TEXT NOT NULL,
    last BIGINT NOT NULL CHECK (last > 0),
    first_at BIGINT NOT NULL,
    last_at BIGINT NOT NULL,
    last_by TEXT NOT NULL,
    number TEXT NOT NULL,
    number_key TEXT COLLATE "C" NOT NULL,
    about TEXT NOT NULL,
    stage TEXT NOT NULL,
    live BIGINT NOT NULL CHECK (live IN (0, 1)),
    tray TEXT
);

CREATE UNIQUE INDEX subject_one_number ON subject (kind, number_key) WHERE live = 1;

CREATE TABLE entry (
    subject TEXT COLLATE "C" NOT NULL REFERENCES subject (id),
    number BIGINT NOT NULL CHECK (number > 0),
    written_at BIGINT NOT NULL,
    written_by TEXT NOT NULL,
    kind TEXT NOT NULL,
    version BIGINT NOT NULL,
    body TEXT NOT NULL,
    PRIMARY KEY (subject, number)
);

-- History only grows.
CREATE FUNCTION history_only_grows() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    RAISE EXCEPTION 'history only grows: an entry is never changed or deleted';
END;
$$;

CREATE TRIGGER entry_is_never_changed BEFORE UPDATE OR DELETE ON entry
FOR EACH ROW EXECUTE FUNCTION history_only_grows();

CREATE TRIGGER entry_is_never_emptied BEFORE TRUNCATE ON entry
FOR EACH STATEMENT EXECUTE FUNCTION history_only_grows();
