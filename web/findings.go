package web

import (
	"regexp"
	"strconv"
	"strings"

	"rooftally/project"
)

var findingPath = regexp.MustCompile(`^(planes|keep_outs|candidates)\[(\d+)\](?:\.(.+))?$`)

// findingTexts are the remarks on a drawing as sentences that say where. Those
// on modules placed by hand are left to refusedNotes, which give the reasons.
func findingTexts(doc project.Document, res project.Result) []string {
	var out []string
	for _, f := range res.Findings {
		if strings.HasPrefix(f.Path, "hand[") {
			continue
		}
		out = append(out, findingText(doc, f))
	}
	return out
}

// findingText puts the place before the message, unless the message names it.
func findingText(doc project.Document, f project.Finding) string {
	text := f.Message
	if place := findingPlace(doc, f.Path); place != "" && !strings.HasPrefix(text, place) {
		text = place + ": " + text
	}
	return strings.TrimSuffix(text, ".") + "."
}

// findingPlaces are what remarks on the whole house are about.
var findingPlaces = map[string]string{
	"site.lat_deg":          "Site, latitude",
	"target.max_blocks":     "Size, limit of blocks",
	"target.min_access_pct": "Least light",
}

// findingPlace names the plane, keep-out or candidate a path leads to and, of
// the members that remarks are about, the one meant; or what of the whole house; "" for
// any other path.
func findingPlace(doc project.Document, path string) string {
	if place, ok := findingPlaces[path]; ok {
		return place
	}
	match := findingPath.FindStringSubmatch(path)
	if match == nil {
		return ""
	}
	i, err := strconv.Atoi(match[2])
	var owner string
	switch {
	case err != nil:
		return ""
	case match[1] == "planes" && i < len(doc.Planes):
		owner = planeName(doc.Planes[i], i)
	case match[1] == "keep_outs" && i < len(doc.KeepOuts):
		owner = keepOutKey(i)
		if label := strings.TrimSpace(doc.KeepOuts[i].Label); label != "" {
			owner += " " + label
		}
	case match[1] == "candidates" && i < len(doc.Candidates):
		owner = "Option " + project.Letter(i)
	default:
		return ""
	}
	switch match[3] {
	case "azimuth_deg":
		return owner + ", azimuth"
	case "pmax_w":
		return owner + ", rated power"
	}
	return owner
}

// keepOutKey is what a keep-out is called in the drawing.
func keepOutKey(index int) string { return "K" + strconv.Itoa(index+1) }
