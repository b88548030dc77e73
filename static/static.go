// Package static embeds everything a page loads: scripts, styles, fonts, icons
// and the evaluation for the browser. Nothing is fetched from elsewhere at run
// time.
package static

import "embed"

//go:generate ../cmd/evaluate-wasm/build.sh

// Files holds the folders js, css, fonts, icons and wasm.
//
//go:embed js css fonts icons wasm
var Files embed.FS
