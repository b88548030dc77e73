package project

import (
	"context"

	"rooftally/layout"
)

// sharing has nothing to share in a browser's program, which has one thread.
type sharing struct{}

func newSharing() sharing { return sharing{} }

func (sharing) do(_ context.Context, _ string, _ layout.Budget, pack func() (layout.Packing, error)) (layout.Packing, error) {
	return pack()
}
