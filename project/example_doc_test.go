//go:build !js

package project

import (
	"os"
	"strings"
	"testing"
)

// shedFile is the example of docs/project-file.md.
const shedFile = "testdata/shed.json"

// The example in the manual is the file in testdata, canonical and sound.
func TestManualExample(t *testing.T) {
	file, err := os.ReadFile(shedFile)
	if err != nil {
		t.Fatal(err)
	}
	manual, err := os.ReadFile("../docs/project-file.md")
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(manual), "```json\n"+string(file)+"```\n") {
		t.Error("docs/project-file.md does not show " + shedFile)
	}
	d, err := Decode(file)
	if err != nil {
		t.Fatal(err)
	}
	if ps := d.Validate(); ps != nil {
		t.Fatal(ps)
	}
	again, err := Encode(d)
	if err != nil || string(again) != string(file) {
		t.Fatalf("%s is not canonical (%v):\n%s", shedFile, err, again)
	}
}

// The manual names every field of the format; those of products are in the
// manual of the catalog.
func TestManualNamesEveryField(t *testing.T) {
	var manual []byte
	for _, name := range []string{"../docs/project-file.md", "../docs/catalog.md"} {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		manual = append(manual, text...)
	}
	for _, line := range strings.Split(demoText(t), "\n") {
		name, _, ok := strings.Cut(strings.TrimSpace(line), `":`)
		if !ok {
			continue
		}
		name = strings.TrimPrefix(name, `"`)
		if !strings.Contains(string(manual), "`"+name+"`") {
			t.Errorf("docs/project-file.md and docs/catalog.md do not tell of %q", name)
		}
	}
}
