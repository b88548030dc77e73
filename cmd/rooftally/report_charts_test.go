package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// The page of charts stands alone: it loads nothing, and the tables are in it.
func TestReportCharts(t *testing.T) {
	page := filepath.Join(t.TempDir(), "charts.html")
	var stdout, stderr bytes.Buffer
	if code := runReport([]string{"-charts", page, writeDemo(t, "", "")}, nil, &stdout, &stderr); code != 0 {
		t.Fatalf("exit %d: %s", code, &stderr)
	}
	if !strings.HasPrefix(stdout.String(), "{") {
		t.Error("the report itself is gone")
	}
	data, err := os.ReadFile(page)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"Energy of each month", "Energy of each year, expected and guaranteed", "From sunlight to alternating current, option C",
		"A hot day", "A dull day", `<details class="graph-behind" open>`, "not a promise"} {
		if !strings.Contains(string(data), want) {
			t.Errorf("the page lacks %q", want)
		}
	}
	for _, bad := range []string{"<script", "<link", "url(/", "url('/", "src="} {
		if strings.Contains(string(data), bad) {
			t.Errorf("the page would load something: it has %q", bad)
		}
	}
}

func TestReportChartsCannotBeWritten(t *testing.T) {
	var stdout, stderr bytes.Buffer
	code := runReport([]string{"-charts", filepath.Join(t.TempDir(), "no", "such", "folder.html"), writeDemo(t, "", "")}, nil, &stdout, &stderr)
	if code != exitFailed || stdout.Len() > 0 || !strings.Contains(stderr.String(), "folder.html") {
		t.Errorf("exit %d, %d bytes of report, %q", code, stdout.Len(), &stderr)
	}
}
