-- What makes lists and searches fast. All of it is reckoned from the histories and can be again:
-- "reckoned" says by which rules that was done last.
ALTER TABLE subject ADD COLUMN size_mm DOUBLE PRECISION;
ALTER TABLE subject ADD COLUMN reckoned BIGINT NOT NULL DEFAULT 0;

CREATE INDEX subject_by_number ON subject (kind, number_key, id);
CREATE INDEX subject_by_time ON subject (kind, last_at DESC, id);
CREATE INDEX subject_by_tray ON subject (kind, tray, number_key, id);
CREATE INDEX subject_by_stage ON subject (kind, stage, number_key, id);
CREATE INDEX subject_by_rules ON subject (reckoned);
CREATE INDEX entry_by_time ON entry (written_at, subject, number);

-- The words by which a subject is found.
CREATE TABLE word (
    kind TEXT NOT NULL,
    word TEXT COLLATE "C" NOT NULL,
    subject TEXT COLLATE "C" NOT NULL REFERENCES subject (id),
    PRIMARY KEY (kind, word, subject)
);
CREATE INDEX word_by_subject ON word (subject, word);

-- Which wheel ground in which entry.
CREATE TABLE ground_with (
    wheel TEXT COLLATE "C" NOT NULL,
    written_at BIGINT NOT NULL,
    subject TEXT COLLATE "C" NOT NULL,
    number BIGINT NOT NULL,
    PRIMARY KEY (subject, number),
    FOREIGN KEY (subject, number) REFERENCES entry (subject, number)
);
CREATE INDEX ground_with_by_wheel ON ground_with (wheel, written_at, subject, number);
