package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"rooftally/energy"
)

// sharedWeather is the path of a file that is too big for the repository: in
// ROOFTALLY_SHARED, or in the folder "shared" beside the repository. The test is
// skipped where the folder is missing, and fails there when CI is set.
func sharedWeather(t testing.TB, name string) string {
	t.Helper()
	dir := os.Getenv("ROOFTALLY_SHARED")
	if dir == "" {
		dir = filepath.Join("..", "..", "..", "shared")
	}
	path := filepath.Join(dir, "weather", name)
	if _, err := os.Stat(path); err != nil {
		if os.Getenv("CI") != "" {
			t.Fatalf("the shared weather files are required: %v", err)
		}
		t.Skipf("no shared weather files: %v (set ROOFTALLY_SHARED)", err)
	}
	return path
}

// inventedYear is a year from twelve invented values near 40 degrees north.
func inventedYear(t testing.TB) energy.Year {
	t.Helper()
	year, err := energy.SyntheticYear(
		energy.Site{Name: "Invented Field", LatDeg: 40, LonDeg: -105, UTCOffsetH: -7, ElevationM: 1600},
		energy.MonthlyMeans{
			GHIKWhM2Day: [12]float64{2.4, 3.3, 4.4, 5.6, 6.1, 6.9, 6.7, 6.0, 5.0, 3.8, 2.6, 2.1},
			AirC:        [12]float64{-1, 1, 5, 9, 14, 20, 23, 22, 17, 11, 4, -1},
			WindMS:      3.5,
		})
	if err != nil {
		t.Fatal(err)
	}
	return year
}

// epwText writes a year in the EPW layout, line by line: row i of the hours is
// element 8 + i. Columns that nobody here reads are empty.
func epwText(y energy.Year) []string {
	lines := []string{
		fmt.Sprintf("LOCATION,%s,-,-,invented,0,%g,%g,%g,%g", y.Site.Name, y.Site.LatDeg, y.Site.LonDeg, y.Site.UTCOffsetH, y.Site.ElevationM),
		"DESIGN CONDITIONS,0", "TYPICAL/EXTREME PERIODS,0", "GROUND TEMPERATURES,0", "HOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0",
		"COMMENTS 1,invented for a test", "COMMENTS 2,", "DATA PERIODS,1,1,Data,Sunday,1/1,12/31",
	}
	for _, h := range y.Hours {
		row := make([]string, 22)
		for at, text := range map[int]string{
			0: "2001", 1: fmt.Sprint(h.Month), 2: fmt.Sprint(h.Day), 3: fmt.Sprint(h.Clock + 1), 4: "60",
			6: fmt.Sprintf("%.1f", h.AirC), 13: fmt.Sprintf("%.1f", h.GHIWM2), 14: fmt.Sprintf("%.1f", h.DNIWM2),
			15: fmt.Sprintf("%.1f", h.DHIWM2), 21: fmt.Sprintf("%.1f", h.WindMS),
		} {
			row[at] = text
		}
		lines = append(lines, strings.Join(row, ","))
	}
	return lines
}

// keepLines writes lines to a file of the test.
func keepLines(t testing.TB, name string, lines []string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, []byte(strings.Join(lines, "\n")+"\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}
