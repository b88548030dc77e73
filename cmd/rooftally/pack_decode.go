package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/go-json-experiment/json/jsontext"

	"rooftally/layout"
	"rooftally/project"
)

// maxRoofFileBytes is far above any roof: layout's limit of points in full
// precision takes less.
const maxRoofFileBytes = 16 << 20

// roofFile is what pack needs of a roof file.
type roofFile struct {
	id     string
	region layout.Region
	spec   layout.Spec
}

// roofFileError says what is wrong with a roof file and at which field, which
// is empty when the file as a whole is bad.
type roofFileError struct{ field, problem string }

// Error is "module.w: 0 is outside 0.01 to 10".
func (e *roofFileError) Error() string {
	if e.field == "" {
		return e.problem
	}
	return e.field + ": " + e.problem
}

// decodeRoofFile reads one JSON object: id, units ("m"; may be left out),
// module (w and h), gap, and region (outer, and holes, which may be left out).
// Names are matched exactly; other fields are ignored, a repeated one is an
// error. Numbers are checked by the engine. Errors are *roofFileError.
func decodeRoofFile(data []byte) (roofFile, error) {
	if len(data) > maxRoofFileBytes {
		return roofFile{}, &roofFileError{problem: fmt.Sprintf("larger than %d bytes", maxRoofFileBytes)}
	}
	if err := json.Unmarshal(data, new(json.RawMessage)); err != nil {
		return roofFile{}, &roofFileError{fieldAtFault(data), notJSON(err)}
	}
	d := &roofDecoder{}
	top := d.object("", data, "id", "units", "module", "gap", "region")
	roof := roofFile{id: d.text("id", top["id"])}
	if _, given := top["units"]; given {
		if units := d.text("units", top["units"]); units != "m" {
			d.fail("units", fmt.Sprintf("%q is not \"m\"", units))
		}
	}
	module := d.object("module", top["module"], "w", "h")
	roof.spec.WidthM = d.number("module.w", module["w"])
	roof.spec.HeightM = d.number("module.h", module["h"])
	gap := d.number("gap", top["gap"])
	roof.spec.GapUM, roof.spec.GapVM = gap, gap
	region := d.object("region", top["region"], "outer", "holes")
	roof.region.Outer = d.ring("region.outer", region["outer"])
	if holes, given := region["holes"]; given {
		for i, hole := range d.list("region.holes", holes) {
			roof.region.Holes = append(roof.region.Holes, d.ring(fmt.Sprintf("region.holes[%d]", i), hole))
		}
	}
	if d.err != nil {
		return roofFile{}, d.err
	}
	return roof, nil
}

// notJSON says where a file stops being JSON.
func notJSON(err error) string {
	if syntax, ok := errors.AsType[*json.SyntaxError](err); ok {
		return fmt.Sprintf("not JSON: %v at byte %d", syntax, syntax.Offset)
	}
	return fmt.Sprintf("not JSON: %v", err)
}

// fieldAtFault is the field in which a file stops being JSON, as in "gap": NaN;
// "" where that is no single field.
func fieldAtFault(data []byte) string {
	const longest = 100 // of a path that helps anyone
	_, err := jsontext.NewDecoder(bytes.NewReader(data), jsontext.AllowDuplicateNames(true)).ReadValue()
	if syntax, ok := errors.AsType[*jsontext.SyntacticError](err); ok {
		if field := project.FieldPath(syntax.JSONPointer); len(field) <= longest {
			return field
		}
	}
	return ""
}

// asRoofFileError names the fields of a roof file in an error of layout.
func asRoofFileError(err error) error {
	if shape, ok := errors.AsType[*layout.ShapeError](err); ok {
		moved := *shape
		moved.Ring = "region." + shape.Ring
		return &roofFileError{problem: moved.Error()}
	}
	if spec, ok := errors.AsType[*layout.RangeError](err); ok {
		field := map[string]string{"WidthM": "module.w", "HeightM": "module.h", "GapUM": "gap"}[spec.Field]
		return &roofFileError{field, fmt.Sprintf("%g is outside %g to %g", spec.Value, spec.Min, spec.Max)}
	}
	return err
}

// roofDecoder decodes field by field and keeps the first error, so that the
// error can name the field.
type roofDecoder struct{ err error }

func (d *roofDecoder) fail(field, problem string) {
	if d.err == nil {
		d.err = &roofFileError{field, problem}
	}
}

// decode decodes one value into v, which takes what wanted says.
func (d *roofDecoder) decode(field string, raw []byte, v any, wanted string) bool {
	switch {
	case d.err != nil:
	case raw == nil:
		d.fail(field, "missing")
	case string(raw) == "null":
		d.fail(field, "null is not "+wanted)
	default:
		if err := json.Unmarshal(raw, v); err != nil {
			d.fail(field, excerpt(raw)+" is not "+wanted)
		}
	}
	return d.err == nil
}

func (d *roofDecoder) text(field string, raw []byte) (v string) {
	d.decode(field, raw, &v, "a text")
	return v
}

func (d *roofDecoder) number(field string, raw []byte) (v float64) {
	d.decode(field, raw, &v, "a number")
	return v
}

func (d *roofDecoder) list(field string, raw []byte) (v []json.RawMessage) {
	d.decode(field, raw, &v, "a list")
	return v
}

func (d *roofDecoder) ring(field string, raw []byte) layout.Ring {
	points := d.list(field, raw)
	ring := make(layout.Ring, 0, len(points))
	for i, point := range points {
		at := fmt.Sprintf("%s[%d]", field, i)
		xy := d.list(at, point)
		if d.err == nil && len(xy) != 2 {
			d.fail(at, fmt.Sprintf("has %d numbers, needs 2", len(xy)))
		}
		if d.err != nil {
			return nil
		}
		ring = append(ring, layout.SlopePt{UM: d.number(at+"[0]", xy[0]), VM: d.number(at+"[1]", xy[1])})
	}
	return ring
}

// object decodes an object of valid JSON and refuses a second value for any of
// the names.
func (d *roofDecoder) object(field string, raw []byte, names ...string) map[string]json.RawMessage {
	var out map[string]json.RawMessage
	if !d.decode(field, raw, &out, "an object") {
		return nil
	}
	dec := json.NewDecoder(bytes.NewReader(raw))
	_, err := dec.Token()
	for seen := map[string]bool{}; err == nil && dec.More(); {
		var key json.Token
		if key, err = dec.Token(); err != nil {
			break
		}
		name, _ := key.(string)
		if seen[name] && slices.Contains(names, name) {
			d.fail(strings.TrimPrefix(field+"."+name, "."), "is there twice")
			return nil
		}
		seen[name] = true
		err = dec.Decode(new(json.RawMessage))
	}
	if err != nil {
		d.fail(field, err.Error())
	}
	return out
}

// excerpt is the start of a value, for messages.
func excerpt(raw []byte) string {
	const most = 30
	if len(raw) <= most {
		return string(raw)
	}
	return strings.ToValidUTF8(string(raw[:most]), "") + "..."
}
