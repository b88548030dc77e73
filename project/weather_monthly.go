//go:build !js

package project

import (
	"errors"
	"fmt"
	"strings"
	"time"

	"rooftally/energy"
)

// monthlyFault says in plain words why twelve values make no year.
func monthlyFault(err error) string {
	r, is := errors.AsType[*energy.RangeError](err)
	if !is {
		return err.Error()
	}
	column, rest, _ := strings.Cut(r.Field, "[")
	var month int
	if _, err := fmt.Sscanf(rest, "%d]", &month); err != nil {
		return err.Error()
	}
	name := time.Month(month + 1).String()
	switch column {
	case "GHIKWhM2Day":
		return fmt.Sprintf("%s has %s kWh/m2 a day; as much as %.2f can reach level ground there", name, plain(r.Value), r.Max)
	case "DHIKWhM2Day":
		return fmt.Sprintf("%s has %s kWh/m2 of diffuse light a day, more than its %s of all light", name, plain(r.Value), plain(r.Max))
	}
	return err.Error()
}
