-- A version that somebody else's save was refused for. When that somebody
-- decides to keep their own, this one must stay findable however many saves
-- follow.
ALTER TABLE projects ADD COLUMN contested INTEGER NOT NULL DEFAULT 0 CHECK (contested IN (0, 1));
ALTER TABLE project_versions ADD COLUMN contested INTEGER NOT NULL DEFAULT 0 CHECK (contested IN (0, 1));
