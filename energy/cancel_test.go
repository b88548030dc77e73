package energy

import (
	"context"
	"errors"
	"testing"
)

// endsAfter is a context that is done once it has been asked so often.
type endsAfter struct {
	context.Context
	looks *int
}

func (c endsAfter) Err() error {
	if *c.looks--; *c.looks < 0 {
		return context.Canceled
	}
	return nil
}

// Work that is called off stops within the plane and the hour at hand: in the
// views of the sky, and among the hours.
func TestCalledOffWithinAPlane(t *testing.T) {
	in := houseInput(t, 1, 4, 8)
	for _, after := range []int{1, 50, 1000} {
		for name, work := range map[string]func(context.Context) error{
			"simulate":  func(ctx context.Context) error { _, err := Simulate(ctx, in); return err },
			"irradiate": func(ctx context.Context) error { _, err := Irradiate(ctx, in.Year, in.Scene, in.Options); return err },
		} {
			looks := after
			if err := work(endsAfter{t.Context(), &looks}); !errors.Is(err, context.Canceled) || looks < -5 {
				t.Errorf("%s after %d looks: %v, and looked %d times more", name, after, err, -looks)
			}
		}
	}
}
