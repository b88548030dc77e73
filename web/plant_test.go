package web

import (
	"net/url"
	"strings"
	"testing"

	"rooftally/catalog"
)

// Trade facts, common practice, no source: 1 MW of 305 W in strings of 19 takes
// 173 strings, of 320 W in strings of 21 takes 149. The rest is arithmetic.
func TestPlantQuestion(t *testing.T) {
	for _, c := range []struct{ name, query, says, problem, field string }{
		{"not asked", "", "", "", ""},
		{"305 W by 19", "kw=1000&per_string=19&watts=305", "173 strings, 3\u202f287 modules, 1\u202f002.535 kW, 2.535 kW more than asked, , ", "", ""},
		{"320 W by 21, with sides", "kw=1000&per_string=21&watts=320&length_m=2&width_m=1", "149 strings, 3\u202f129 modules, 1\u202f001.28 kW, 1.28 kW more than asked, 6\u202f258 m² (67\u202f360.6 ft²), ", "", ""},
		{"with ground", "kw=8&per_string=10&watts=400&length_m=2&width_m=1&coverage=0,5", "2 strings, 20 modules, 8 kW, exactly as asked, 40 m² (430.6 ft²), 80 m² (861.1 ft²)", "", ""},
		// ceil(10 000 W / (10 x 400 W)) = 3; 30 x 1.75 m x 1.08 m = 56.7 m2.
		{"of the catalog", "kw=10&per_string=10&module=demo-400-medium&watts=9", "3 strings, 30 modules, 12 kW, 2 kW more than asked, 56.7 m² (610.3 ft²), ", "", ""},
		{"no size", "kw=&per_string=19&watts=305", "", "Type a size", "kw"},
		{"too large", "kw=1000000001&per_string=19&watts=305", "", "from 0.001 to 1000000000 kW", "kw"},
		{"no string", "kw=1&watts=305", "", `The number of modules in a string is ""; it must be a whole number.`, "per_string"},
		{"long string", "kw=1&watts=305&per_string=101", "", "The number of modules in a string is 101; it must be 1 to 100.", "per_string"},
		{"half a watt", "kw=1&watts=305.5&per_string=10", "", "it must be a whole number", "watts"},
		{"one side", "kw=1&watts=305&per_string=10&length_m=2", "", "The width of the module is 0; it must be 0.2 to 5 m.", "width_m"},
		{"no number", "kw=1&watts=305&per_string=10&length_m=x", "", `The length is "x"`, "length_m"},
		{"not finite", "kw=1&watts=305&per_string=10&length_m=NaN&width_m=1", "", "The length of the module is NaN", "length_m"},
		{"gone", "kw=1&module=gone&per_string=10", "", "no such module any more", "module"},
	} {
		t.Run(c.name, func(t *testing.T) {
			form, err := url.ParseQuery(c.query)
			if err != nil {
				t.Fatal(err)
			}
			v := newPlantView(form, catalog.DemoDatasheets())
			got := ""
			if a := v.Answer; a != nil {
				got = a.Strings + " strings, " + a.Modules + " modules, " + a.Power + ", " + a.Over + ", " + a.Area + ", " + a.Ground
			}
			if got != c.says || !strings.Contains(v.Problem, c.problem) || (c.problem == "") != (v.Problem == "") || v.Field != c.field {
				t.Errorf("answers %q, problem %q in %q", got, v.Problem, v.Field)
			}
		})
	}
}

func TestPlantPage(t *testing.T) {
	runTable(t, []request{
		{name: "form", method: "GET", path: "/plant", status: 200,
			has: []string{`name="kw"`, `value="demo-400-medium"`, `aria-current="page">Plant</a>`}, lacks: []string{"data-testid=\"answer\"", `role="alert"`}},
		{name: "answer", method: "GET", path: "/plant?kw=1000&per_string=19&watts=305", status: 200, has: []string{"173 strings", "172.563: 173", `value="305"`}},
		{name: "refused", method: "GET", path: "/plant?kw=x&per_string=19&watts=305", status: 422, has: []string{`role="alert"`, `aria-invalid="true"`, `value="x"`}},
		{name: "typed text is text", method: "GET", path: "/plant?kw=%22%3E%3Cscript%3E&per_string=19", status: 422, has: []string{"&gt;&lt;script&gt;"}, lacks: []string{"\"><script>"}},
		{name: "link to it", method: "GET", path: "/catalog/modules", status: 200, has: []string{`href="/plant"`}},
	})
}
