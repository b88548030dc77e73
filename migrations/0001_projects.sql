-- One row a project. Times are microseconds since 1970 UTC.
CREATE TABLE projects (
    id           TEXT    NOT NULL PRIMARY KEY,
    version      INTEGER NOT NULL CHECK (version >= 1),
    archived     INTEGER NOT NULL DEFAULT 0 CHECK (archived IN (0, 1)),
    -- The label in lower case, for searching; doc holds it as typed.
    label_folded TEXT    NOT NULL,
    -- The document in canonical JSON; it carries its own schema number.
    doc          BLOB    NOT NULL,
    created_at   INTEGER NOT NULL,
    updated_at   INTEGER NOT NULL
) STRICT;

CREATE INDEX projects_by_change ON projects (archived, updated_at DESC, id);

-- Earlier versions of each document, so that nothing that was acknowledged is
-- lost when two people edit one project.
CREATE TABLE project_versions (
    project_id TEXT    NOT NULL REFERENCES projects (id) ON DELETE CASCADE,
    version    INTEGER NOT NULL CHECK (version >= 1),
    doc        BLOB    NOT NULL,
    saved_at   INTEGER NOT NULL,
    PRIMARY KEY (project_id, version)
) STRICT;
