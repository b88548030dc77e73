package project

import (
	"errors"
	"fmt"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"
)

// upgradeStep turns a file of schema From into one of schema From+1. Apply
// gets and returns the whole JSON text and need not touch the schema number
// itself beyond writing From+1.
type upgradeStep struct {
	From  int
	Apply func(jsontext.Value) (jsontext.Value, error)
}

// upgradeTo returns data as schema current, applying the steps in turn. A
// missing schema, one newer than current and one that no step starts from are
// refused with the path "schema".
func upgradeTo(data []byte, current int, steps []upgradeStep) ([]byte, error) {
	from, err := schemaOf(data)
	if err != nil {
		return nil, err
	}
	if from > current {
		return nil, Problems{{Path: "schema", Message: fmt.Sprintf(
			"is %d; this program reads up to %d: the file was saved by a newer version, open it with that", from, current)}}
	}
	for from < current {
		i := stepFrom(steps, from)
		if i < 0 {
			return nil, Problems{{Path: "schema", Message: fmt.Sprintf("is %d; no such schema was ever written", from)}}
		}
		if data, err = steps[i].Apply(data); err != nil {
			if ps, ok := errors.AsType[Problems](err); ok {
				return nil, ps
			}
			return nil, Problems{{Path: "schema", Message: fmt.Sprintf("upgrading from %d to %d: %v", from, from+1, err)}}
		}
		from++
	}
	return data, nil
}

// stepFrom returns the index of the step away from a schema, or -1.
func stepFrom(steps []upgradeStep, from int) int {
	for i, s := range steps {
		if s.From == from {
			return i
		}
	}
	return -1
}

// schemaOf reads the schema number and nothing else, so that a newer file is
// named as such before its unknown fields are.
func schemaOf(data []byte) (int, error) {
	var head struct {
		Schema *int `json:"schema"`
	}
	if err := json.Unmarshal(data, &head); err != nil {
		return 0, Problems{readableError(err)}
	}
	if head.Schema == nil {
		return 0, Problems{{Path: "schema", Message: fmt.Sprintf("is missing; this program writes schema %d", Schema)}}
	}
	return *head.Schema, nil
}
