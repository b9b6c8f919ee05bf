CREATE TABLE reading (
    plan TEXT NOT NULL REFERENCES plan (id) ON DELETE CASCADE,
    name TEXT NOT NULL,
    about TEXT NOT NULL,
    digest TEXT NOT NULL,
    body BLOB NOT NULL,
    made REAL NOT NULL,
    PRIMARY KEY (plan, digest)
) STRICT, WITHOUT ROWID;
