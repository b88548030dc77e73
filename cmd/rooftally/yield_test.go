package main

import (
	"bytes"
	"compress/gzip"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// yielded runs the command.
func yielded(args ...string) (stdout, stderr string, status int) {
	var out, errs bytes.Buffer
	status = runYield(args, strings.NewReader(""), &out, &errs)
	return out.String(), errs.String(), status
}

// yieldNumbers are what the command printed.
type yieldNumbers struct {
	POA     [12]float64 `json:"poa_kwh_m2"`
	POAYear float64     `json:"poa_year"`
	AC      [12]float64 `json:"ac_kwh"`
	ACYear  float64     `json:"ac_year"`
	PerKW   float64     `json:"kwh_per_kw"`
	Ratio   float64     `json:"performance_ratio"`
}

func yieldAt(t *testing.T, path, tilt, azimuth string, more ...string) yieldNumbers {
	t.Helper()
	stdout, stderr, status := yielded(append([]string{"-weather", path, "-tilt", tilt, "-azimuth", azimuth}, more...)...)
	if status != exitOK || stderr != "" {
		t.Fatalf("status %d, %s", status, stderr)
	}
	var got yieldNumbers
	decoder := json.NewDecoder(strings.NewReader(stdout))
	decoder.DisallowUnknownFields()
	if err := decoder.Decode(&got); err != nil {
		t.Fatalf("%v in %s", err, stdout)
	}
	return got
}

// within fails unless got is within so many percent of want.
func within(t *testing.T, what string, got, want, percent float64) {
	t.Helper()
	if !(math.Abs(got-want) <= percent/100*math.Abs(want)) {
		t.Errorf("%s is %g, not within %g %% of %g", what, got, percent, want)
	}
}

// The expected figures are those of a second program, written apart in another
// language: sun after Michalsky, Solar Energy 40 (1988) 227, the three-decimal
// coefficients of Perez et al. 1990, and the chain of docs/energy.md.
func TestYieldCommand(t *testing.T) {
	for _, c := range []struct {
		file, tilt, azimuth, module string
		poa, ac                     [12]float64
		poaYear, acYear             float64
	}{
		{"phoenix.epw.gz", "30", "180", "demo-300-small",
			[12]float64{159.23, 160.41, 197.47, 224.8, 230.04, 225.74, 220.42, 223.96, 217.65, 196.91, 172.73, 157.12},
			[12]float64{124.91, 124.45, 149.95, 169.54, 171.27, 161.24, 158.9, 161.35, 155.99, 146.56, 133.86, 124.56}, 2386.5, 1782.6},
		{"phoenix_tmy3.csv.gz", "30", "180", "demo-300-small",
			[12]float64{159.23, 160.41, 197.47, 224.8, 230.04, 225.74, 220.42, 223.96, 217.65, 196.91, 172.73, 157.12},
			[12]float64{124.91, 124.45, 149.95, 169.54, 171.27, 161.24, 158.9, 161.35, 155.99, 146.56, 133.86, 124.56}, 2386.5, 1782.6},
		{"seattle.epw.gz", "60", "300", "demo-400-medium",
			[12]float64{18.28, 29.07, 51.24, 80.88, 115.7, 112.12, 134.85, 102.93, 72.8, 40.71, 20.64, 15.45},
			[12]float64{14.65, 23.56, 42.33, 67.29, 96.15, 92.72, 110.74, 83.91, 59.18, 32.96, 16.44, 12.09}, 794.7, 652.0},
		{"minneapolis.epw.gz", "20", "90", "demo-300-small",
			[12]float64{50.85, 70.98, 112.25, 137.34, 178.35, 184.69, 180.81, 155.75, 118.81, 85.16, 47.3, 36.51},
			[12]float64{43.17, 60.71, 95.7, 113.79, 144.04, 145.99, 142.16, 124.02, 95.27, 69.75, 38.92, 29.66}, 1358.8, 1103.2},
		{"miami.epw.gz", "90", "180", "demo-300-small",
			[12]float64{128.13, 108.31, 102.35, 76.31, 56.44, 47.56, 54.66, 66.9, 83.35, 110.57, 111.52, 121.33},
			[12]float64{102.71, 85.92, 77.35, 53.29, 39.16, 34.63, 38.38, 46.08, 60.31, 84.58, 88.71, 97.74}, 1067.4, 808.9},
		{"boston.epw.gz", "45", "45", "demo-300-small",
			[12]float64{24.97, 39.06, 68.67, 92.84, 124.08, 123.97, 136.83, 111.01, 78.56, 49.21, 27.61, 19.61},
			[12]float64{19.05, 31.11, 56.23, 76.51, 100.17, 97.93, 106.83, 87.11, 61.16, 37.6, 20.83, 14.73}, 896.4, 709.3},
	} {
		t.Run(c.file, func(t *testing.T) {
			got := yieldAt(t, sharedWeather(t, c.file), c.tilt, c.azimuth, "-module", c.module)
			for m := range 12 {
				within(t, "light of a month", got.POA[m], c.poa[m], 0.2)
				within(t, "energy of a month", got.AC[m], c.ac[m], 0.2)
			}
			within(t, "light of the year", got.POAYear, c.poaYear, 0.05)
			within(t, "energy of the year", got.ACYear, c.acYear, 0.05)
		})
	}
}

// The line in docs/energy.md is what its command prints.
func TestYieldWorkedOutput(t *testing.T) {
	text, err := os.ReadFile(filepath.Join("..", "..", "docs", "energy.md"))
	if err != nil {
		t.Fatal(err)
	}
	stdout, stderr, status := yielded("-weather", sharedWeather(t, "phoenix.epw.gz"), "-tilt", "30", "-azimuth", "180")
	if status != exitOK {
		t.Fatal(stderr)
	}
	flat := strings.Join(strings.Fields(string(text)), "")
	if !strings.Contains(flat, strings.TrimSpace(stdout)) {
		t.Errorf("docs/energy.md has not %s", stdout)
	}
}

func TestYieldCommandSums(t *testing.T) {
	path := keepLines(t, "invented.epw", epwText(inventedYear(t)))
	one := yieldAt(t, path, "35", "200")
	big := yieldAt(t, path, "35", "200", "-kw", "12.5")
	for _, y := range []yieldNumbers{one, big} {
		var poa, ac float64
		for m := range 12 {
			poa, ac = poa+y.POA[m], ac+y.AC[m]
		}
		within(t, "the year's light", y.POAYear, poa, 0.001)
		within(t, "the year's energy", y.ACYear, ac, 0.001)
	}
	within(t, "energy per kW of 1 kW", one.PerKW, one.ACYear, 0.001)
	within(t, "energy of 12.5 kW", big.ACYear, 12.5*one.ACYear, 0.001)
	within(t, "energy per kW of 12.5 kW", big.PerKW, one.PerKW, 0.001)
	within(t, "performance ratio", big.Ratio, big.ACYear/(big.POAYear*12.5), 0.001)
	first := yieldAt(t, path, "35", "200", "-module", "demo-300-small")
	if first != one {
		t.Errorf("the first module gives %v, no module %v", first, one)
	}
}

// The members stand in this order, with no others.
func TestYieldCommandMembers(t *testing.T) {
	path := keepLines(t, "invented.epw", epwText(inventedYear(t)))
	stdout, _, _ := yielded("-weather", path, "-tilt", "0", "-azimuth", "0")
	var names []string
	for _, part := range strings.Split(stdout, `"`) {
		if strings.Trim(part, "abcdefghijklmnopqrstuvwxyz_0123456789") == "" {
			names = append(names, part)
		}
	}
	if want := []string{"poa_kwh_m2", "poa_year", "ac_kwh", "ac_year", "kwh_per_kw", "performance_ratio"}; !slices.Equal(names, want) {
		t.Errorf("members %v, want %v", names, want)
	}
}

// A gzipped file and standard input give the same, and a year without any light
// is 0 throughout.
func TestYieldCommandReads(t *testing.T) {
	lines := epwText(inventedYear(t))
	path := keepLines(t, "invented.epw", lines)
	plain := yieldAt(t, path, "20", "135")
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	var packed bytes.Buffer
	w := gzip.NewWriter(&packed)
	if _, err := w.Write(data); err != nil || w.Close() != nil {
		t.Fatal("gzip", err)
	}
	zipped := filepath.Join(t.TempDir(), "invented.epw.gz")
	if err := os.WriteFile(zipped, packed.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	if got := yieldAt(t, zipped, "20", "135"); got != plain {
		t.Errorf("gzipped %v, plain %v", got, plain)
	}
	var out, errs bytes.Buffer
	if status := runYield([]string{"-weather", "-", "-tilt", "20", "-azimuth", "135"}, bytes.NewReader(data), &out, &errs); status != exitOK {
		t.Errorf("standard input: status %d, %s", status, errs.String())
	}
	dark := inventedYear(t)
	for i := range dark.Hours {
		dark.Hours[i].GHIWM2, dark.Hours[i].DNIWM2, dark.Hours[i].DHIWM2 = 0, 0, 0
	}
	if got := yieldAt(t, keepLines(t, "dark.epw", epwText(dark)), "20", "135"); got != (yieldNumbers{}) {
		t.Errorf("without light: %v", got)
	}
}

func TestYieldCommandRefuses(t *testing.T) {
	path := keepLines(t, "invented.epw", epwText(inventedYear(t)))
	sound := []string{"-weather", path, "-tilt", "30", "-azimuth", "180"}
	for _, c := range []struct {
		name string
		args []string
		says string
	}{
		{"no file", sound[2:], "-weather is missing"},
		{"no name", append(slices.Clone(sound), "-weather", ""), "-weather is empty"},
		{"no tilt", append(slices.Clone(sound[:2]), sound[4:]...), "-tilt is missing"},
		{"no azimuth", sound[:4], "-azimuth is missing"},
		{"steep", append(slices.Clone(sound), "-tilt", "90.01"), "-tilt is 90.01; it must be 0 to 90 degrees"},
		{"below level", append(slices.Clone(sound), "-tilt", "-1"), "-tilt is -1; it must be 0 to 90 degrees"},
		{"tilt not a number", append(slices.Clone(sound), "-tilt", "NaN"), "-tilt is NaN"},
		{"all round", append(slices.Clone(sound), "-azimuth", "360"), "-azimuth is 360; it must be 0 up to below 360 degrees"},
		{"negative azimuth", append(slices.Clone(sound), "-azimuth", "-90"), "-azimuth is -90"},
		{"endless azimuth", append(slices.Clone(sound), "-azimuth", "Inf"), "-azimuth is +Inf"},
		{"azimuth no number", append(slices.Clone(sound), "-azimuth", "south"), "-azimuth"},
		{"no power", append(slices.Clone(sound), "-kw", "0"), "-kw is 0; it must be above 0, up to 100000 kW"},
		{"too much power", append(slices.Clone(sound), "-kw", "100001"), "-kw is 100001"},
		{"power not a number", append(slices.Clone(sound), "-kw", "NaN"), "-kw is NaN"},
		{"no such module", append(slices.Clone(sound), "-module", "other"), `-module "other" is none of demo-300-small, demo-330-small`},
		{"unknown flag", append(slices.Clone(sound), "-pitch", "3"), "-pitch"},
		{"something more", append(slices.Clone(sound), "more"), `"more" is no flag`},
	} {
		t.Run(c.name, func(t *testing.T) {
			stdout, stderr, status := yielded(c.args...)
			if status != exitUsage || stdout != "" || !strings.HasPrefix(stderr, "yield: ") || !strings.Contains(stderr, c.says) {
				t.Errorf("status %d, %q, %q", status, stdout, stderr)
			}
		})
	}
	if _, stderr, status := yielded("-h"); status != exitOK || !strings.HasPrefix(stderr, "usage: rooftally yield") ||
		!strings.Contains(stderr, "96 % that clips at the rated") || !strings.Contains(stderr, "demo-300-small") {
		t.Errorf("status %d, %s", status, stderr)
	}
}

// A file that is no good ends with status 1 and names the line.
func TestYieldCommandBadFiles(t *testing.T) {
	sound := epwText(inventedYear(t))
	with := func(line int, old, new string) []string {
		lines := slices.Clone(sound)
		lines[line-1] = strings.Replace(lines[line-1], old, new, 1)
		if lines[line-1] == sound[line-1] {
			t.Fatalf("line %d has no %q", line, old)
		}
		return lines
	}
	for _, c := range []struct {
		name  string
		lines []string
		says  string
	}{
		{"no weather file", []string{"one", "two", "three"}, "line 1: neither starts with LOCATION"},
		{"latitude", with(1, ",40,", ",400,"), "line 1"},
		{"no number", with(509, ",60,,", ",60,,x"), "line 509, dry bulb: \"x"},
		{"a row short", sound[:len(sound)-1], "8759 hourly rows; a year has 8760 or 8784"},
		{"a row missing in the middle", append(slices.Clone(sound[:1000]), append(sound[1001:], sound[8])...), "line 1001"},
	} {
		t.Run(c.name, func(t *testing.T) {
			path := keepLines(t, "bad.epw", c.lines)
			stdout, stderr, status := yielded("-weather", path, "-tilt", "30", "-azimuth", "180")
			if status != exitFailed || stdout != "" || !strings.HasPrefix(stderr, "yield: "+path+": ") || !strings.Contains(stderr, c.says) {
				t.Errorf("status %d, %q, %q", status, stdout, stderr)
			}
		})
	}
	_, stderr, status := yielded("-weather", filepath.Join(t.TempDir(), "none.epw"), "-tilt", "30", "-azimuth", "180")
	if status != exitFailed || !strings.Contains(stderr, "cannot be read: no such file") {
		t.Errorf("no file: status %d, %s", status, stderr)
	}
}
