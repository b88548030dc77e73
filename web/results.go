package web

import (
	"context"
	"errors"
	"sync"
	"time"

	"rooftally/layout"
	"rooftally/project"
)

// resultsKept is how many results stay in memory: a full projects list and
// the projects open beside it. One result is some hundred kilobytes at most.
const resultsKept = 120

// deepTime is how long one search may go on beside the requests that wait for
// it; after it the quick result stands for good. deepAtOnce bounds how many
// such searches share the processors with everything else.
const (
	deepTime   = 60 * time.Second
	deepAtOnce = 2
)

// restTime is how long a saved project must rest before its search begins
// unasked: each edit is a save, and a search takes processors that the browser
// on the same machine counts with.
const restTime = 5 * time.Second

type resultKey struct {
	id      string
	version int
}

// resultCache remembers the results of stored documents. A project at one
// version never changes, so a kept result is stale only where it was counted with
// other light: the hours of its weather file came or went. What is not kept is
// worked out within the deep budget beside the requests, which may wait for it
// or go on with a quick result.
type resultCache struct {
	evaluator *project.Evaluator
	// light is the light that a document is counted with, nil where there is
	// none; a nil function knows of none.
	light func(context.Context, project.Document) *project.Sunlight
	slots chan struct{}
	// until ends all searches: the server is stopping.
	until context.Context

	mu     sync.Mutex
	byKey  map[resultKey]project.Result
	oldest []resultKey
	// searches are under way, at most one for a project: by its ID.
	searches map[string]*search
}

// search is a deep evaluation under way; result and err are set once done is closed.
type search struct {
	version int
	stop    context.CancelFunc
	// hurry is closed when somebody waits, so that it rests no longer.
	hurry   chan struct{}
	hurried sync.Once
	done    chan struct{}
	result  project.Result
	err     error
}

func newResultCache(e *project.Evaluator) *resultCache {
	return &resultCache{
		evaluator: e,
		slots:     make(chan struct{}, deepAtOnce),
		until:     context.Background(),
		byKey:     map[resultKey]project.Result{},
		searches:  map[string]*search{},
	}
}

// get returns the kept result, or waits for the search that leads to it until
// ctx ends; the search goes on then. Errors are not kept.
func (c *resultCache) get(ctx context.Context, p project.Stored) (project.Result, error) {
	if result, ok := c.peek(ctx, p); ok {
		return result, nil
	}
	if err := ctx.Err(); err != nil {
		return project.Result{}, err
	}
	s := c.join(p)
	s.hurried.Do(func() { close(s.hurry) })
	select {
	case <-s.done:
		return s.result, s.err
	case <-ctx.Done():
		return project.Result{}, ctx.Err()
	}
}

// peek returns the result if it is kept and counted with the light of now.
func (c *resultCache) peek(ctx context.Context, p project.Stored) (project.Result, bool) {
	key := ""
	if lit := c.lightFor(ctx, p.Doc); lit != nil {
		key = lit.Key
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	result, ok := c.byKey[resultKey{p.ID, p.Version}]
	return result, ok && result.SunlightKey == key
}

func (c *resultCache) lightFor(ctx context.Context, doc project.Document) *project.Sunlight {
	if c.light == nil {
		return nil
	}
	return c.light(ctx, doc)
}

// quick is the result within the drag budget, or the kept one.
func (c *resultCache) quick(ctx context.Context, p project.Stored) (project.Result, error) {
	if result, ok := c.peek(ctx, p); ok {
		return result, nil
	}
	return c.evaluate(ctx, p.Doc, layout.Drag)
}

func (c *resultCache) evaluate(ctx context.Context, doc project.Document, b layout.Budget) (project.Result, error) {
	return c.evaluator.EvaluateLit(ctx, doc, b, c.lightFor(ctx, doc))
}

// prepare begins the search for a project that was saved and then rests, so
// that its pages find the result ready.
// Whether what is kept was counted with the light of now is found out when it is
// asked for.
func (c *resultCache) prepare(p project.Stored) {
	c.mu.Lock()
	_, kept := c.byKey[resultKey{p.ID, p.Version}]
	c.mu.Unlock()
	if !kept {
		c.join(p)
	}
}

// join returns the search for a project at its version, beginning it if there
// is none. A search for another version is ended: nobody will ask for it again.
func (c *resultCache) join(p project.Stored) *search {
	c.mu.Lock()
	defer c.mu.Unlock()
	if s := c.searches[p.ID]; s != nil {
		if s.version == p.Version {
			return s
		}
		s.stop()
	}
	ctx, stop := context.WithTimeout(c.until, deepTime)
	s := &search{version: p.Version, stop: stop, hurry: make(chan struct{}), done: make(chan struct{})}
	c.searches[p.ID] = s
	go func() {
		defer stop()
		s.result, s.err = c.search(ctx, p, s.hurry)
		c.finish(p, s)
		close(s.done)
	}()
	return s
}

// search evaluates deeply, once the project has rested or somebody waits, and
// there is a slot. Out of time, the quick result is the one.
func (c *resultCache) search(ctx context.Context, p project.Stored, hurry <-chan struct{}) (project.Result, error) {
	rest := time.NewTimer(restTime)
	defer rest.Stop()
	select {
	case <-hurry:
	case <-rest.C:
	case <-ctx.Done():
		return project.Result{}, ctx.Err()
	}
	select {
	case c.slots <- struct{}{}:
		defer func() { <-c.slots }()
	case <-ctx.Done():
		return project.Result{}, ctx.Err()
	}
	if result, ok := c.peek(ctx, p); ok {
		return result, nil
	}
	result, err := c.evaluate(ctx, p.Doc, layout.Deep)
	if errors.Is(err, context.DeadlineExceeded) {
		late, stop := context.WithTimeout(c.until, patience)
		defer stop()
		return c.evaluate(late, p.Doc, layout.Drag)
	}
	return result, err
}

// finish keeps the result of a search and takes it off the list.
func (c *resultCache) finish(p project.Stored, s *search) {
	if s.err == nil {
		c.keep(resultKey{p.ID, p.Version}, s.result)
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.searches[p.ID] == s {
		delete(c.searches, p.ID)
	}
}

// keep stores a result, over one that was counted with other light, and drops the
// one kept longest if there are too many.
func (c *resultCache) keep(key resultKey, result project.Result) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if _, ok := c.byKey[key]; ok {
		c.byKey[key] = result
		return
	}
	if len(c.oldest) == resultsKept {
		delete(c.byKey, c.oldest[0])
		c.oldest = c.oldest[1:]
	}
	c.byKey[key] = result
	c.oldest = append(c.oldest, key)
}
