package energy

import (
	"os"
	"path/filepath"
	"testing"
)

// sharedFile reads a weather or climate file that is too big for the
// repository: from ROOFTALLY_SHARED, or from the folder "shared" beside the
// repository. The test is skipped where the folder is missing, and fails there
// when CI is set.
func sharedFile(t testing.TB, name string) []byte {
	t.Helper()
	dir := os.Getenv("ROOFTALLY_SHARED")
	if dir == "" {
		dir = filepath.Join("..", "..", "shared")
	}
	data, err := os.ReadFile(filepath.Join(dir, name))
	if err != nil {
		if os.Getenv("CI") != "" {
			t.Fatalf("the shared weather files are required: %v", err)
		}
		t.Skipf("no shared weather files: %v (set ROOFTALLY_SHARED)", err)
	}
	return data
}

func sharedYear(t testing.TB, station string) Year {
	t.Helper()
	y, err := ParseWeather(sharedFile(t, filepath.Join("weather", station)))
	if err != nil {
		t.Fatalf("%s: %v", station, err)
	}
	return y
}

// epwStations are the hourly files of ../shared/weather.
func epwStations() []string {
	return []string{"boston.epw.gz", "miami.epw.gz", "minneapolis.epw.gz", "phoenix.epw.gz", "seattle.epw.gz"}
}
