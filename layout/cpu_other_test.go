//go:build !unix

package layout

import "time"

var started = time.Now()

// cpuTime is the time since the start, where processor time is not at hand.
func cpuTime() time.Duration { return time.Since(started) }
