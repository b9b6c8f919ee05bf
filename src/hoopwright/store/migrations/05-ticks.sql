CREATE TABLE tick (
    plan TEXT NOT NULL REFERENCES plan (id) ON DELETE CASCADE,
    what TEXT NOT NULL CHECK (length(what) <= 100),
    made REAL NOT NULL,
    PRIMARY KEY (plan, what)
) STRICT, WITHOUT ROWID;
