package structural

import (
	"encoding/json"
	"flag"
	"os"
	"reflect"
	"testing"
)

var update = flag.Bool("update", false, "write the files that tests compare with")

// sameGCp is one question to the table with its answer, null for none.
type sameGCp struct {
	Zone  Zone    `json:"zone"`
	Pitch float64 `json:"pitch"`
	Hips  bool    `json:"hips"`
	GCp   *upDown `json:"gcp"`
}

type upDown struct {
	Up   float64 `json:"up"`
	Down float64 `json:"down"`
}

// The browser shows the coefficients that are used from a copy of the table; its
// tests hold the copy to this file, and this one the file to the table.
func TestTheBrowserHasTheSameTable(t *testing.T) {
	const file = "../static/jstest/gcp.json"
	var want []sameGCp
	for _, pitch := range []float64{0, 7, 7.1, 20, 20.1, 27, 27.1, 45, 45.1} {
		for _, z := range Zones() {
			for _, hips := range []bool{false, true} {
				row := sameGCp{Zone: z, Pitch: pitch, Hips: hips}
				if g, ok := TableGCp(z, pitch, hips); ok {
					row.GCp = &upDown{g.Up, g.Down}
				}
				want = append(want, row)
			}
		}
	}
	if *update {
		text, err := json.MarshalIndent(want, "", " ")
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, append(text, '\n'), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var got []sameGCp
	if err := json.Unmarshal(text, &got); err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(got, want) {
		t.Error("the file differs from the table: run with -update and change static/js/panels/loads-gcp.js with it")
	}
}
