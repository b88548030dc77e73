//go:build !js

package project

import (
	"bytes"
	"os"
	"testing"

	"pgregory.net/rapid"
)

// Whatever is sound comes back the same, and the second writing gives the same
// bytes as the first.
func TestRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := anyDocument().Draw(t, "doc")
		if ps := d.Validate(); ps != nil {
			t.Fatalf("generator drew a document that is not sound: %v", ps)
		}
		first, err := Encode(d)
		if err != nil {
			t.Fatal(err)
		}
		again, err := Decode(first)
		if err != nil {
			t.Fatalf("%v\n%s", err, first)
		}
		second, err := Encode(again)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(first, second) {
			t.Fatalf("first\n%s\nsecond\n%s", first, second)
		}
	})
}

// Decode returns a document or Problems for any bytes, and what it reads has a
// canonical form that reads as itself.
func FuzzDecode(f *testing.F) {
	f.Add([]byte(demoText(f)))
	empty, err := Encode(New("x"))
	if err != nil {
		f.Fatal(err)
	}
	f.Add(empty)
	byHand, err := os.ReadFile(shedFile)
	if err != nil {
		f.Fatal(err)
	}
	f.Add(byHand)
	f.Add([]byte(demoSchema1(f)))
	f.Add([]byte(`{"schema":2,"hand":[{"modules":[null]},{"fill":1}]}`))
	f.Add([]byte(`{"schema":3,"weather":{"source":"monthly","monthly":{"ghi_kwh_m2_day":[1,2]}},"surroundings":{"trees":[{}]}}`))
	f.Add([]byte(`{"schema":2,"target":{},"weather":0}`))
	f.Add([]byte(`{"schema":1,"rules":[],"target":{"max_blocks":0}}`))
	f.Add([]byte(`{"schema":1,"planes":[null],"keep_outs":[{"center":null}]}`))
	f.Add([]byte(`{"schema":1e0}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		d, err := Decode(data)
		if err != nil {
			if ps, ok := err.(Problems); !ok || len(ps) == 0 {
				t.Fatalf("error %v (%T), want Problems", err, err)
			}
			return
		}
		d.Validate()
		first, err := Encode(d)
		if err != nil {
			t.Fatal(err)
		}
		again, err := Decode(first)
		if err != nil {
			t.Fatalf("the canonical form is refused: %v", err)
		}
		second, err := Encode(again)
		if err != nil || !bytes.Equal(first, second) {
			t.Fatalf("the canonical form changes (%v)", err)
		}
	})
}
