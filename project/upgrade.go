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

// upgradeSteps lists the step away from every schema that was ever written
// before [Schema], oldest first.
func upgradeSteps() []upgradeStep {
	return []upgradeStep{{From: 1, Apply: fromSchema1}}
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

// fromSchema1 adds what schema 2 has beyond 1, so that every count stays what
// it was: tidiness may cost nothing, a size may take any number of blocks, and
// nothing was set by hand. No candidate has a datasheet, and wiring, loads and
// cost are those of a new document.
func fromSchema1(v jsontext.Value) (jsontext.Value, error) {
	doc := map[string]jsontext.Value{}
	if err := json.Unmarshal(v, &doc); err != nil {
		return nil, err
	}
	for _, f := range []struct{ in, name, value string }{
		{"rules", "tidy_cost_modules", "0"},
		{"target", "max_blocks", "0"},
	} {
		members := map[string]jsontext.Value{}
		if doc[f.in].Kind() != '{' {
			continue // missing or no object: said when the upgraded file is read
		}
		if err := json.Unmarshal(doc[f.in], &members); err != nil {
			return nil, err
		}
		if err := addMember(members, joinPath(f.in, f.name), f.name, f.value); err != nil {
			return nil, err
		}
		raw, err := json.Marshal(members, json.Deterministic(true))
		if err != nil {
			return nil, err
		}
		doc[f.in] = raw
	}
	if err := addDatasheets(doc); err != nil {
		return nil, err
	}
	for _, f := range []struct {
		name  string
		value any
	}{{"hand", []HandLayout{}}, {"wiring", defaultWiring()}, {"loads", defaultLoads()}, {"cost", defaultCost()}} {
		text, err := marshal(f.value)
		if err != nil {
			return nil, err
		}
		if err := addMember(doc, f.name, f.name, string(text)); err != nil {
			return nil, err
		}
	}
	doc["schema"] = jsontext.Value("2")
	return json.Marshal(doc, json.Deterministic(true))
}

// addDatasheets adds the datasheet that no candidate has. What is no list of
// objects is left for the reading of the upgraded file to refuse.
func addDatasheets(doc map[string]jsontext.Value) error {
	if doc["candidates"].Kind() != '[' {
		return nil
	}
	var list []jsontext.Value
	if err := json.Unmarshal(doc["candidates"], &list); err != nil {
		return err
	}
	for i, v := range list {
		if v.Kind() != '{' {
			continue
		}
		members := map[string]jsontext.Value{}
		if err := json.Unmarshal(v, &members); err != nil {
			return err
		}
		if err := addMember(members, fmt.Sprintf("candidates[%d].datasheet", i), "datasheet", "null"); err != nil {
			return err
		}
		raw, err := json.Marshal(members, json.Deterministic(true))
		if err != nil {
			return err
		}
		list[i] = raw
	}
	raw, err := json.Marshal(list)
	if err != nil {
		return err
	}
	doc["candidates"] = raw
	return nil
}

// addMember adds a field that a later schema brought; a file of the earlier one
// may not have it.
func addMember(to map[string]jsontext.Value, path, name, value string) error {
	if _, ok := to[name]; ok {
		return Problems{{Path: path, Message: "is not a field of this file's schema"}}
	}
	to[name] = jsontext.Value(value)
	return nil
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
