CREATE TABLE visitor (
    id TEXT PRIMARY KEY NOT NULL,
    token TEXT NOT NULL UNIQUE,
    owner TEXT NOT NULL,
    made REAL NOT NULL
) STRICT;
CREATE TABLE plan (
    id TEXT PRIMARY KEY NOT NULL,
    owner TEXT NOT NULL,
    family TEXT NOT NULL,
    name TEXT NOT NULL,
    revision INTEGER NOT NULL,
    looking TEXT NOT NULL DEFAULT '{}',
    made REAL NOT NULL,
    changed REAL NOT NULL
) STRICT;
CREATE INDEX plan_of_owner ON plan (owner, changed);
CREATE TABLE revision (
    plan TEXT NOT NULL REFERENCES plan (id) ON DELETE CASCADE,
    number INTEGER NOT NULL,
    text TEXT NOT NULL,
    digest TEXT NOT NULL,
    note TEXT NOT NULL,
    made REAL NOT NULL,
    PRIMARY KEY (plan, number)
) STRICT, WITHOUT ROWID;
CREATE TABLE result (
    key TEXT PRIMARY KEY NOT NULL,
    kind TEXT NOT NULL,
    body BLOB NOT NULL,
    made REAL NOT NULL
) STRICT;
CREATE INDEX result_by_age ON result (made);
CREATE TABLE job (
    id TEXT PRIMARY KEY NOT NULL,
    plan TEXT NOT NULL REFERENCES plan (id) ON DELETE CASCADE,
    owner TEXT NOT NULL,
    kind TEXT NOT NULL,
    key TEXT NOT NULL,
    text TEXT NOT NULL,
    state TEXT NOT NULL CHECK (state IN ('waiting', 'running', 'done', 'failed', 'cancelled')),
    share REAL NOT NULL DEFAULT 0.0,
    says TEXT NOT NULL DEFAULT '',
    made REAL NOT NULL,
    changed REAL NOT NULL
) STRICT;
CREATE INDEX job_of_plan ON job (plan, kind, made);
