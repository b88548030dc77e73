package main

import (
	"fmt"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"rooftally/project"
)

// importWeather picks a weather file on the page and imports it.
func importWeather(b *browser, path string) {
	b.t.Helper()
	b.do(chromedp.SetUploadFiles(chromedp.CSS(`.weather-upload input[type="file"]`), []string{path}))
	b.click(".weather-upload button")
}

// TestTheWeatherOfAProject imports a file with a fault, reads where it is, imports
// a sound one, takes the station's twelve values and the station again, and finds
// the drawing as it was.
func TestTheWeatherOfAProject(t *testing.T) {
	base := startApp(t, filepath.Join(t.TempDir(), "a.db"))
	id, before := demoOf(t, base)
	lines := epwText(inventedYear(t))
	good := keepLines(t, "invented.epw", lines)
	lines[508] = strings.Replace(lines[508], ",60,,", ",60,,warm", 1)
	faulty := keepLines(t, "faulty.epw", lines)

	b := openBrowser(t, base, 1440, 900)
	b.open("/projects/" + id + "/weather")
	b.untilText("#in-use", "the nearest station")
	b.until(`document.querySelectorAll('[data-testid="year"] tbody tr').length === 12`)
	b.shoot("station")

	importWeather(b, faulty)
	b.untilText(tid("fault"), "509dry bulb")
	b.untilText("#in-use", "the nearest station")
	b.shoot("fault")
	if doc := b.stored(id); !reflect.DeepEqual(doc, before) {
		t.Error("a faulty file changed the project")
	}

	importWeather(b, good)
	b.untilText(tid("done"), "invented.epw is in use.")
	b.untilText("#in-use", "a weather file")
	b.untilText(tid("file"), "Invented Field")
	b.shoot("file")
	b.until(`document.querySelector('a[download]').href.includes('/api/weather-files/')`)

	b.click(`a[href$="?fill=station#monthly"]`)
	b.until(`document.querySelector('#ghi_1').value !== ''`)
	b.fill("#ghi_12", "14")
	b.click(".weather-monthly button")
	b.untilText(tid("monthly-problems"), "not saved yet")
	b.until(`document.querySelector('#ghi_12').value === '14'`)
	b.shoot("problem")
	b.fill("#ghi_12", "1.5")
	b.click(".weather-monthly button")
	b.untilText(tid("done"), "Your twelve values are kept and in use.")
	b.click(tid("station") + " form button")
	b.untilText(tid("done"), "The nearest station is in use.")

	after := b.stored(id)
	w := after.Weather
	if w.Source != project.FromStation || w.File == nil || w.File.Name != "invented.epw" || w.Monthly == nil || w.Monthly.GHIKWhM2Day[11] != 1.5 {
		t.Errorf("weather %+v", w)
	}
	after.Weather = before.Weather
	if !reflect.DeepEqual(after, before) {
		t.Error("more than the weather has changed")
	}
	b.cleanButRefusals()
}

// TestTheWeatherPageFits has a file that is not kept here, twelve values and a
// name of 120 characters on every screen.
func TestTheWeatherPageFits(t *testing.T) {
	base := startApp(t, filepath.Join(t.TempDir(), "a.db"))
	_, doc := demoOf(t, base)
	doc.Site.Label = strings.Repeat("Embankment ", 10) + "1234567890"
	doc.Weather.Source = project.FromFile
	doc.Weather.File = &project.WeatherFile{
		Hash: strings.Repeat("0", 64), Name: strings.Repeat("long", 40) + ".epw", Format: "epw", Label: strings.Repeat("Place", 20),
		Hours: 8760, Notes: []string{"wind was missing in 8760 hours: 1 m/s, the file has no wind."},
	}
	station := doc
	station.Weather.Source = project.FromStation
	away, here := give(t, base, doc), give(t, base, station)
	for _, size := range [][2]int{{1440, 900}, {1024, 768}, {390, 844}} {
		b := openBrowser(t, base, size[0], size[1])
		for name, id := range map[string]string{"away": away, "here": here} {
			b.open("/projects/" + id + "/weather")
			b.untilText(tid("not-kept"), "Import the same file again")
			name := fmt.Sprintf("%d-%s", size[0], name)
			b.shoot(name)
			eval[bool](b, `(document.querySelector('#monthly').scrollIntoView(), true)`)
			b.shoot(name + "-values")
			if wide := eval[int](b, `document.documentElement.scrollWidth`); wide > size[0] {
				t.Errorf("%s: %d px wide", name, wide)
			}
			small := eval[[]string](b, `[...document.querySelectorAll('main button, main .button, main .link, main input:not([type=hidden]), nav a')]
				.filter((e) => { const r = e.getBoundingClientRect(); return r.height > 0 && (r.height < 43.5 || r.width < 43.5); })
				.map((e) => e.outerHTML.slice(0, 80))`)
			if len(small) > 0 {
				t.Errorf("%s: targets under 44 px: %q", name, small)
			}
		}
		b.clean()
	}
}
