package web

import (
	"container/list"
	"context"
	"errors"
	"sync"
)

// memo works values out once and keeps them by a key that names their content,
// up to a sum of sizes; the ones not asked for the longest go first. Requests
// that want one value at a time share one piece of work, which ends when the
// last of them has gone. Errors are not kept.
type memo[V any] struct {
	// most is the sum of sizes that is kept, in the unit of size.
	most int
	size func(V) int
	// slots bounds the pieces of work at once.
	slots chan struct{}

	mu sync.Mutex
	// recent holds *memoEntry[V], the last asked for in front.
	recent *list.List
	byKey  map[string]*list.Element
	held   int
	under  map[string]*memoWork[V]
}

type memoEntry[V any] struct {
	key   string
	value V
	size  int
}

// memoWork is work under way; value and err are set once done is closed.
type memoWork[V any] struct {
	waiting int // guarded by memo.mu
	stop    context.CancelFunc
	done    chan struct{}
	value   V
	err     error
}

func newMemo[V any](most, atOnce int, size func(V) int) *memo[V] {
	return &memo[V]{
		most: most, size: size, slots: make(chan struct{}, atOnce),
		recent: list.New(), byKey: map[string]*list.Element{}, under: map[string]*memoWork[V]{},
	}
}

// get returns the value of a key, working it out if it is not kept. It waits
// until ctx ends.
func (m *memo[V]) get(ctx context.Context, key string, work func(context.Context) (V, error)) (V, error) {
	var none V
	for {
		if err := ctx.Err(); err != nil {
			return none, err
		}
		m.mu.Lock()
		if at, ok := m.byKey[key]; ok {
			m.recent.MoveToFront(at)
			m.mu.Unlock()
			return at.Value.(*memoEntry[V]).value, nil
		}
		w := m.join(ctx, key, work)
		m.mu.Unlock()
		select {
		case <-w.done:
			m.leave(key, w)
			// The work may have ended because others who wanted it have gone.
			if errors.Is(w.err, context.Canceled) && ctx.Err() == nil {
				continue
			}
			return w.value, w.err
		case <-ctx.Done():
			m.leave(key, w)
			return none, ctx.Err()
		}
	}
}

// join counts itself among those who wait for the work, which it begins if
// nobody has. The caller holds the lock.
func (m *memo[V]) join(ctx context.Context, key string, do func(context.Context) (V, error)) *memoWork[V] {
	if w, ok := m.under[key]; ok {
		w.waiting++
		return w
	}
	ctx, stop := context.WithTimeout(context.WithoutCancel(ctx), patience)
	w := &memoWork[V]{waiting: 1, stop: stop, done: make(chan struct{})}
	m.under[key] = w
	go func() {
		defer stop()
		w.value, w.err = m.do(ctx, do)
		m.finish(key, w)
		close(w.done)
	}()
	return w
}

// do waits for a slot and works.
func (m *memo[V]) do(ctx context.Context, work func(context.Context) (V, error)) (V, error) {
	select {
	case m.slots <- struct{}{}:
		defer func() { <-m.slots }()
	case <-ctx.Done():
		var none V
		return none, ctx.Err()
	}
	return work(ctx)
}

// leave takes one off those who wait; the last one stops the work.
func (m *memo[V]) leave(key string, w *memoWork[V]) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if w.waiting--; w.waiting > 0 {
		return
	}
	w.stop()
	if m.under[key] == w {
		delete(m.under, key)
	}
}

// finish keeps what was worked out and drops the least recent beyond the limit.
func (m *memo[V]) finish(key string, w *memoWork[V]) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.under[key] == w {
		delete(m.under, key)
	}
	if w.err != nil {
		return
	}
	size := m.size(w.value)
	if _, kept := m.byKey[key]; kept || size > m.most {
		return
	}
	m.byKey[key] = m.recent.PushFront(&memoEntry[V]{key, w.value, size})
	m.held += size
	for m.held > m.most {
		at := m.recent.Back()
		e := m.recent.Remove(at).(*memoEntry[V])
		delete(m.byKey, e.key)
		m.held -= e.size
	}
}
