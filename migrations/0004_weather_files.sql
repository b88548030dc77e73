-- Hourly weather files as they were imported, each once however many projects
-- and versions name it. Projects hold the hash in their documents, so nothing
-- here points to a project and no project's end takes a file away.
CREATE TABLE weather_files (
    -- SHA-256 of the file's own bytes, 64 hexadecimal digits in lower case.
    hash       TEXT    NOT NULL PRIMARY KEY CHECK (length(hash) = 64),
    -- What it was called when it was first imported.
    name       TEXT    NOT NULL,
    -- The file's bytes, gzipped once more than they came.
    body_gz    BLOB    NOT NULL,
    -- Microseconds since 1970 UTC.
    created_at INTEGER NOT NULL
) STRICT;
