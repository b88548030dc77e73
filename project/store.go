package project

import (
	"errors"
	"fmt"
	"time"
)

// Stored is a project as it is kept: a document with its identity and version.
type Stored struct {
	ID string
	// Version counts the saves, from 1.
	Version  int
	Archived bool
	Doc      Document
	// CreatedAt and UpdatedAt are set by whoever keeps the project; this
	// package reads no clock.
	CreatedAt, UpdatedAt time.Time
}

// Row is one line of the list of projects.
type Row struct {
	ID       string
	Label    string
	Version  int
	Archived bool
	// Invented says that the project is demo data.
	Invented   bool
	CreatedAt  time.Time
	UpdatedAt  time.Time
	Planes     int
	Candidates int
	// Outline holds the ring of every plane in plan metres, for a thumbnail.
	Outline [][]Point
	// Unreadable says that the stored document cannot be read: Label is then
	// its lower-case copy kept for searching, and Invented, Planes, Candidates
	// and Outline are not known.
	Unreadable bool
}

// Row returns the list line of a stored project.
func (s Stored) Row() Row {
	outline := make([][]Point, len(s.Doc.Planes))
	for i, p := range s.Doc.Planes {
		outline[i] = make([]Point, len(p.Ring))
		for j, c := range p.Ring {
			outline[i][j] = Point{XM: c.XM, YM: c.YM}
		}
	}
	return Row{
		ID: s.ID, Label: s.Doc.Site.Label, Version: s.Version, Archived: s.Archived,
		Invented: s.Doc.Site.Invented, CreatedAt: s.CreatedAt, UpdatedAt: s.UpdatedAt,
		Planes: len(s.Doc.Planes), Candidates: len(s.Doc.Candidates), Outline: outline,
	}
}

// ListQuery says which projects to list.
type ListQuery struct {
	// Search keeps the projects whose label contains it, upper and lower case
	// alike; "" keeps all.
	Search string
	// Archived lists the archived projects instead of the current ones.
	Archived bool
}

// Version is an earlier version of a project.
type Version struct {
	// Number is the version's, from 1.
	Number int
	// SavedAt is when it was saved.
	SavedAt time.Time
	// Contested says that another save was refused for it.
	Contested bool
	// Unreadable says that the kept document cannot be read; Doc is then empty.
	Unreadable bool
	Doc        Document
}

// ErrNotFound says that there is no project of that id.
var ErrNotFound = errors.New("no such project")

// StaleError refuses a save that started from an older version than the one
// that is kept.
type StaleError struct {
	// Current is what is kept now.
	Current Stored
}

// Error names the project and the version that is kept.
func (e *StaleError) Error() string {
	return fmt.Sprintf("project %s was saved by someone else: version %d is kept now", e.Current.ID, e.Current.Version)
}

// UnreadableError says that a project is kept but its document cannot be read:
// a newer program wrote it, or it is damaged.
type UnreadableError struct {
	// Row is what is known of the project without its document.
	Row Row
	// Data is the document as it is kept, for saving it elsewhere.
	Data []byte
	// Reason is what is wrong with it. It is text and not an error, since
	// problems of stored bytes are not those of what a user sent.
	Reason string
}

// Error names the project and what is wrong with its document.
func (e *UnreadableError) Error() string {
	return fmt.Sprintf("the stored document of project %s cannot be read: %s", e.Row.ID, e.Reason)
}
