//go:build !js

package main_test

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"rooftally/layout"
	"rooftally/project"
	"rooftally/web"
)

// TestBrowserAndServerGiveTheSameBytes sends every document to the program
// that pages load and to POST /api/evaluate: all in the drag budget, and in the
// deep one those whose search ends soon.
func TestBrowserAndServerGiveTheSameBytes(t *testing.T) {
	program := startProgram(t)
	server, err := web.New(web.Config{})
	if err != nil {
		t.Fatal(err)
	}
	for _, set := range []struct {
		name    string
		docs    []document
		budget  string
		results int // at least so many have a result and not just problems
	}{
		{"public roofs", roofs(t, "roofs", 47), "drag", 47},
		{"real roofs", roofs(t, "roofs_real", 190), "drag", 190},
		{"whole projects", wholeProjects(t, 120), "drag", 121},
		{"refused", spoiled(t), "drag", 0},
		{"small public roofs, deep", small(roofs(t, "roofs", 47)), "deep", 3},
		{"small real roofs, deep", small(roofs(t, "roofs_real", 190)), "deep", 30},
		{"small projects, deep", smallProjects(t, 6), "deep", 6},
	} {
		t.Run(set.name, func(t *testing.T) {
			results := 0
			for _, doc := range set.docs {
				want, isResult := fromServer(t, server, doc.text, set.budget)
				got := program.evaluate(t, doc.text, set.budget, "")
				if got != want {
					t.Fatalf("%s: %s\nIf the sources changed since, run 'go generate ./static'.", doc.name, difference(got, want))
				}
				if isResult {
					results++
				}
			}
			if results < set.results {
				t.Errorf("%d of %d documents have a result; %d should", results, len(set.docs), set.results)
			}
			t.Logf("%d documents, %d with a result", len(set.docs), results)
		})
	}
}

// TestLightGivesTheSameBytes sends houses with the light on their roofs to the
// program and to the evaluation here: fresh light, that of the house before it was
// moved, light that lacks a plane, and none, each after another.
func TestLightGivesTheSameBytes(t *testing.T) {
	program := startProgram(t)
	evaluator := project.NewEvaluator()
	random := rand.New(rand.NewPCG(7, 8))
	lit := 0
	for i := range 10 {
		d := house(random)
		d.Target.MinAccessPct = float64(random.IntN(2) * (70 + random.IntN(28)))
		year, err := project.WeatherOf(d, nil)
		if err != nil || year.Why != "" {
			t.Fatal(err, year.Why)
		}
		fresh, err := project.LightOf(t.Context(), d, year)
		if err != nil {
			t.Fatal(err)
		}
		moved := d
		moved.Planes = slices.Clone(d.Planes)
		moved.Planes[i%4].PitchDeg++
		less := fresh
		less.Planes = fresh.Planes[1:]
		for _, c := range []struct {
			name  string
			doc   project.Document
			light *project.Sunlight
		}{{"fresh", d, &fresh}, {"moved", moved, &fresh}, {"less", d, &less}, {"none", d, nil}} {
			text := ""
			if c.light != nil {
				encodedLight, err := project.EncodeSunlight(*c.light)
				if err != nil {
					t.Fatal(err)
				}
				text = string(encodedLight)
			}
			res, err := evaluator.EvaluateLit(t.Context(), c.doc, layout.Drag, c.light)
			if err != nil {
				t.Fatal(err)
			}
			out, err := project.EncodeResult(res)
			if err != nil {
				t.Fatal(err)
			}
			if got, want := program.evaluate(t, encoded(t, c.doc), "drag", text), `{"result":`+string(out)+`}`; got != want {
				t.Fatalf("house %d, %s light: %s\nIf the sources changed since, run 'go generate ./static'.", i, c.name, difference(got, want))
			}
			if res.SunlightKey != "" {
				lit++
			}
		}
	}
	if lit < 18 {
		t.Errorf("%d results are made with light", lit)
	}
	if got := program.evaluate(t, encoded(t, project.Demo()), "drag", "{"); !strings.HasPrefix(got, `{"fault":"the light on the roof`) {
		t.Errorf("broken light gives %.100s", got)
	}
}

// document is the text of a project file. room is how many modules the area of a
// corpus roof has room for.
type document struct {
	name, text string
	room       int
}

// fromServer is what the program should say, in the server's own words.
func fromServer(t *testing.T, server http.Handler, text, budget string) (answer string, isResult bool) {
	t.Helper()
	r := httptest.NewRequest("POST", "http://localhost/api/evaluate?budget="+budget, strings.NewReader(text))
	w := httptest.NewRecorder()
	server.ServeHTTP(w, r)
	switch w.Code {
	case http.StatusOK:
		return `{"result":` + w.Body.String() + `}`, true
	case http.StatusUnprocessableEntity:
		return strings.TrimSuffix(w.Body.String(), "\n"), false
	}
	t.Fatalf("the server answered %d: %s", w.Code, w.Body)
	return "", false
}

// program is the WebAssembly program, running in Node.js.
type program struct {
	to   io.Writer
	from *bufio.Reader
}

// startProgram skips the test where Node.js is missing. With
// ROOFTALLY_BROWSER=required that is a failure.
func startProgram(t *testing.T) program {
	t.Helper()
	node, err := exec.LookPath("node")
	if err != nil {
		if os.Getenv("ROOFTALLY_BROWSER") == "required" {
			t.Fatal("Node.js is required for this run and was not found")
		}
		t.Skip("Node.js was not found: the program for browsers is not compared with the server")
	}
	wasm := filepath.Join("..", "..", "static", "wasm")
	cmd := exec.Command(node, filepath.Join("testdata", "drive.mjs"),
		filepath.Join(wasm, "wasm_exec.js"), filepath.Join(wasm, "rooftally.wasm.gz"))
	cmd.Stderr = os.Stderr
	to, err := cmd.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	from, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		_ = to.Close()
		if err := cmd.Wait(); err != nil {
			t.Errorf("the program ended with %v", err)
		}
	})
	return program{to, bufio.NewReader(from)}
}

// evaluate asks the program; a question and an answer are one line each.
func (p program) evaluate(t *testing.T, text, budget, light string) string {
	t.Helper()
	line, err := json.Marshal([]string{text, budget, light})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := p.to.Write(append(line, '\n')); err != nil {
		t.Fatal(err)
	}
	line, err = p.from.ReadBytes('\n')
	if err != nil {
		t.Fatal(err)
	}
	var answer string
	if err := json.Unmarshal(line, &answer); err != nil {
		t.Fatalf("%v: %.200s", err, line)
	}
	return answer
}

// difference shows the first place where two texts part.
func difference(got, want string) string {
	at := 0
	for at < min(len(got), len(want)) && got[at] == want[at] {
		at++
	}
	from := max(0, at-120)
	return fmt.Sprintf("byte %d\nbrowser ...%.200s\nserver  ...%.200s", at, got[from:], want[from:])
}

// roofs wraps each corpus plane as a project: one plane with pitch 0, in which
// plan and slope frame are one, its holes as keep-outs, no setbacks, and the
// file's module as the only candidate.
func roofs(t *testing.T, dir string, want int) []document {
	t.Helper()
	names, err := filepath.Glob(filepath.Join("..", "..", "layout", "testdata", dir, "*.json"))
	if err != nil || len(names) != want {
		t.Fatalf("%d files in %s, want %d: %v", len(names), dir, want, err)
	}
	docs := make([]document, 0, len(names))
	for _, name := range names {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		var roof corpusRoof
		if err := json.Unmarshal(data, &roof); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		docs = append(docs, document{roof.ID, encoded(t, roof.project()), roof.room()})
	}
	return docs
}

// corpusRoof is a file of layout/testdata/roofs; the README there describes it.
type corpusRoof struct {
	ID     string
	Module struct{ W, H float64 }
	Gap    float64
	Region struct {
		Outer [][2]float64
		Holes [][][2]float64
	}
}

// room is the area of the outline over that of a module.
func (c corpusRoof) room() int {
	var twice float64
	ring := c.Region.Outer
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		twice += a[0]*b[1] - b[0]*a[1]
	}
	return int(math.Abs(twice) / 2 / (c.Module.W * c.Module.H))
}

func (c corpusRoof) project() project.Document {
	d := project.New(c.ID)
	d.Rules.Set = "none"
	d.Rules.GapEaveM, d.Rules.GapSlopeM, d.Rules.EndAllowanceM = c.Gap, c.Gap, 0
	p := project.Plane{ID: "p", Use: true, AzimuthDeg: 180, Turn: "mixed", Covering: "tile", RafterSpacingM: 0.6}
	for _, q := range withoutRepeats(c.Region.Outer) {
		p.Ring = append(p.Ring, project.Corner{XM: q[0], YM: q[1]})
	}
	d.Planes = []project.Plane{p}
	for i, hole := range c.Region.Holes {
		k := project.KeepOut{ID: fmt.Sprintf("k%d", i), Kind: "other", Shape: "polygon"}
		for _, q := range withoutRepeats(hole) {
			k.Points = append(k.Points, project.Point{XM: q[0], YM: q[1]})
		}
		d.KeepOuts = append(d.KeepOuts, k)
	}
	d.Candidates = []project.Candidate{{
		ID: "m", Label: "module", PmaxW: 400, Invented: true,
		LengthM: max(c.Module.W, c.Module.H), WidthM: min(c.Module.W, c.Module.H),
	}}
	return d
}

// withoutRepeats leaves out corners that a project may not have: one at the
// place of an earlier one.
func withoutRepeats(ring [][2]float64) [][2]float64 {
	var out [][2]float64
	for _, q := range ring {
		if !slices.Contains(out, q) {
			out = append(out, q)
		}
	}
	return out
}

// wholeProjects are the demo, and n houses made of it: turned to any bearing
// and moved, so that sines, cosines and roundings of all kinds come up, with
// other pitches, rules, styles and questions.
func wholeProjects(t *testing.T, n int) []document {
	t.Helper()
	docs := []document{{name: "demo", text: encoded(t, project.Demo())}}
	random := rand.New(rand.NewPCG(1, 2))
	for i := range n {
		docs = append(docs, document{name: fmt.Sprintf("house %d", i), text: encoded(t, house(random))})
	}
	return docs
}

func house(random *rand.Rand) project.Document {
	between := func(low, high float64) float64 { return low + random.Float64()*(high-low) }
	oneOf := func(words ...string) string { return words[random.IntN(len(words))] }
	d := project.Demo()
	turnDeg, eastM, northM := between(0, 360), between(-900, 900), between(-900, 900)
	sin, cos := math.Sincos(turnDeg * math.Pi / 180)
	at := func(x, y float64) (float64, float64) { return eastM + x*cos + y*sin, northM + y*cos - x*sin }
	pitchDeg := between(3, 60)
	for i := range d.Planes {
		p := &d.Planes[i]
		for j := range p.Ring {
			p.Ring[j].XM, p.Ring[j].YM = at(p.Ring[j].XM, p.Ring[j].YM)
		}
		p.AzimuthDeg, p.PitchDeg = math.Mod(p.AzimuthDeg+turnDeg, 360), pitchDeg
		p.Turn = oneOf("portrait", "landscape", "either", "mixed")
	}
	for i := range d.KeepOuts {
		k := &d.KeepOuts[i]
		k.ClearanceM, k.TurnDeg = between(0, 0.4), between(0, 359)
		for j := range k.Points {
			k.Points[j].XM, k.Points[j].YM = at(k.Points[j].XM, k.Points[j].YM)
		}
		if k.Center != nil {
			k.Center.XM, k.Center.YM = at(k.Center.XM, k.Center.YM)
		}
		if k.Shape != "rect" {
			k.TurnDeg = 0
		}
	}
	d.Rules.Set, d.Rules.Style = oneOf("none", "distances", "irc_r324"), oneOf("rows", "columns", "grid", "best")
	d.Rules.TidyCostModules = random.IntN(4)
	d.Rules.GapEaveM, d.Rules.GapSlopeM = between(0, 0.05), between(0, 0.05)
	for i := range d.Candidates {
		d.Candidates[i].LengthM, d.Candidates[i].WidthM, d.Candidates[i].Datasheet = between(1.5, 2.3), between(0.9, 1.3), nil
	}
	d.Target = project.Target{Mode: oneOf("fill", "size"), SizeW: 1 + random.IntN(12000), MaxBlocks: random.IntN(5)}
	d.Hand = handLayouts(random, d)
	return d
}

// handLayouts are some modules about the middle of a third of the planes.
func handLayouts(random *rand.Rand, d project.Document) []project.HandLayout {
	var out []project.HandLayout
	for _, c := range d.Candidates {
		for _, p := range d.Planes {
			if random.IntN(3) > 0 {
				continue
			}
			h := project.HandLayout{CandidateID: c.ID, PlaneID: p.ID, Fill: random.IntN(2) > 0}
			for range 4 {
				a, b := p.Ring[0], p.Ring[2]
				share := random.Float64()
				h.Modules = append(h.Modules, project.HandModule{
					XM: a.XM + share*(b.XM-a.XM), YM: a.YM + share*(b.YM-a.YM),
					Turn: []string{"portrait", "landscape"}[random.IntN(2)], Locked: h.Fill || random.IntN(2) > 0,
				})
			}
			out = append(out, h)
		}
	}
	return out
}

// small are those roofs that hold at most smallCount modules, on which the deep
// search ends soon.
func small(docs []document) []document {
	return slices.DeleteFunc(docs, func(d document) bool { return d.room > smallCount })
}

// smallCount is the most modules that the area of a small roof has room for.
const smallCount = 8

// smallProjects are houses as those of wholeProjects, with large modules and
// without the large plane.
func smallProjects(t *testing.T, n int) []document {
	t.Helper()
	var docs []document
	random := rand.New(rand.NewPCG(3, 4))
	for i := range n {
		d := house(random)
		d.Planes[0].Use = false
		for k := range d.Candidates {
			d.Candidates[k].LengthM, d.Candidates[k].WidthM, d.Candidates[k].Datasheet = 2.1+float64(k)/10, 1.3, nil
		}
		docs = append(docs, document{name: fmt.Sprintf("small house %d", i), text: encoded(t, d)})
	}
	return docs
}

// spoiled are texts that give problems.
func spoiled(t *testing.T) []document {
	t.Helper()
	demo := encoded(t, project.Demo())
	return []document{
		{name: "nothing", text: ""},
		{name: "no JSON", text: "<roof>"},
		{name: "unknown field", text: strings.Replace(demo, `"schema"`, `"<colour>&": 1, "schema"`, 1)},
		{name: "many problems", text: strings.ReplaceAll(demo, `"turn": "either"`, `"turn": "é\u2028<b>"`)},
		{name: "no number", text: strings.Replace(demo, `"pitch_deg": 30`, `"pitch_deg": 1e999`, 1)},
		{name: "outline that crosses itself", text: strings.Replace(demo, `"x_m": 6.4`, `"x_m": -6.4`, 1)},
	}
}

func encoded(t *testing.T, d project.Document) string {
	t.Helper()
	text, err := project.Encode(d)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}
