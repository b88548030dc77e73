package web

import (
	"context"
	"errors"
	"net/http"
	"net/http/httptest"
	"reflect"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/go-json-experiment/json"

	"rooftally/project"
)

// litDoc is a small south roof with a tall chimney's shadow on it.
func litDoc() project.Document {
	d := gableDoc()
	d.Planes, d.Candidates, d.KeepOuts = d.Planes[:1], project.Demo().Candidates[:1], d.KeepOuts[:1]
	d.KeepOuts[0].Center = &project.Point{XM: 5, YM: 1}
	d.KeepOuts[0].HeightM = 4
	return d
}

// askAbout posts a question with a document in it.
func askAbout(t *testing.T, s *server, path string, doc project.Document, more string) *httptest.ResponseRecorder {
	t.Helper()
	return askText(t, s, path, `{"document":`+encoded(t, doc)+more+`}`)
}

func askText(t *testing.T, s *server, path, body string) *httptest.ResponseRecorder {
	t.Helper()
	r := httptest.NewRequestWithContext(t.Context(), "POST", "http://localhost"+path, strings.NewReader(body))
	w := httptest.NewRecorder()
	s.hosts = hostSet(nil)
	s.routes().ServeHTTP(w, r)
	return w
}

// answered decodes an answer of status 200.
func answered[T any](t *testing.T, w *httptest.ResponseRecorder) T {
	t.Helper()
	var out T
	if w.Code != http.StatusOK {
		t.Fatalf("status %d: %s", w.Code, w.Body)
	}
	if err := json.Unmarshal(w.Body.Bytes(), &out); err != nil {
		t.Fatal(err)
	}
	return out
}

func TestLightAPI(t *testing.T) {
	s := plainServer(newFake(), discardLog())
	doc := litDoc()
	got := answered[apiLight](t, askAbout(t, s, "/api/light", doc, ""))
	if got.Key == "" || got.Words == "" || len(got.Planes) != 1 || len(got.ShadeAreas) != 0 || got.ShadeAreas == nil {
		t.Fatalf("key %q, words %q, %d planes, areas %v", got.Key, got.Words, len(got.Planes), got.ShadeAreas)
	}
	// The same light at a house some way off, told with its own way to the station.
	off := doc
	off.Site.LatDeg += 0.1
	if there := answered[apiLight](t, askAbout(t, s, "/api/light", off, "")); there.Key != got.Key || there.Words == got.Words {
		t.Errorf("key %q, words %q, those of the other %q and %q", there.Key, there.Words, got.Key, got.Words)
	}
	p := got.Planes[0]
	lowest := p.OpenKWhM2
	for _, v := range p.KWhM2 {
		if v >= 0 {
			lowest = min(lowest, v)
		}
	}
	if p.PlaneID != "south" || len(p.KWhM2) != p.Columns*p.Rows || !(lowest < 0.8*p.OpenKWhM2) || !(lowest > 0) {
		t.Errorf("plane %s, %d cells, open %g, lowest %g", p.PlaneID, len(p.KWhM2), p.OpenKWhM2, lowest)
	}
	// The same content is not worked out twice, whatever it is called.
	doc.Site.Label = "Another name"
	again := answered[apiLight](t, askAbout(t, s, "/api/light", doc, `,"min_access_pct":85`))
	if again.Key != got.Key || s.reckoner.lights.recent.Len() != 1 || len(again.ShadeAreas) == 0 || len(again.ShadeAreas[0].Ring) < 4 {
		t.Errorf("key %q then %q, %d kept, areas %v", got.Key, again.Key, s.reckoner.lights.recent.Len(), again.ShadeAreas)
	}
	doc.KeepOuts[0].HeightM = 0
	if bare := answered[apiLight](t, askAbout(t, s, "/api/light", doc, "")); bare.Key == got.Key {
		t.Error("a chimney without height has the same light")
	}
}

func TestShadowsAPI(t *testing.T) {
	s := plainServer(newFake(), discardLog())
	noon := answered[project.Shadows](t, askAbout(t, s, "/api/shadows", litDoc(), `,"month":6,"day":21,"clock_h":12`))
	if noon.Dark || noon.Sun.ElevationDeg < 60 || len(noon.Outlines) == 0 || noon.Outlines[0].PlaneID != "south" || noon.Outlines[0].ObstructionID != "chimney" {
		t.Errorf("%+v", noon)
	}
	if night := answered[project.Shadows](t, askAbout(t, s, "/api/shadows", litDoc(), `,"month":6,"day":21,"clock_h":0.5`)); !night.Dark || len(night.Outlines) != 0 {
		t.Errorf("%+v", night)
	}
}

func TestYieldAPI(t *testing.T) {
	s := plainServer(newFake(), discardLog())
	s.catalog = newFakeCatalog()
	doc := litDoc()
	got := answered[project.YieldResult](t, askAbout(t, s, "/api/yield?budget=drag", doc, ""))
	if got.Why != "" || len(got.Candidates) != 1 || got.Candidates[0].Why != "" || !(got.Candidates[0].Total.ACYear > 500) || len(got.Candidates[0].Modules) == 0 {
		t.Fatalf("%+v", got)
	}
	answered[project.YieldResult](t, askAbout(t, s, "/api/yield?budget=drag", doc, ""))
	if n := s.reckoner.yields.recent.Len(); n != 1 {
		t.Errorf("%d yields kept of one content", n)
	}
	// What the chimney costs is what the yield without it is higher.
	worths := answered[apiWorths](t, askAbout(t, s, "/api/worths?budget=drag", doc, ""))
	if worths.Candidate != doc.Candidates[0].ID || len(worths.Worths) != 1 || worths.Worths[0].ID != "chimney" || !(worths.Worths[0].RemovedKWh > 1) {
		t.Errorf("%+v", worths)
	}
	// A file that is not kept here: the answer says so and has no numbers.
	doc.Weather.Source = project.FromFile
	doc.Weather.File = &project.WeatherFile{Hash: strings.Repeat("0", 64), Name: "gone.epw", Format: "epw", Hours: 8760, Notes: []string{}}
	if got := answered[project.YieldResult](t, askAbout(t, s, "/api/yield?budget=drag", doc, "")); got.Why == "" || got.Candidates[0].Total.ACYear != 0 {
		t.Errorf("why %q, %g kWh", got.Why, got.Candidates[0].Total.ACYear)
	}
	if dark := answered[apiLight](t, askAbout(t, s, "/api/light", doc, "")); !strings.Contains(dark.Why, "gone.epw") || dark.Key != "" || len(dark.Planes) > 0 {
		t.Errorf("%+v", dark)
	}
	if w := askAbout(t, s, "/api/worths", doc, ""); w.Code != http.StatusUnprocessableEntity || !strings.Contains(w.Body.String(), `"path":"weather"`) {
		t.Errorf("status %d, %s", w.Code, w.Body)
	}
}

func TestLightAPIRefuses(t *testing.T) {
	s := plainServer(newFake(), discardLog())
	s.catalog = newFakeCatalog()
	sound := `"document":` + encoded(t, litDoc())
	steep := litDoc()
	steep.Planes[0].PitchDeg = 91
	none := litDoc()
	none.Candidates = []project.Candidate{}
	for _, c := range []struct {
		path, body string
		status     int
		says       string
	}{
		{"/api/light", ``, 400, "cannot be read"},
		{"/api/light", `{`, 400, "cannot be read"},
		{"/api/light", `{}`, 422, `"path":"document"`},
		{"/api/light", `{"document":{}}`, 422, "problems"},
		{"/api/light", `{` + sound + `,"more":1}`, 400, "more"},
		{"/api/light", `{` + sound + `,"min_access_pct":101}`, 422, "it must be 0 to 100 %"},
		{"/api/light", `{` + sound + `,"min_access_pct":-1}`, 422, "min_access_pct"},
		{"/api/light", `{"document":` + encoded(t, steep) + `}`, 422, "pitch_deg"},
		{"/api/shadows", `{` + sound + `,"month":13,"day":1,"clock_h":12}`, 422, "month"},
		{"/api/shadows", `{` + sound + `,"month":2,"day":30,"clock_h":12}`, 422, "day"},
		{"/api/shadows", `{` + sound + `,"month":2,"day":1,"clock_h":25}`, 422, "clock"},
		{"/api/shadows", `{` + sound + `}`, 422, "month"},
		{"/api/shadows", `{` + sound + `,"month":1.5,"day":1,"clock_h":12}`, 400, "cannot be read"},
		{"/api/yield?budget=slow", `{` + sound + `}`, 400, "not drag or deep"},
		{"/api/worths", `{` + sound + `,"candidate":"none"}`, 422, "no candidate has this id"},
		{"/api/worths", `{"document":` + encoded(t, none) + `}`, 422, "candidates"},
		{"/api/light", strings.Repeat(" ", maxBody+1), 413, "large"},
	} {
		w := askText(t, s, c.path, c.body)
		if w.Code != c.status || !strings.Contains(strings.ToLower(w.Body.String()), strings.ToLower(c.says)) {
			t.Errorf("%s %.60s: status %d, want %d with %q: %s", c.path, c.body[max(0, len(c.body)-60):], w.Code, c.status, c.says, w.Body)
		}
	}
}

// A question whose reader has gone is worked on no longer.
func TestLightEndsWithItsReader(t *testing.T) {
	s := plainServer(newFake(), discardLog())
	for range reckoningAtOnce {
		s.reckoner.lights.slots <- struct{}{}
	}
	ctx, gone := context.WithCancel(t.Context())
	done := make(chan error, 1)
	go func() { _, err := s.lightOf(ctx, litDoc()); done <- err }()
	waiting := func() int {
		s.reckoner.lights.mu.Lock()
		defer s.reckoner.lights.mu.Unlock()
		return len(s.reckoner.lights.under)
	}
	for waiting() == 0 {
		time.Sleep(time.Millisecond)
	}
	gone()
	if err := <-done; !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
	for waiting() > 0 {
		time.Sleep(time.Millisecond)
	}
	for range reckoningAtOnce {
		<-s.reckoner.lights.slots
	}
	if lit, err := s.lightOf(t.Context(), litDoc()); err != nil || lit == nil {
		t.Errorf("afterwards: %v", err)
	}
}

func TestEvaluateWithLight(t *testing.T) {
	s := plainServer(newFake(), discardLog())
	doc := litDoc()
	dark := answered[project.Result](t, askText(t, s, "/api/evaluate?budget=drag", encoded(t, doc)))
	lit := answered[project.Result](t, askText(t, s, "/api/evaluate?budget=drag&light=1", encoded(t, doc)))
	if dark.SunlightKey != "" || lit.SunlightKey == "" {
		t.Errorf("keys %q and %q", dark.SunlightKey, lit.SunlightKey)
	}
	doc.Site.LatDeg, doc.Site.LonDeg = -45, -120 // no station near
	if far := answered[project.Result](t, askText(t, s, "/api/evaluate?budget=drag&light=1", encoded(t, doc))); far.SunlightKey != "" {
		t.Errorf("key %q without a year", far.SunlightKey)
	}
}

// A result is counted with the light of its document, and counted again when the
// hours of its weather file come.
func TestResultsFollowTheLight(t *testing.T) {
	s := plainServer(newFake(), discardLog())
	s.results.light = s.lightToCount
	p := project.Stored{ID: "lit", Version: 1, Doc: litDoc()}
	data := joined(inventedEPW(t))
	file, _, err := project.ReadWeatherFile("a.epw", data)
	if err != nil {
		t.Fatal(err)
	}
	p.Doc.Weather.Source, p.Doc.Weather.File = project.FromFile, &file
	before, err := s.results.get(t.Context(), p)
	if err != nil || before.SunlightKey != "" {
		t.Fatalf("without hours: key %q, %v", before.SunlightKey, err)
	}
	if _, kept := s.results.peek(t.Context(), p); !kept {
		t.Error("the result without light is not kept")
	}
	keptFile(t, s, data)
	if _, kept := s.results.peek(t.Context(), p); kept {
		t.Error("the result without light is still the one")
	}
	after, err := s.results.get(t.Context(), p)
	if err != nil || after.SunlightKey == "" {
		t.Fatalf("with hours: key %q, %v", after.SunlightKey, err)
	}
	if again, kept := s.results.peek(t.Context(), p); !kept || !reflect.DeepEqual(again, after) {
		t.Error("the result with light is not kept")
	}
	if n := len(s.results.oldest); n != 1 {
		t.Errorf("%d entries for one version", n)
	}
}

func FuzzLightQuestion(f *testing.F) {
	f.Add(`{"document":{},"month":1}`)
	f.Add(`{"document":null,"min_access_pct":1e999}`)
	f.Add(`{"candidate":"\ud800"}`)
	s := plainServer(newFake(), discardLog())
	s.catalog = newFakeCatalog()
	f.Fuzz(func(t *testing.T, body string) {
		for _, path := range []string{"/api/light", "/api/shadows", "/api/worths"} {
			if w := askText(t, s, path, body); w.Code >= 500 {
				t.Errorf("%s: status %d, %s", path, w.Code, w.Body)
			}
		}
	})
}

// The build page says where its modules were placed without the light that the
// question asks for.
func TestBuildSaysThatLightIsMissing(t *testing.T) {
	doc := wiredDoc()
	doc.Weather.Source = project.FromFile
	doc.Weather.File = &project.WeatherFile{Hash: strings.Repeat("0", 64), Name: "gone.epw", Format: "epw", Hours: 8760, Notes: []string{}}
	lit, filled := doc, doc
	lit.Target.MinAccessPct = 80
	for _, c := range []struct {
		doc  project.Document
		says bool
	}{{lit, true}, {filled, false}} {
		s, _ := pageServer(t, c.doc)
		body := ask(t, s, "GET", "/projects/p1/build", nil).Body.String()
		if got := strings.Contains(body, `data-testid="weather-missing"`) && strings.Contains(body, "gone.epw"); got != c.says {
			t.Errorf("said %v, want %v", got, c.says)
		}
	}
}

// More around a roof than can be reckoned is a reason to count without light, too.
func TestNoLightWithTooMuchAround(t *testing.T) {
	s := plainServer(newFake(), discardLog())
	doc := litDoc()
	doc.Target.MinAccessPct = 80
	for i := range 201 {
		doc.KeepOuts = append(doc.KeepOuts, project.KeepOut{
			ID: "pipe-" + strconv.Itoa(i), Kind: "pipe", Shape: "circle", Center: &project.Point{XM: 1, YM: 1}, RadiusM: 0.1, HeightM: 1,
		})
	}
	for n, want := range map[int]string{1: "", len(doc.KeepOuts): "Shadows cannot be reckoned"} {
		some := doc
		some.KeepOuts = doc.KeepOuts[:n]
		notice, err := s.noLight(t.Context(), "p1", some)
		if err != nil || (notice == lightNotice{}) != (want == "") || !strings.Contains(notice.Why, want) {
			t.Errorf("%d keep-outs: %+v, %v", n, notice, err)
		}
		if want != "" && notice.Path != "/projects/p1" {
			t.Errorf("it leads to %s, not to the drawing", notice.Path)
		}
	}
}
