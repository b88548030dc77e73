package catalog

import (
	"encoding/json"
	"reflect"
	"strings"
	"testing"
)

// JSON names every figure as CSV does; load ratings are nested by clamp position.
func TestJSONNamesAreColumnNames(t *testing.T) {
	sheet := DemoDatasheets()[5]
	text, err := json.Marshal(sheet)
	if err != nil {
		t.Fatal(err)
	}
	var fields map[string]any
	if err := json.Unmarshal(text, &fields); err != nil {
		t.Fatal(err)
	}
	for _, c := range ModuleCSV().Columns() {
		_, found := fields[c.Name]
		for _, edge := range []string{"long_edge", "short_edge"} {
			if name, ok := strings.CutPrefix(c.Name, edge+"_"); ok {
				name = strings.ReplaceAll(name, "front_pa", "front_test_pa")
				name = strings.ReplaceAll(name, "rear_pa", "rear_test_pa")
				_, found = fields[edge].(map[string]any)[name]
			}
		}
		if !found {
			t.Errorf("JSON has no %s", c.Name)
		}
	}
	var back Datasheet
	if err := json.Unmarshal(text, &back); err != nil || !reflect.DeepEqual(back, sheet) {
		t.Errorf("%+v, %v", back, err)
	}
}
