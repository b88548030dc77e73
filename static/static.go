// Package static embeds everything a page loads: scripts, styles, fonts and
// icons. Nothing is fetched from elsewhere at run time.
package static

import "embed"

// Files holds the folders js, css, fonts and icons.
//
//go:embed js css fonts icons
var Files embed.FS
