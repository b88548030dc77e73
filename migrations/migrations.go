// Package migrations embeds the numbered SQL files that build the database.
// They only go forward: a file that has been released is never changed, a
// change of the database is a new file with the next number.
package migrations

import "embed"

// Files holds the files NNNN_name.sql, numbered from 0001 without gaps.
//
//go:embed *.sql
var Files embed.FS
