package main

import (
	"bytes"
	"strings"
	"testing"
)

// Trade facts, common practice, no source: 1 MW of 305 W in strings of 19 takes
// 173 strings, of 320 W in strings of 21 takes 149. Areas are arithmetic.
func TestPlantCommand(t *testing.T) {
	for _, c := range []struct{ name, args, want string }{
		{"305 W by 19", "-kw 1000 -module-w 305 -per-string 19", `{"strings":173,"modules":3287,"power_w":1002535,"module_area_m2":null,"ground_area_m2":null}`},
		{"320 W by 21", "-kw 1000 -module-w 320 -per-string 21 -length 2 -width 1", `{"strings":149,"modules":3129,"power_w":1001280,"module_area_m2":6258,"ground_area_m2":null}`},
		{"ground", "-kw 8 -module-w 400 -per-string 10 -length 2 -width 1 -coverage 0.5", `{"strings":2,"modules":20,"power_w":8000,"module_area_m2":40,"ground_area_m2":80}`},
		{"a watt more", "-kw 8.001 -module-w 400 -per-string 10", `{"strings":3,"modules":30,"power_w":12000,"module_area_m2":null,"ground_area_m2":null}`},
	} {
		var out, errs bytes.Buffer
		if status := runPlant(strings.Fields(c.args), &out, &errs); status != exitOK || out.String() != c.want+"\n" || errs.Len() > 0 {
			t.Errorf("%s: status %d, %s, %s", c.name, status, out.String(), errs.String())
		}
	}
}

func TestPlantCommandRefuses(t *testing.T) {
	for _, c := range []struct{ args, says string }{
		{"", "-kw is missing"},
		{"-kw 1 -module-w 400", "-per-string is missing"},
		{"-kw NaN -module-w 400 -per-string 10", "-kw is NaN; it must be 0.001 to 1e+09 kW"},
		{"-kw 1e10 -module-w 400 -per-string 10", "-kw is 1e+10"},
		{"-kw 1.00005 -module-w 400 -per-string 10", "at most three decimals"},
		{"-kw 1 -module-w 400.5 -per-string 10", "module-w"},
		{"-kw 1 -module-w 0 -per-string 10", "-module-w is 0; it must be a whole number of watts from 1 to 2000"},
		{"-kw 1 -module-w 400 -per-string 101", "-per-string is 101; it must be 1 to 100"},
		{"-kw 1 -module-w 400 -per-string 10 -length 2", "-width is 0"},
		{"-kw 1 -module-w 400 -per-string 10 -length 0 -width 1", "-length is 0"},
		{"-kw 1 -module-w 400 -per-string 10 -coverage 0.5", "-length is not given"},
		{"-kw 1 -module-w 400 -per-string 10 -length 2 -width 1 -coverage 2", "-coverage is 2"},
		{"-kw 1 -module-w 400 -per-string 10 more", `"more" is no flag`},
	} {
		var out, errs bytes.Buffer
		if status := runPlant(strings.Fields(c.args), &out, &errs); status != exitUsage || out.Len() > 0 || !strings.HasPrefix(errs.String(), "plant: ") || !strings.Contains(errs.String(), c.says) {
			t.Errorf("%s: status %d, %s, %s", c.args, status, out.String(), errs.String())
		}
	}
	var out, errs bytes.Buffer
	if status := run(t.Context(), []string{"plant", "-h"}, nil, &out, &errs); status != exitOK || !strings.HasPrefix(errs.String(), "usage: rooftally plant") {
		t.Errorf("help: status %d, %s", status, errs.String())
	}
}
