package web

import (
	"context"
	"sync"

	"rooftally/project"
)

// resultsKept is how many results stay in memory: a full projects list and
// the projects open beside it. One result is some hundred kilobytes at most.
const resultsKept = 120

type resultKey struct {
	id      string
	version int
}

// resultCache remembers the results of stored documents. A project at one
// version never changes, so a kept result is never stale.
type resultCache struct {
	mu     sync.Mutex
	byKey  map[resultKey]project.Result
	oldest []resultKey
}

func newResultCache() *resultCache {
	return &resultCache{byKey: map[resultKey]project.Result{}}
}

// get returns the kept result or evaluates and keeps it. Errors are not kept.
func (c *resultCache) get(ctx context.Context, p project.Stored) (project.Result, error) {
	key := resultKey{p.ID, p.Version}
	c.mu.Lock()
	result, ok := c.byKey[key]
	c.mu.Unlock()
	if ok {
		return result, nil
	}
	result, err := project.Evaluate(ctx, p.Doc)
	if err != nil {
		return project.Result{}, err
	}
	c.keep(key, result)
	return result, nil
}

// keep stores a result and drops the one kept longest if there are too many.
func (c *resultCache) keep(key resultKey, result project.Result) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if _, ok := c.byKey[key]; ok {
		return
	}
	if len(c.oldest) == resultsKept {
		delete(c.byKey, c.oldest[0])
		c.oldest = c.oldest[1:]
	}
	c.byKey[key] = result
	c.oldest = append(c.oldest, key)
}
