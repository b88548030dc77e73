//go:build !js

package project

import (
	"encoding/csv"
	"strconv"
	"strings"
	"testing"
)

// The text reads back as the bill, and the totals are the sums of what is above.
func TestBillCSV(t *testing.T) {
	d := Demo()
	d.Planes[0].Label = "=1+1, \"main\""
	b := mustBuild(t, d).Candidates[1].Bill
	text, err := BillCSV(b)
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if got := strings.Join(rows[0], ","); got != "where,part,label,quantity,unit,length_m,missing" {
		t.Errorf("header %s", got)
	}
	sums, missing := map[string]int{}, 0
	for _, r := range rows[1:] {
		n, err := strconv.Atoi(r[3])
		if err != nil {
			t.Fatal(err)
		}
		if strings.HasPrefix(r[0], "=") {
			t.Errorf("a spreadsheet reads %q as a formula", r[0])
		}
		if r[6] == "yes" {
			missing++
		}
		part := r[1] + r[2] + r[5]
		if r[0] == "total" {
			sums[part] -= n
		} else {
			sums[part] += n
		}
	}
	for part, n := range sums {
		if n != 0 {
			t.Errorf("%s: the total is off by %d", part, n)
		}
	}
	if rows[1][0] != `'=1+1, "main"` || missing == 0 || !strings.Contains(text, "4.2") {
		t.Errorf("text:\n%s", text)
	}
}

func TestBillLabels(t *testing.T) {
	d := workedShed(t)
	d.Candidates[0].Label, d.Candidates[0].Datasheet = "", nil
	b := mustBuild(t, d).Candidates[0].Bill
	if b.Total[0].Label != "Modules" || b.Planes[0].Label != "south" {
		t.Errorf("%+v", b)
	}
}

func TestAndList(t *testing.T) {
	for want, words := range map[string][]string{"": nil, "a": {"a"}, "a and b": {"a", "b"}, "a, b and c": {"a", "b", "c"}} {
		if got := andList(words); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
