-- Who is signed in, and who tried in vain. Neither is history: both are forgotten in time.
CREATE TABLE session (
    token TEXT COLLATE "C" PRIMARY KEY NOT NULL,
    person TEXT COLLATE "C" NOT NULL REFERENCES subject (id),
    made_at BIGINT NOT NULL,
    last_seen BIGINT NOT NULL,
    expires_at BIGINT NOT NULL
);
CREATE INDEX session_by_person ON session (person);
CREATE INDEX session_by_end ON session (expires_at);

CREATE TABLE attempt (
    initials TEXT COLLATE "C" NOT NULL,
    peer TEXT COLLATE "C" NOT NULL,
    made_at BIGINT NOT NULL
);
CREATE INDEX attempt_by_initials ON attempt (initials, made_at);
CREATE INDEX attempt_by_peer ON attempt (peer, made_at);
CREATE INDEX attempt_by_time ON attempt (made_at);
