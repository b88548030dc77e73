//go:build !js

package project

import (
	"fmt"
	"strconv"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"
)

// upgradeSteps lists the step away from every schema that was ever written
// before [Schema], oldest first.
func upgradeSteps() []upgradeStep {
	return []upgradeStep{{From: 1, Apply: fromSchema1}, {From: 2, Apply: fromSchema2}}
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
	if err := addTo(doc, "rules", "tidy_cost_modules", "0"); err != nil {
		return nil, err
	}
	if err := addTo(doc, "target", "max_blocks", "0"); err != nil {
		return nil, err
	}
	if err := addDatasheets(doc); err != nil {
		return nil, err
	}
	return withSections(doc, 2, []section{
		{"hand", []HandLayout{}}, {"wiring", defaultWiring()}, {"loads", defaultLoads()}, {"cost", defaultCost()},
	})
}

// fromSchema2 adds what schema 3 has beyond 2: no place is left out for want of
// light, and weather, surroundings and yield are those of a new document.
func fromSchema2(v jsontext.Value) (jsontext.Value, error) {
	doc := map[string]jsontext.Value{}
	if err := json.Unmarshal(v, &doc); err != nil {
		return nil, err
	}
	if err := addTo(doc, "target", "min_access_pct", "0"); err != nil {
		return nil, err
	}
	return withSections(doc, 3, []section{
		{"weather", defaultWeather()}, {"surroundings", defaultSurroundings()}, {"yield", defaultYieldTerms()},
	})
}

// section is a member of the document that a later schema brought.
type section struct {
	name  string
	value any
}

// withSections adds sections to a document, and writes it as one of a schema.
func withSections(doc map[string]jsontext.Value, schema int, sections []section) (jsontext.Value, error) {
	for _, s := range sections {
		text, err := marshal(s.value)
		if err != nil {
			return nil, err
		}
		if err := addMember(doc, s.name, s.name, string(text)); err != nil {
			return nil, err
		}
	}
	doc["schema"] = jsontext.Value(strconv.Itoa(schema))
	return json.Marshal(doc, json.Deterministic(true))
}

// addTo adds a field to a section. One that is missing or no object is said when
// the upgraded file is read.
func addTo(doc map[string]jsontext.Value, in, name, value string) error {
	if doc[in].Kind() != '{' {
		return nil
	}
	members := map[string]jsontext.Value{}
	if err := json.Unmarshal(doc[in], &members); err != nil {
		return err
	}
	if err := addMember(members, joinPath(in, name), name, value); err != nil {
		return err
	}
	raw, err := json.Marshal(members, json.Deterministic(true))
	doc[in] = raw
	return err
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
