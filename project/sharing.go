//go:build !js

package project

import (
	"context"
	"errors"
	"runtime"
	"sync"

	"rooftally/layout"
)

// sharing lets calls that want the same packing at once share the work, and
// limits how many packings are made at once: as many as there are processors,
// for each budget apart, so that a finger does not wait for a long search.
type sharing struct {
	mu         *sync.Mutex
	underway   map[string]*work
	deep, drag chan struct{}
}

// work is a packing under way; packing and err are there once done is closed.
type work struct {
	done    chan struct{}
	packing layout.Packing
	err     error
}

func newSharing() sharing {
	slots := runtime.GOMAXPROCS(0)
	return sharing{
		mu: &sync.Mutex{}, underway: map[string]*work{},
		deep: make(chan struct{}, slots), drag: make(chan struct{}, slots),
	}
}

// do calls pack, or waits for the call of the same key that is under way.
func (s sharing) do(ctx context.Context, key string, b layout.Budget, pack func() (layout.Packing, error)) (layout.Packing, error) {
	for {
		w, mine := s.join(key)
		if mine {
			s.work(ctx, key, w, b, pack)
			return w.packing, w.err
		}
		select {
		case <-w.done:
		case <-ctx.Done():
			return layout.Packing{}, ctx.Err()
		}
		if !errors.Is(w.err, context.Canceled) && !errors.Is(w.err, context.DeadlineExceeded) {
			return w.packing, w.err
		}
		// Whoever was at it gave up; this caller may not have.
		if err := ctx.Err(); err != nil {
			return layout.Packing{}, err
		}
	}
}

// join returns the work on a key, and whether the caller is to do it.
func (s sharing) join(key string) (w *work, mine bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if w, ok := s.underway[key]; ok {
		return w, false
	}
	w = &work{done: make(chan struct{}), err: errors.New("the packing was abandoned")}
	s.underway[key] = w
	return w, true
}

// work waits for a slot and packs. Those who wait are told even where pack
// panics.
func (s sharing) work(ctx context.Context, key string, w *work, b layout.Budget, pack func() (layout.Packing, error)) {
	defer func() {
		s.mu.Lock()
		defer s.mu.Unlock()
		delete(s.underway, key)
		close(w.done)
	}()
	slots := s.drag
	if b == layout.Deep {
		slots = s.deep
	}
	select {
	case slots <- struct{}{}:
		defer func() { <-slots }()
		w.packing, w.err = pack()
	case <-ctx.Done():
		w.err = ctx.Err()
	}
}
