//go:build !js

package project

import (
	"runtime"
	"sync/atomic"

	"golang.org/x/sync/errgroup"
)

// each calls f for 0 to n-1, several at once, and returns the error of the
// lowest number that failed, whatever came first. Once one has failed, those
// not begun are left out. A panic of f goes on in the caller.
func each(n int, f func(int) error) error {
	var group errgroup.Group
	group.SetLimit(runtime.GOMAXPROCS(0))
	errs, panics := make([]error, n), make([]any, n)
	var failed atomic.Bool
	for i := 0; i < n && !failed.Load(); i++ {
		group.Go(func() error {
			defer func() {
				if panics[i] = recover(); panics[i] != nil {
					failed.Store(true)
				}
			}()
			if errs[i] = f(i); errs[i] != nil {
				failed.Store(true)
			}
			return nil
		})
	}
	_ = group.Wait() // the errors are in errs
	for i := range n {
		if panics[i] != nil {
			panic(panics[i])
		}
		if errs[i] != nil {
			return errs[i]
		}
	}
	return nil
}
