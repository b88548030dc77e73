package web

import (
	"context"
	"errors"
	"sync"
	"sync/atomic"
	"testing"
)

func memoOf(n int) func(context.Context) (int, error) {
	return func(context.Context) (int, error) { return n, nil }
}

func mustGet(t *testing.T, m *memo[int], key string, work func(context.Context) (int, error)) int {
	t.Helper()
	v, err := m.get(t.Context(), key, work)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func noMore(t *testing.T) func(context.Context) (int, error) {
	return func(context.Context) (int, error) {
		t.Error("worked out again")
		return 0, nil
	}
}

func TestMemoKeepsWhatWasAskedForLast(t *testing.T) {
	m := newMemo(10, 1, func(v int) int { return v })
	mustGet(t, m, "a", memoOf(4))
	mustGet(t, m, "b", memoOf(5))
	mustGet(t, m, "a", noMore(t))
	mustGet(t, m, "c", memoOf(3)) // b goes: a was asked for after it
	mustGet(t, m, "a", noMore(t))
	mustGet(t, m, "c", noMore(t))
	again := false
	mustGet(t, m, "b", func(context.Context) (int, error) { again = true; return 5, nil })
	if !again {
		t.Error("b was kept past the limit")
	}
	if m.held > 10 || len(m.byKey) != m.recent.Len() || len(m.under) != 0 {
		t.Errorf("held %d, %d keys, %d entries, %d under way", m.held, len(m.byKey), m.recent.Len(), len(m.under))
	}
	// What alone is past the limit is given and not kept.
	if v := mustGet(t, m, "huge", memoOf(11)); v != 11 || m.held > 10 {
		t.Errorf("%d, held %d", v, m.held)
	}
	if v := mustGet(t, m, "huge", memoOf(12)); v != 12 {
		t.Error("what is too large was kept")
	}
}

func TestMemoKeepsNoErrors(t *testing.T) {
	m := newMemo(10, 1, func(int) int { return 1 })
	if _, err := m.get(t.Context(), "a", func(context.Context) (int, error) { return 0, errBroken }); !errors.Is(err, errBroken) {
		t.Fatal(err)
	}
	if v := mustGet(t, m, "a", memoOf(7)); v != 7 {
		t.Errorf("got %d", v)
	}
}

func TestMemoSharesWork(t *testing.T) {
	m := newMemo(10, 4, func(int) int { return 1 })
	var begun atomic.Int32
	begin, release := make(chan struct{}, 8), make(chan struct{})
	work := func(context.Context) (int, error) {
		begun.Add(1)
		begin <- struct{}{}
		<-release
		return 7, nil
	}
	var wg sync.WaitGroup
	for range 8 {
		wg.Go(func() {
			if v, err := m.get(t.Context(), "a", work); v != 7 || err != nil {
				t.Errorf("%d, %v", v, err)
			}
		})
	}
	<-begin
	close(release)
	wg.Wait()
	if n := begun.Load(); n != 1 {
		t.Errorf("worked %d times", n)
	}
}

// The work ends with the last request that waits for it, not with the first.
func TestMemoStopsWithItsLastReader(t *testing.T) {
	m := newMemo(10, 1, func(int) int { return 1 })
	begun, ended := make(chan struct{}), make(chan struct{})
	work := func(ctx context.Context) (int, error) {
		close(begun)
		<-ctx.Done()
		close(ended)
		return 0, ctx.Err()
	}
	first, stopFirst := context.WithCancel(t.Context())
	second, stopSecond := context.WithCancel(t.Context())
	gone := make(chan error, 2)
	go func() { _, err := m.get(first, "a", work); gone <- err }()
	<-begun
	go func() { _, err := m.get(second, "a", work); gone <- err }()
	for {
		m.mu.Lock()
		n := m.under["a"].waiting
		m.mu.Unlock()
		if n == 2 {
			break
		}
	}
	stopFirst()
	if err := <-gone; !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
	select {
	case <-ended:
		t.Fatal("the work ended though somebody waits")
	default:
	}
	stopSecond()
	<-ended
	<-gone
	if v := mustGet(t, m, "a", memoOf(3)); v != 3 {
		t.Errorf("afterwards %d", v)
	}
}
