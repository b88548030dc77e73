package project

import (
	"context"
	"encoding/binary"
	"math"
	"sync"

	"rooftally/layout"
)

// memoryBytes is about how much half of a memory may hold: the packings of
// some hundred houses.
const memoryBytes = 16 << 20

// memory remembers packings by what they were made of. It has two halves: a
// full young one becomes the old one, and what is asked for again moves back,
// so that what nobody asks for is dropped.
type memory struct {
	mu         sync.Mutex
	young, old map[string]layout.Packing
	youngBytes int
	shared     sharing
}

func newMemory() *memory {
	return &memory{young: map[string]layout.Packing{}, shared: newSharing()}
}

// pack is [layout.PackWithin], remembered. Callers share the packing and may
// not change it.
func (m *memory) pack(ctx context.Context, r layout.Region, s layout.Spec, style layout.Style, b layout.Budget) (layout.Packing, error) {
	if style != layout.Best {
		b = layout.Drag // the others are exact: no budget changes them
	}
	return m.remember(ctx, memoKey(r, s, style, b), b, func() (layout.Packing, error) {
		return layout.PackWithin(ctx, r, s, style, b)
	})
}

// bound is [layout.UpperBound], remembered as a packing of no style.
func (m *memory) bound(ctx context.Context, r layout.Region, s layout.Spec) (int, error) {
	p, err := m.remember(ctx, memoKey(r, s, "", layout.Drag), layout.Drag, func() (layout.Packing, error) {
		bound, err := layout.UpperBound(ctx, r, s)
		return layout.Packing{Bound: bound}, err
	})
	return p.Bound, err
}

// remember returns what is kept under a key, or makes and keeps it.
func (m *memory) remember(ctx context.Context, key string, b layout.Budget, made func() (layout.Packing, error)) (layout.Packing, error) {
	if p, ok := m.find(key); ok {
		return p, nil
	}
	return m.shared.do(ctx, key, b, func() (layout.Packing, error) {
		if p, ok := m.find(key); ok { // made since
			return p, nil
		}
		p, err := made()
		if err == nil {
			m.keep(key, p)
		}
		return p, err
	})
}

// find returns what is remembered of a key.
func (m *memory) find(key string) (p layout.Packing, ok bool) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if p, ok = m.young[key]; ok {
		return p, true
	}
	if p, ok = m.old[key]; ok {
		m.put(key, p)
	}
	return p, ok
}

// keep remembers a packing.
func (m *memory) keep(key string, p layout.Packing) {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.put(key, p)
}

// put adds to the young half and turns the halves when it is full.
func (m *memory) put(key string, p layout.Packing) {
	const entryBytes, moduleBytes = 200, 32
	m.young[key] = p
	m.youngBytes += entryBytes + len(key) + moduleBytes*len(p.Modules)
	if m.youngBytes > memoryBytes {
		m.young, m.old, m.youngBytes = map[string]layout.Packing{}, m.young, 0
	}
}

// memoKey is everything that a packing depends on.
func memoKey(r layout.Region, s layout.Spec, style layout.Style, b layout.Budget) string {
	points := len(r.Outer)
	for _, h := range r.Holes {
		points += len(h)
	}
	const numberBytes = 8
	key := make([]byte, 0, numberBytes*(2*points+len(r.Holes)+16))
	number := func(bits uint64) { key = binary.LittleEndian.AppendUint64(key, bits) }
	key = append(append(key, style...), byte(b), byte(len(s.Turns)))
	for _, t := range s.Turns {
		key = append(key, byte(t))
	}
	for _, v := range []float64{s.WidthM, s.HeightM, s.GapUM, s.GapVM, s.EndM} {
		number(math.Float64bits(v))
	}
	ring := func(ring layout.Ring) {
		number(uint64(len(ring)))
		for _, p := range ring {
			number(math.Float64bits(p.UM))
			number(math.Float64bits(p.VM))
		}
	}
	ring(r.Outer)
	for _, h := range r.Holes {
		ring(h)
	}
	return string(key)
}
