package project

import "github.com/go-json-experiment/json/jsontext"

// In the browser's program the parts of a document that no count depends on are
// text, carried as it is: their types and checks would make it some 30 kB larger.
// The server checks them when it saves.
type (
	Datasheet = jsontext.Value
	Wiring    = jsontext.Value
	Loads     = jsontext.Value
	Cost      = jsontext.Value

	Weather      = jsontext.Value
	Surroundings = jsontext.Value
	YieldTerms   = jsontext.Value
)

// A page gets its document in the present schema from the server, which upgrades.
func upgradeSteps() []upgradeStep { return nil }

func (ps *Problems) uncounted(Document) {}
