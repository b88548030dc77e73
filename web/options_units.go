package web

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"rooftally/project"
)

// footM is the international foot in metres, exact by definition.
const footM = 0.3048

// units says how a project's numbers are shown.
type units struct {
	imperial bool
	// power is how the rule family writes rated power: kWdc or kWp.
	power string
}

func unitsOf(site project.Site) units {
	return units{imperial: site.Units == "imperial", power: powerUnit(site.RuleFamily)}
}

func (u units) areaUnit() string {
	if u.imperial {
		return "ft²"
	}
	return "m²"
}

// area shows square metres in the project's unit, without the unit.
func (u units) area(m2 float64) string {
	if u.imperial {
		return fixed(m2/(footM*footM), 0)
	}
	return fixed(m2, 1)
}

// density shows W per m2 in the project's unit, without the unit.
func (u units) density(wPerM2 float64) string {
	if u.imperial {
		return fixed(wPerM2*footM*footM, 2)
	}
	return fixed(wPerM2, 1)
}

// length shows metres with the unit.
func (u units) length(m float64) string { return lengthText(m, u.imperial) }

// distance shows a setback or gap with the unit: whole millimetres, or inches
// to the eighth.
func (u units) distance(m float64) string {
	if u.imperial {
		return inchText(m) + " in"
	}
	return fixed(m*1000, 0) + " mm"
}

// moduleSize shows long side by short side with the unit.
func (u units) moduleSize(longM, shortM float64) string {
	if u.imperial {
		return inchText(longM) + " × " + inchText(shortM) + " in"
	}
	return fixed(longM*1000, 0) + " × " + fixed(shortM*1000, 0) + " mm"
}

// fixed never writes a negative zero.
func fixed(v float64, decimals int) string {
	t := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Trim(t, "-0.") == "" {
		return strings.TrimPrefix(t, "-")
	}
	return t
}

// lengthText shows a length as metres to the centimetre, or as feet and
// inches to the eighth.
func lengthText(m float64, imperial bool) string {
	if !imperial {
		return fixed(m, 2) + " m"
	}
	eighths := int(math.Round(math.Abs(m) / footM * 96))
	sign := ""
	if m < 0 && eighths > 0 {
		sign = "-"
	}
	inches := eighthText(eighths % 96)
	if rest := eighths % 96; 0 < rest && rest < 8 {
		// A fraction right after the feet's hyphen would read as less than the feet.
		inches = "0 " + inches
	}
	return sign + strconv.Itoa(eighths/96) + "'-" + inches + `"`
}

// inchText shows a length in inches to the eighth, without the unit.
func inchText(m float64) string {
	return eighthText(int(math.Round(max(m, 0) / footM * 96)))
}

// eighthText writes eighths of an inch as inches and a reduced fraction.
func eighthText(eighths int) string {
	whole, part := eighths/8, eighths%8
	if part == 0 {
		return strconv.Itoa(whole)
	}
	over := 8
	for part%2 == 0 {
		part, over = part/2, over/2
	}
	fraction := strconv.Itoa(part) + "/" + strconv.Itoa(over)
	if whole == 0 {
		return fraction
	}
	return strconv.Itoa(whole) + " " + fraction
}

func pitchText(deg float64) string { return trimZeros(fixed(deg, 1)) + "°" }

// trimZeros drops decimals that say nothing.
func trimZeros(t string) string {
	if !strings.Contains(t, ".") {
		return t
	}
	return strings.TrimRight(strings.TrimRight(t, "0"), ".")
}

// bearingText names a true bearing: "180° (S)".
func bearingText(deg float64) string {
	names := [...]string{"N", "NE", "E", "SE", "S", "SW", "W", "NW"}
	i := int(math.Round(deg/45)) % len(names)
	if i < 0 {
		i += len(names)
	}
	return trimZeros(fixed(deg, 1)) + "° (" + names[i] + ")"
}

// kwText shows whole watts as kilowatts: exact, with two decimals or the
// third when it is needed.
func kwText(watts int) string {
	t := strconv.Itoa(watts/1000) + "." + fmt.Sprintf("%03d", watts%1000)
	return strings.TrimSuffix(t, "0")
}

// maxTypedKW is the largest size of project.Target in kilowatts.
const maxTypedKW = 10000

// What can be wrong with a typed size.
var (
	errKWEmpty = errors.New("type a size, such as 6.5")
	errKWForm  = errors.New("the size must be a plain number of kilowatts, such as 6.5")
	errKWFine  = errors.New("the size may have at most three decimals, for whole watts")
	errKWRange = kwRangeError(maxTypedKW)
)

// kwRangeError says up to what size a number may be, in kilowatts.
type kwRangeError int

func (most kwRangeError) Error() string {
	return fmt.Sprintf("the size must be from 0.001 to %d kW", int(most))
}

// parseKW turns a typed number of kilowatts into whole watts, digit by digit,
// so that no rounding can make 5.7 anything but 5700. A comma counts as the
// decimal point; a unit may follow.
func parseKW(typed string) (watts int, err error) { return parseKWUpTo(typed, maxTypedKW) }

// parseKWUpTo is parseKW for another largest size in kilowatts.
func parseKWUpTo(typed string, mostKW int) (watts int, err error) {
	t := strings.TrimSpace(strings.ReplaceAll(typed, ",", "."))
	for _, unit := range []string{"kWdc", "kWp", "kW"} {
		if rest, found := strings.CutSuffix(t, unit); found {
			t = strings.TrimSpace(rest)
			break
		}
	}
	if t == "" {
		return 0, errKWEmpty
	}
	whole, part, _ := strings.Cut(t, ".")
	if whole+part == "" || !digitsOnly(whole) || !digitsOnly(part) {
		return 0, errKWForm
	}
	part = strings.TrimRight(part, "0")
	if len(part) > 3 {
		return 0, errKWFine
	}
	whole = strings.TrimLeft(whole, "0")
	if len(whole) > len(strconv.Itoa(mostKW)) {
		return 0, kwRangeError(mostKW)
	}
	digits := whole + part + strings.Repeat("0", 3-len(part))
	watts, err = strconv.Atoi(digits)
	if err != nil || watts < 1 || watts > mostKW*1000 {
		return 0, kwRangeError(mostKW)
	}
	return watts, nil
}

func digitsOnly(t string) bool {
	return strings.Trim(t, "0123456789") == ""
}

func modulesText(n int) string { return countOf(n, "module", "modules") }

// andList is "A", "A and B" or "A, B and C".
func andList(items []string) string { return wordList(items, "and") }

// wordList joins items with commas and a last word.
func wordList(items []string, word string) string {
	if len(items) < 2 {
		return strings.Join(items, "")
	}
	return strings.Join(items[:len(items)-1], ", ") + " " + word + " " + items[len(items)-1]
}

// sentence turns an error's words into a sentence for the page.
func sentence(err error) string {
	t := err.Error()
	return strings.ToUpper(t[:1]) + t[1:] + "."
}
