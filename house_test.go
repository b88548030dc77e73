// Package rooftally_test holds the checks that concern the whole tree.
package rooftally_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"maps"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

const module = "rooftally"

// house says which of our packages each package may import. A folder that is
// not listed fails the test: a new room needs a rule.
var house = map[string][]string{
	"layout":                 {},
	"energy":                 {},
	"climate":                {},
	"electrical":             {"catalog"}, // its limits are those of datasheets
	"structural":             {},
	"catalog":                {},
	"project":                {"layout", "energy", "climate", "electrical", "structural", "catalog"},
	"migrations":             {},
	"static":                 {},
	"storage":                {"project", "catalog", "migrations"},
	"web":                    {"project", "layout", "energy", "climate", "electrical", "structural", "catalog", "static"},
	"cmd/evaluate-wasm":      {"project"},
	"cmd/evaluate-wasm/join": {},
	"cmd/rooftally":          {"web", "storage", "project", "layout", "energy", "climate", "electrical", "structural", "catalog", "migrations", "static"},
}

// pure lists the packages that do no I/O.
var pure = []string{"layout", "energy", "climate", "electrical", "structural", "catalog", "project"}

// tables are the pure packages that carry a table of figures as an embedded
// file: it is put into the program when that is built, and nothing is read when
// it runs.
var tables = []string{"climate"}

// worldly are imports through which a package would reach the outside world.
var worldly = []string{
	"os", "io/ioutil", "net", "database", "syscall", "log", "embed", "runtime/debug", "plugin", "testing",
	"crypto/rand", "github.com/mattn/go-sqlite3", "github.com/go-chi", "github.com/a-h/templ",
}

// seeded are the names of math/rand/v2 that draw from a given seed; all others
// draw from the world.
var seeded = []string{"New", "NewPCG", "PCG", "Rand", "Source"}

// clock are the functions of package time that read or wait for the clock.
var clock = []string{"Now", "Since", "Until", "Sleep", "After", "AfterFunc", "Tick", "NewTimer", "NewTicker"}

func TestArrowsPointInward(t *testing.T) {
	for dir, files := range sources(t) {
		allowed, known := house[dir]
		if !known {
			t.Errorf("package %s has no rule in the house table", dir)
			continue
		}
		for _, f := range files {
			for _, imp := range imports(f) {
				ours, isOurs := strings.CutPrefix(imp, module+"/")
				if isOurs && !slices.Contains(allowed, ours) {
					t.Errorf("%s imports %s; it may import only %v", dir, ours, allowed)
				}
			}
		}
	}
}

// TestOnePackageSpeaksToJavaScript keeps syscall/js in its one home.
func TestOnePackageSpeaksToJavaScript(t *testing.T) {
	const home = "cmd/evaluate-wasm"
	speaks := map[string]bool{}
	for dir, files := range sources(t) {
		for _, f := range files {
			if slices.Contains(imports(f), "syscall/js") {
				speaks[dir] = true
			}
		}
	}
	if len(speaks) != 1 || !speaks[home] {
		t.Errorf("syscall/js is imported by %v; only %s may", slices.Sorted(maps.Keys(speaks)), home)
	}
}

func TestPurePackagesDoNoIO(t *testing.T) {
	all := sources(t)
	for _, dir := range pure {
		for _, f := range all[dir] {
			for _, imp := range imports(f) {
				if within(imp, worldly) && !(imp == "embed" && slices.Contains(tables, dir)) {
					t.Errorf("%s imports %q: pure packages take values and give values", dir, imp)
				}
			}
			for _, name := range selectors(f, "rand") {
				if !slices.Contains(seeded, name) {
					t.Errorf("%s uses rand.%s: random numbers are drawn from a seed that is passed in", dir, name)
				}
			}
			for _, call := range selectors(f, "time") {
				if slices.Contains(clock, call) {
					t.Errorf("%s uses time.%s: the time is passed in", dir, call)
				}
			}
		}
	}
}

// within reports whether an import path is one of the roots or lies below one.
func within(imp string, roots []string) bool {
	return slices.ContainsFunc(roots, func(root string) bool {
		return imp == root || strings.HasPrefix(imp, root+"/")
	})
}

// sources parses every Go file that is no test, by folder.
func sources(t *testing.T) map[string][]*ast.File {
	t.Helper()
	found := map[string][]*ast.File{}
	err := filepath.WalkDir(".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if entry.IsDir() {
			if name != "." && (strings.HasPrefix(entry.Name(), ".") || entry.Name() == "node_modules" || entry.Name() == "testdata") {
				return filepath.SkipDir
			}
			return nil
		}
		if !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") {
			return nil
		}
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		dir := path.Dir(filepath.ToSlash(name))
		found[dir] = append(found[dir], file)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(found) == 0 {
		t.Fatal("no Go sources found")
	}
	return found
}

func imports(f *ast.File) []string {
	var paths []string
	for _, spec := range f.Imports {
		if p, err := strconv.Unquote(spec.Path.Value); err == nil {
			paths = append(paths, p)
		}
	}
	return paths
}

// selectors lists the names used as pkg.Name in a file.
func selectors(f *ast.File, pkg string) []string {
	var names []string
	ast.Inspect(f, func(n ast.Node) bool {
		if sel, ok := n.(*ast.SelectorExpr); ok {
			if id, ok := sel.X.(*ast.Ident); ok && id.Name == pkg {
				names = append(names, sel.Sel.Name)
			}
		}
		return true
	})
	return names
}
