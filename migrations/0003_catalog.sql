-- The lists of products that projects copy from. A project holds copies, so
-- nothing points to a row here.

-- One row a list, from the first time it is filled. The demo entries go into a
-- list that has no row, not into one that somebody has emptied.
CREATE TABLE catalog_lists (
    name    TEXT    NOT NULL PRIMARY KEY
        CHECK (name IN ('module_sheets', 'string_inverters', 'micro_inverters', 'optimisers')),
    -- Goes up with every change of the list.
    version INTEGER NOT NULL CHECK (version >= 1)
) STRICT;

-- One row an entry: body is the entry in JSON, position its place in the list.
-- Times are microseconds since 1970 UTC.
CREATE TABLE module_sheets (
    id         TEXT    NOT NULL PRIMARY KEY,
    position   INTEGER NOT NULL,
    body       BLOB    NOT NULL,
    updated_at INTEGER NOT NULL
) STRICT;

CREATE TABLE string_inverters (
    id         TEXT    NOT NULL PRIMARY KEY,
    position   INTEGER NOT NULL,
    body       BLOB    NOT NULL,
    updated_at INTEGER NOT NULL
) STRICT;

CREATE TABLE micro_inverters (
    id         TEXT    NOT NULL PRIMARY KEY,
    position   INTEGER NOT NULL,
    body       BLOB    NOT NULL,
    updated_at INTEGER NOT NULL
) STRICT;

CREATE TABLE optimisers (
    id         TEXT    NOT NULL PRIMARY KEY,
    position   INTEGER NOT NULL,
    body       BLOB    NOT NULL,
    updated_at INTEGER NOT NULL
) STRICT;
