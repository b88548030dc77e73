package main

import (
	"bytes"
	"encoding/json"
	"math"
	"strings"
	"testing"
)

// strung runs the command with flags like "voc=49.5"; "" takes a flag away from
// the sound set.
func strung(edit ...string) (stdout, stderr string, status int) {
	flags := []string{"voc=49.5", "vmp=41", "beta-voc=-0.27", "gamma=-0.35", "tmin=-10", "tcell-hot=70", "vmax=600", "mppt-min=90", "mppt-max=560"}
	var args []string
	for _, f := range flags {
		name, _, _ := strings.Cut(f, "=")
		for _, e := range edit {
			if n, _, _ := strings.Cut(e, "="); n == name {
				f = e
			}
		}
		if !strings.HasSuffix(f, "=") {
			args = append(args, "-"+f)
		}
	}
	var out, errs bytes.Buffer
	status = runStrings(args, &out, &errs)
	return out.String(), errs.String(), status
}

func TestStringsCommand(t *testing.T) {
	for _, c := range []struct {
		name     string
		edit     []string
		method   string
		cold     float64
		longest  int
		shortest int
	}{
		// Arithmetic of NEC 690.7(A)(1): 49.5 V x 1.0945 = 54.178 V; 11 are 595.95 V.
		// Hot: 41 V x (1 - 0.0035 x 45) = 34.5425 V; 90 V need 3.
		{"coefficient", nil, "coefficient", 49.5 * 1.0945, 11, 3},
		// The section's table example: 40 V x 1.14 = 45.6 V; 13 are 592.8 V.
		{"table", []string{"voc=40", "vmp=33", "beta-voc="}, "table", 45.6, 13, 4},
	} {
		t.Run(c.name, func(t *testing.T) {
			stdout, stderr, status := strung(c.edit...)
			if status != exitOK || stderr != "" {
				t.Fatalf("status %d, %s", status, stderr)
			}
			var got map[string]any
			if err := json.Unmarshal([]byte(stdout), &got); err != nil {
				t.Fatal(err)
			}
			if len(got) != 5 || got["method"] != c.method || math.Abs(got["voc_cold_v"].(float64)-c.cold) > 1e-9 ||
				got["longest"] != float64(c.longest) || got["shortest"] != float64(c.shortest) || got["vmp_hot_v"].(float64) <= 0 {
				t.Errorf("%s", stdout)
			}
		})
	}
}

// Where no length works both numbers are printed, and it is said.
func TestStringsCommandNoLength(t *testing.T) {
	stdout, stderr, status := strung("mppt-min=550")
	if status != exitOK || !strings.Contains(stdout, `"longest":11,"shortest":16`) || !strings.Contains(stderr, "no length works") {
		t.Errorf("status %d, %s, %s", status, stdout, stderr)
	}
}

func TestStringsCommandRefuses(t *testing.T) {
	for _, c := range []struct{ name, edit, says string }{
		{"missing", "voc=", "-voc is missing"},
		{"missing gamma", "gamma=", "-gamma is missing"},
		{"no number", "voc=x", "voc"},
		{"not a number", "voc=NaN", "-voc is NaN; it must be 1 to 500 V"},
		{"infinite", "vmax=Inf", "-vmax is +Inf; it must be 10 to 2000 V"},
		{"no voltage", "voc=0", "-voc is 0"},
		{"vmp over voc", "vmp=50", "-vmp is 50 V, not below -voc 49.5 V"},
		{"sign of beta", "beta-voc=0.27", "-beta-voc is 0.27; it must be -1 up to below 0"},
		{"no beta", "beta-voc=0", "-beta-voc is 0"},
		{"sign of gamma", "gamma=0.35", "-gamma is 0.35"},
		{"too cold", "tmin=-61", "-tmin is -61; it must be -60 to 40 C"},
		{"hot below cold", "tcell-hot=0 ", "tcell-hot"},
		{"window", "mppt-min=560", "-mppt-min is 560 V, not below -mppt-max 560 V"},
	} {
		t.Run(c.name, func(t *testing.T) {
			stdout, stderr, status := strung(c.edit)
			if status != exitUsage || stdout != "" || !strings.HasPrefix(stderr, "strings: ") || !strings.Contains(stderr, c.says) {
				t.Errorf("status %d, %q, %q", status, stdout, stderr)
			}
		})
	}
	for _, tmin := range []string{"25", "24.5", "-40.5"} {
		stdout, stderr, status := strung("beta-voc=", "tmin="+tmin)
		if status != exitUsage || stdout != "" || !strings.Contains(stderr, "24 to -40") || !strings.Contains(stderr, "-beta-voc") {
			t.Errorf("table at %s C: status %d, %q, %q", tmin, status, stdout, stderr)
		}
	}
	if _, stderr, status := strung(); status != exitOK || stderr != "" {
		t.Errorf("the sound set: status %d, %s", status, stderr)
	}
	var out, errs bytes.Buffer
	if status := runStrings([]string{"-voc", "40", "more"}, &out, &errs); status != exitUsage || !strings.Contains(errs.String(), `"more" is no flag`) {
		t.Errorf("status %d, %s", status, errs.String())
	}
	errs.Reset()
	if status := runStrings([]string{"-h"}, &out, &errs); status != exitOK || !strings.HasPrefix(errs.String(), "usage: rooftally strings") {
		t.Errorf("status %d, %s", status, errs.String())
	}
}
