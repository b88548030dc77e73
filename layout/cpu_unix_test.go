//go:build unix

package layout

import (
	"syscall"
	"time"
)

// cpuTime is the processor time that the program has used, garbage collection
// included: other work on the machine does not count, as it does by the clock.
func cpuTime() time.Duration {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		panic(err)
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
