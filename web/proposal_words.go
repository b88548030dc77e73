package web

import "rooftally/project"

// assumptions are what the numbers rest on.
func assumptions(doc project.Document, u units) []string {
	out := []string{
		"The roof was drawn from what could be seen and measured from the ground or from plans. Counts and " + u.power +
			" are estimates until the roof is measured on site.",
		"Lengths along the roof are reckoned from the plan and the pitch. Bearings are true, not magnetic.",
		"Power is rated power at standard test conditions (STC), direct current. It says nothing of the yield in a year.",
		"Gaps and end allowance are common practice; the makers of modules and racking have the last word.",
	}
	if hasShade(doc.KeepOuts) {
		out = append(out, "Shade areas were judged by eye. Modules counted “in shade” stand on such areas and were placed last.")
	} else {
		out = append(out, "No shade area was marked.")
	}
	out = append(out, "Where a yield is given, its shade is reckoned from what was drawn on and around the roof. No shade was measured on site.")
	out = append(out, "Covering and rafter spacing are as stated on site. Neither the roof's strength nor its condition was checked.")
	if doc.Site.Invented {
		out = append(out, "This project is invented demo data. It describes no real house.")
	}
	if names := inventedModules(doc.Candidates); len(names) > 0 {
		verb := " are invented modules: no such product is sold."
		if len(names) == 1 {
			verb = " is an invented module: no such product is sold."
		}
		out = append(out, andList(names)+verb)
	}
	return out
}

func hasShade(all []project.KeepOut) bool {
	for _, k := range all {
		if k.Kind == "shade" {
			return true
		}
	}
	return false
}

func inventedModules(all []project.Candidate) []string {
	var out []string
	for i, c := range all {
		if c.Invented {
			out = append(out, project.Letter(i))
		}
	}
	return out
}

// cautions are the usual warnings of the trade. They defer to the local code
// and to licensed practice, and replace neither.
func cautions() []caution {
	return []caution{
		{"Stay off the roof", "The seller does not go onto the roof, and nor should the homeowner. Work at height is for trained people with fall protection."},
		{"Modules are live in daylight", "A module makes voltage whenever light falls on it and cannot be switched off. Leave connectors and cables to licensed electricians."},
		{"Keep flues and vents open", "Never cover a flue or the outlet of a plumbing vent. Keep the clearances listed here, and the greater ones that the local code or the appliance's maker asks for."},
		{"Structural check", "The roof and the attachments need a structural check by a licensed engineer where the local code asks for one."},
		{"Local code", "The local code and the authority having jurisdiction govern setbacks, fire access, wind and snow, and permits. Where they differ from this page, they hold."},
		{"Licensed practice", "Design, installation, connection and inspection are done by licensed practice and by the makers' instructions."},
	}
}
